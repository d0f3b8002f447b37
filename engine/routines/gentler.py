"""Strong washes that are used too often, and a wash at hand that is the gentler.

A strong wash can be the gentler of two: by the order of mildness, or because what is
harsh in it is a part of what is harsh in the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import MAY_ACT, MILDER, STRONG, TRADED_HARSH
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.how_often import how_often, purpose, unadvised
from abluent.engine.routines.noted import harmed, well
from abluent.engine.routines.overview import Overview, State, takers
from abluent.engine.routines.routine import Schedule
from abluent.grammar.routine import tree as ast


class Gentler(NamedTuple):
    """A wash at hand that does as much as one that is used too often.

    Args:
        wash: the wash.
        old: the one in the place of which it may stand.
        lacks: what is harsh in that one and not in it.
        milder: whether the order of mildness has it so.
        strong: whether it is a strong wash too.
        leaves: what it leaves itself that builds up, or may.
    """

    wash: str
    old: str
    lacks: tuple[str, ...]
    milder: bool
    strong: bool
    leaves: tuple[Film, ...]


def overdone(
    routine: ast.Routine, days: Schedule, done: Effects, world: World
) -> list[str]:
    """The strong washes that a schedule uses more often than is advised.

    Args:
        routine: whose notes say how hair fares.
        days: the schedule.
        done: what its products do.
        world: the base and the shelf.
    """
    if well(routine, world.base):
        return []
    strong = [use.product for use in days.washes if _strong(done.case, use.product)]
    harm = bool(harmed(routine, world.base))
    often = how_often(world).far_too_often(len(strong), days.days, harmed=harm)
    return list(dict.fromkeys(w for w in strong if often and not purpose(world, w)))


def rare(wash: str, days: Schedule, routine: ast.Routine, world: World) -> bool:
    """Whether a strong wash is used so seldom that it may stay."""
    uses = sum(use.product == wash for use in days.washes)
    apart = how_often(world).harmed
    seldom = bool(apart) and uses * apart <= days.days
    return seldom and not harmed(routine, world.base)


def gentler(names: Sequence[str], hand: Iterable[str], now: Overview) -> Gentler | None:
    """The wash at hand to use in the place of one of some that are used too often.

    It surely takes at least a part of all that the washes of now do. Those that leave
    nothing come first, then those that are not strong, then those with less that is
    harsh.

    Args:
        names: the washes that are used too often.
        hand: the washes at hand.
        now: what becomes of the films as they are used.
    """
    done, case = now.built.effects, now.built.effects.case
    assert case is not None
    taken = [f for e in now.of(State.BOUNDED, State.CLEARED) for f in e.films]
    found: list[Gentler] = []
    for wash in hand:
        able = not taken or takers(done, [wash], taken)
        against = unadvised(case, wash) or purpose(case.world, wash)
        if able and not against and wash not in names:
            found += [e for old in names if (e := _beside(now, wash, old)) is not None]
    return min(
        found,
        key=lambda e: (bool(e.leaves), e.strong, len(harsh(case, e.wash))),
        default=None,
    )


def harsh(case: Case, wash: str) -> frozenset[str]:
    """What may act in a wash and is counted among the harshest."""
    holds = case.model.holds
    acting = case.model.match(MAY_ACT, (case.world.symbol(wash), None))
    return frozenset(str(a) for _, a in acting if holds(TRADED_HARSH, (a,)))


def _beside(now: Overview, wash: str, old: str) -> Gentler | None:
    """A wash beside another, if it is milder or has less that is harsh."""
    done, case = now.built.effects, now.built.effects.case
    assert case is not None
    pair = case.world.symbol(wash), case.world.symbol(old)
    back = case.model.holds(MILDER, pair[::-1])
    milder = case.model.holds(MILDER, pair) and not back
    less, more = harsh(case, wash), harsh(case, old)
    if back or not (milder or less < more):
        return None
    left = [f for f in done.left.get(wash, ()) if not done.goes(f)]
    stays = [f for f in left if f not in done.level and not takers(done, [wash], [f])]
    lacks = tuple(sorted(more - less))
    return Gentler(wash, old, lacks, milder, _strong(case, wash), tuple(stays))


def _strong(case: Case | None, wash: str) -> bool:
    """Whether a wash is a strong one, whatever is left."""
    return case is not None and case.model.holds(STRONG, (case.world.symbol(wash),))
