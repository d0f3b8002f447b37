"""What a note of a routine calls for before any wash: a sign that is no film."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.store import Base
from abluent.engine.questions.world.world import World
from abluent.engine.routines import noted as notes
from abluent.engine.routines.outcome import Accounted
from abluent.grammar.routine import tree as ast

_REMEMBERED = "(What is said to your note: common practice, no source.)"


def noted(routine: ast.Routine, base: Base) -> Iterator[str]:
    """The cautions that the notes and the name of a routine call for."""
    for sign in notes.noted(routine, base):
        yield f"Your note says `{sign.words}`. {sign.text}"


def to_notes(found: Accounted, world: World) -> Iterator[str]:
    """What is advised to the notes and the name of a routine, then what it rests on."""
    films = {each.film.former for each in found.overview.told}
    advised = notes.advised_to(found.routine, world.base, films)
    yield from (sign.text for sign in advised)
    rests = (world.base.record(sign.caution).basis for sign in advised)
    if any(basis.from_memory for basis in rests):
        yield _REMEMBERED


def if_coated(routine: ast.Routine, base: Base) -> str:
    """On what condition hair is washed harder: if it feels coated, or as it does."""
    word = notes.coated(routine, base)
    return (
        f"as your note says `{word}`" if word else "only if hair comes to feel coated"
    )
