"""A wash or a rinse against films that a note tells of, whatever is used.

Green hair speaks of metal from water or a pool.
"""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.base.conditions import aspect_of
from abluent.engine.base.contract import STRONG
from abluent.engine.base.store import Base
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import (
    Effects,
    Film,
    effects,
    rinses_of,
    washed_as,
    washes_of,
)
from abluent.engine.routines.how_often import how_often, taken_apart, unadvised
from abluent.engine.routines.noted import films_noted
from abluent.engine.routines.oftener import Oftener
from abluent.engine.routines.overview import Overview, family_of, stays_on
from abluent.engine.routines.perhaps import may_take
from abluent.engine.routines.routine import WEEK, Schedule
from abluent.grammar.routine import tree as ast

BROUGHT_UNDER = "filmSignUnder"
"""The property of a family of films: under which condition the water brings them."""


def noted_film(routine: ast.Routine, now: Overview, world: World) -> Oftener | None:
    """The wash against films that a note tells of, where it comes too seldom.

    One with no wash to name is what nothing at hand may take.

    Args:
        routine: the routine.
        now: what becomes of what it leaves.
        world: the base and the shelf.
    """
    days = now.built.schedule
    words = films_noted(routine, world.base)
    used = [use.product for use in days.washes if use.product != WATER]
    if not (words and used):
        return None
    for family, word in words.items():
        done = _where_brought(routine, world, family)
        film = next((f for f in _brought(done) if family_of(f, world) == family), None)
        if film is not None:
            apart = taken_apart(world.base, family) or WEEK
            return _against(film, (word, apart), days, done, world)
    return None


def _brought(done: Effects) -> tuple[Film, ...]:
    return tuple(done.left.get(WATER, ()))


def _where_brought(routine: ast.Routine, world: World, family: str) -> Effects:
    """What the washes at hand do where the water brings films of a family."""
    under = world.base.record(family).links(BROUGHT_UNDER)
    words = [aspect_of(world.base, each)[1] for each in under]
    world = washed_as(routine, world).under(words, "a note of the routine")
    able = [*washes_of(world), *rinses_of(world)]
    return effects(world, [], able, routine.counting)


def _against(
    film: Film, noted: tuple[str, int], days: Schedule, done: Effects, world: World
) -> Oftener | None:
    """The wash that takes a film best, where it comes more seldom than is advised."""
    word, every = noted
    case, shares = done.case, Shares(done)
    assert case is not None
    ranked: list[tuple[tuple[bool, bool, bool, int], str]] = []
    for place, wash in enumerate(washes_of(world)):
        if shares.of(wash, film).most and not unadvised(case, wash):
            strong = case.model.holds(STRONG, (case.world.symbol(wash),))
            none = not shares.of(wash, film).least
            ranked.append(((none, stays_on(done, wash), strong, place), wash))
    for place, name in enumerate(rinses_of(world)):
        if may_take(case, name, film):
            none = not shares.of(name, film).least
            ranked.append(((none, False, False, place), name))
    if not ranked:
        return Oftener("", every, 0, "", (film,), 0, sure=False, word=word)
    (unsure, _, strong, _), wash = min(ranked)
    every = max(every, how_often(world).apart) if strong else every
    rinse = wash in rinses_of(world)
    at = [use for use in days.uses if use.product == wash]
    if len(at) * every >= days.days:
        return None
    others = [use.product for use in days.washes if use.product not in {wash, WATER}]
    return Oftener(
        wash,
        every,
        round(days.days / len(at)) if at else 0,
        "" if rinse else max(dict.fromkeys(others), key=others.count, default=""),
        (film,),
        0,
        sure=not unsure,
        word=word,
        rinse=rinse,
    )


class ToldByNote(NamedTuple):
    """What is said to a note that tells of films of a family, as the base has it.

    Args:
        of: what it speaks of.
        then: for how long a wash is used so, and how often after that.
        before: before what else it is used.
        taken_by: what a wash to buy is to list.
        left_by: the sort of wash that leaves them.
        apart: how many days apart washes for their sake are.
    """

    of: str
    then: str
    before: str
    taken_by: str
    left_by: str
    apart: int


def told_by_note(base: Base, film: Film, world: World) -> ToldByNote:
    """What is said to a note that tells of a film, as far as the base says it."""
    family = family_of(film, world)
    record = base.record(family)

    def kind(name: str) -> str:
        return next(map(base.label, record.links(name)), "")

    return ToldByNote(
        record.text("filmSignOf") or "",
        record.text("filmSignThen") or "",
        record.text("filmSignBefore") or "",
        kind("filmSignTakenBy"),
        kind("filmSignLeftBy"),
        taken_apart(base, family),
    )
