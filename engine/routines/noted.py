"""What the notes of a routine call for, and the shelf that is left to advise from."""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.base.conditions import between, is_note
from abluent.engine.base.contract import STRONG
from abluent.engine.base.roles import Role
from abluent.engine.base.signs import (
    COATED,
    DRY,
    HARM,
    OILY,
    WELL,
    Sign,
    advice_to,
    film_signs,
    signs,
    word_of,
)
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.labels import Labels
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Effects, washes_of
from abluent.engine.routines.conditioning import (
    Care,
    conditioners,
    feels,
    is_rinsed,
    used_after,
)
from abluent.engine.routines.how_often import how_often
from abluent.engine.routines.routine import WEEK, Schedule
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.parse import remarks

NO_STRONG_WASH = "noStrongWash"
"""The property of a caution that lets no strong wash be advised."""


def noted(routine: ast.Routine, base: Base) -> list[Sign]:
    """The cautions that the notes and the name of a routine call for."""
    return signs(base, _notes(routine, base))


def advised_to(routine: ast.Routine, base: Base, films: Iterable[str]) -> list[Sign]:
    """What is advised to its notes and its name, of what leaves some film-formers."""
    kinds = {kind for film in films for kind in base.classes_of(film)}
    return advice_to(base, [*_notes(routine, base), *remarks(routine)], kinds)


def coated(routine: ast.Routine, base: Base) -> str:
    """In which word a note says that hair feels coated now; empty if none does."""
    return _says(routine, base, COATED)


def harmed(routine: ast.Routine, base: Base) -> str:
    """In which word a note says that it is washed too harshly; empty if none does."""
    return _says(routine, base, HARM)


def dry(routine: ast.Routine, base: Base) -> str:
    """In which word a note says that hair is dry or damaged; empty if none does."""
    return _says(routine, base, DRY)


def well(routine: ast.Routine, base: Base) -> bool:
    """Whether a note says that hair is well as it is, and none that it is harmed."""
    return bool(_says(routine, base, WELL)) and not harmed(routine, base)


def oily(routine: ast.Routine, base: Base) -> bool:
    """Whether a note says that it is soon oily, and none that it is harmed."""
    return bool(_says(routine, base, OILY)) and not harmed(routine, base)


def care_needed(care: Care | None, routine: ast.Routine, world: World) -> Care | None:
    """What of some care is needed.

    Nobody is sent out to buy a first conditioner unless hair is dry or damaged, and
    what is soon oily does without what a wash conditioned by the way.
    """
    if care is None:
        return None
    needs = bool(dry(routine, world.base)) or how_often(world).apart > WEEK
    if not needs and oily(routine, world.base):
        care = care._replace(lost=(), strong=care.strong if care.by else ())
    elif not (needs or care.by or care.lost):
        care = care._replace(strong=())
    return care if care.lost or care.strong or care.kept else None


def cared_for_seldom(
    routine: ast.Routine, days: Schedule, done: Effects, world: World
) -> str:
    """What conditions at hand and is to come after every wash; empty if nothing is.

    That is so where a note tells of harm, and nothing conditions after some wash.
    """
    hand = conditioners(world)
    used = [n for n in hand if n in days.products and n in feels(done)]
    if not (used and dry(routine, world.base)):
        return ""
    bare = [u for u in days.washes if not any(used_after(days, u, c) for c in hand)]
    rinsed = [name for name in used if is_rinsed(world, name)]
    return rinsed[0] if bare and rinsed else ""


def films_noted(routine: ast.Routine, base: Base) -> dict[str, str]:
    """The families of films that its notes speak of, each with the word."""
    return dict(film_signs(base, [*_notes(routine, base), *remarks(routine)]))


def _says(routine: ast.Routine, base: Base, name: str) -> str:
    return word_of(base, base.term(Role.WASH), name, _notes(routine, base))


def _notes(routine: ast.Routine, base: Base) -> list[str]:
    """What a routine notes of somebody, part by part, and its name."""
    parts = [routine.name or ""]
    for said in routine.washing:
        if _is_noted(said, base):
            first, *rest = said.words.split(", ")
            parts += [f"{said.aspect} is {first}", *rest]
    return parts


def _is_noted(said: ast.Said, base: Base) -> bool:
    """Whether a line is a note, or states nothing as it lies between two conditions."""
    return is_note(base, said.aspect) or between(base, said.aspect, said.words)


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
