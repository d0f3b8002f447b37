"""What the notes of a routine call for, and the shelf that is left to advise from."""

from __future__ import annotations

from abluent.engine.base.conditions import is_note
from abluent.engine.base.contract import STRONG
from abluent.engine.base.roles import Role
from abluent.engine.base.signs import COATED, Sign, signs, word_of
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.labels import Labels
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import washes_of
from abluent.grammar.routine import tree as ast

NO_STRONG_WASH = "noStrongWash"
"""The property of a caution that lets no strong wash be advised."""


def noted(routine: ast.Routine, base: Base) -> list[Sign]:
    """The cautions that the notes and the name of a routine call for."""
    return signs(base, _notes(routine, base))


def coated(routine: ast.Routine, base: Base) -> str:
    """In which word a note says that hair feels coated now; empty if none does."""
    return word_of(base, base.term(Role.WASH), COATED, _notes(routine, base))


def _notes(routine: ast.Routine, base: Base) -> list[str]:
    """What a routine notes of somebody, part by part, and its name."""
    parts = [routine.name or ""]
    for said in routine.washing:
        if is_note(base, said.aspect):
            first, *rest = said.words.split(", ")
            parts += [f"{said.aspect} is {first}", *rest]
    return parts


def no_strong(routine: ast.Routine, base: Base) -> bool:
    """Whether a note lets no strong wash be advised."""
    found = noted(routine, base)
    return any(base.record(each.caution).truth(NO_STRONG_WASH) for each in found)


def for_whom(routine: ast.Routine, world: World) -> World:
    """The world without the strong washes that a note lets nobody advise.

    Those that the routine uses stay, to be accounted for.
    """
    if not no_strong(routine, world.base):
        return world
    used = {line.product for line in routine.uses}
    washes = [name for name in washes_of(world) if name not in used]
    model = Case.of(world, washes, [], []).model
    out = {name for name in washes if model.holds(STRONG, (world.symbol(name),))}
    kept = {n: each for n, each in world.products.items() if n not in out}
    return world.with_labels(Labels(world.base, kept))
