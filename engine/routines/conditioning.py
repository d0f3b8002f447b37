"""What conditions after a wash, where a change or a strong wash asks for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.contract import CONDITIONS, FEELS_CONDITIONED, STRONG
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.routine import Schedule, Use

RINSED_OFF = "rinsedOff"
"""The property of a kind of product that is not left in."""


class Care(NamedTuple):
    """What a schedule lacks of conditioning.

    Args:
        lost: what conditioned on a day of washing and does not any more; may be none.
        strong: strong washes after which nothing conditions on their day.
        by: what at hand conditions, to be used there; empty if nothing is.
        used: whether it is used in the schedule anyway.
        leaves: the films that it would leave and no wash of the schedule surely takes
            a part of.
    """

    lost: tuple[str, ...]
    strong: tuple[str, ...]
    by: str
    used: bool = False
    leaves: tuple[Film, ...] = ()


def conditioners(world: World, case: Case | None = None) -> list[str]:
    """The products of a shelf that condition and are not sold to clean."""
    kinds = _conditioning(case or Case.of(world, [], [], []))
    kinds -= cleaning_kinds(world.base)
    return [
        name
        for name, each in world.products.items()
        if product_kind(each.kind, world.base) in kinds
    ]


def interchangeable(world: World, names: Sequence[str]) -> list[str]:
    """Those of some products one of which may stand in the place of another.

    They condition and are rinsed off; what is left in or styles has a use of its own.
    """
    hand = {*conditioners(world)}
    return [name for name in names if name in hand and _rinsed(world, name)]


def _rinsed(world: World, name: str) -> bool:
    kind = product_kind(world.products[name].kind, world.base)
    return world.base.record(kind).truth(RINSED_OFF)


def care(
    days: Schedule, effects: Effects, shares: Shares, before: Schedule | None = None
) -> Care | None:
    """What a schedule lacks, beside one that it comes after; nothing if it lacks none.

    Args:
        days: the schedule.
        effects: what its products do, and those at hand that condition.
        shares: what its washes take.
        before: the schedule that it takes the place of.
    """
    case = effects.case
    assert case is not None
    conditioning = _of_kinds(case, _conditioning(case))
    lost: dict[str, None] = {}
    also = conditioning | _feeling(effects)
    for use in before.washes if before else ():
        did = _after(before, use, also) if before else []
        if did and not _after(days, days.uses[use.place], also):
            lost |= dict.fromkeys(did)
    strong = dict.fromkeys(
        use.product
        for use in days.washes
        if case.model.holds(STRONG, (case.world.symbol(use.product),))
        and not _after(days, use, conditioning)
    )
    if not lost and not strong:
        return None
    hand = [name for name in conditioners(case.world, case) if name not in lost]
    known = [name for name in hand if name in effects.left or not effects.left]
    best = min(
        known or hand,
        key=lambda name: (
            name not in days.products,
            len(_staying(name, days, effects, shares)),
        ),
        default="",
    )
    leaves = _staying(best, days, effects, shares)
    told = tuple(lost), tuple(strong)
    return Care(*told, best, best in days.products, leaves)


def _conditioning(case: Case) -> set[str]:
    if CONDITIONS not in case.world.known.program.arities:
        return set()
    return {str(kind) for (kind,) in case.model.match(CONDITIONS, (None,))}


def _of_kinds(case: Case, kinds: set[str]) -> frozenset[str]:
    return frozenset(
        name
        for name, each in case.world.products.items()
        if product_kind(each.kind, case.world.base) in kinds
    )


def _feeling(effects: Effects) -> frozenset[str]:
    """The products that leave what hair feels conditioned by, washes among them."""
    case = effects.case
    assert case is not None
    base = case.world.base
    return frozenset(
        name
        for name, films in effects.left.items()
        for kind in {kind for film in films for kind in base.classes_of(film.former)}
        if base.record(kind).truth(FEELS_CONDITIONED)
    )


def _after(days: Schedule, wash: Use, conditioning: frozenset[str]) -> list[str]:
    """What conditions at a wash, or after it on its day."""
    later = (u for u in days.uses if u.day == wash.day and u.place >= wash.place)
    return [u.product for u in later if u.product in conditioning]


def _staying(
    name: str, days: Schedule, effects: Effects, shares: Shares
) -> tuple[Film, ...]:
    washes: Sequence[str] = list(dict.fromkeys(use.product for use in days.washes))
    return tuple(
        film
        for film in effects.left.get(name, ())
        if not effects.goes(film)
        and film not in effects.level
        and not any(shares.of(w, film).least for w in washes if w != WATER)
    )
