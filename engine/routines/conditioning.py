"""What conditions after a wash, where a change or a strong wash asks for it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import CONDITIONS, FEELS_CONDITIONED, STRONG
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film, washes_of
from abluent.engine.routines.overview import family_of
from abluent.engine.routines.routine import Schedule, Use

RINSED_OFF = "rinsedOff"
"""The property of a kind of product that is not left in."""


class Care(NamedTuple):
    """What a schedule lacks of conditioning, and what it has after strong washes.

    Args:
        lost: what conditioned on a day of washing and does not any more; may be none.
        strong: strong washes after which nothing conditions on their day.
        by: what at hand conditions, to be used there; empty if nothing is.
        at: the washes after which it is to be used.
        leaves: the films that it would leave and no wash of the schedule surely takes
            a part of.
        kept: each other strong wash, with what conditions after it.
        again: of these, such after which what conditions leaves again what the wash is
            to take, where `by` does not; with the films.
    """

    lost: tuple[str, ...]
    strong: tuple[str, ...]
    by: str
    at: tuple[Use, ...] = ()
    leaves: tuple[Film, ...] = ()
    kept: tuple[tuple[str, str], ...] = ()
    again: tuple[tuple[str, str, tuple[Film, ...]], ...] = ()

    @property
    def gap(self) -> bool:
        """Whether something is to condition, and nothing at hand does."""
        return bool(self.lost or self.strong) and not self.by


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
    return [name for name in names if name in hand and is_rinsed(world, name)]


def left_in(world: World, name: str) -> bool:
    """Whether a product of a shelf is no wash and is not rinsed off."""
    return name in world.products and not (
        name in washes_of(world) or is_rinsed(world, name)
    )


def is_rinsed(world: World, name: str) -> bool:
    """Whether a product of a shelf is of a kind that is rinsed off."""
    kind = product_kind(world.products[name].kind, world.base)
    return world.base.record(kind).truth(RINSED_OFF)


def care(
    days: Schedule,
    effects: Effects,
    shares: Shares,
    before: Schedule | None = None,
    concern: Collection[str] = (),
) -> Care | None:
    """What a schedule lacks, beside one that it comes after; nothing if no need is.

    Args:
        days: the schedule.
        effects: what its products do, and those at hand that condition.
        shares: what its washes take.
        before: the schedule that it takes the place of.
        concern: the families of films that its washes are to keep off.
    """
    case = effects.case
    assert case is not None
    conditioning = _conditions(effects)
    rinsed = frozenset(n for n in conditioning if is_rinsed(case.world, n))
    also = rinsed | (feels(effects) & {*washes_of(case.world)})
    lost, bare = dict[str, None](), list[Use]()
    kept: dict[str, str] = {}
    for use in before.washes if before else ():
        did = _after(before, use, also) if before else []
        if did and not _after(days, days.uses[use.place], also):
            lost |= dict.fromkeys(did)
            bare.append(days.uses[use.place])
    strong = [
        use
        for use in days.washes
        if case.model.holds(STRONG, (case.world.symbol(use.product),))
    ]
    for use in strong:
        if after := _after(days, use, rinsed):
            kept.setdefault(use.product, after[0])
    lacking = [use for use in strong if not _after(days, use, rinsed)]
    best = best_conditioner(days, before or days, effects, shares, concern)
    if best and not is_rinsed(case.world, best):  # what is left in does, if used there
        for use in lacking:
            if after := _after(days, use, conditioning):
                kept.setdefault(use.product, after[0])
        lacking = [use for use in lacking if not _after(days, use, conditioning)]
    if not (lost or lacking or kept):
        return None
    mild = [use for use in days.washes if use not in strong] or days.washes

    def returning(name: str) -> tuple[Film, ...]:
        stays = _staying(name, mild, effects, shares)
        return tuple(f for f in stays if family_of(f, case.world) in concern)

    again = tuple(
        (wash, by, returning(by))
        for wash, by in kept.items()
        if best not in {by, ""} and returning(by) and not returning(best)
    )
    names = dict.fromkeys(use.product for use in lacking)
    at = dict.fromkeys([*lacking, *(bare if not lacking else ())])
    return Care(
        tuple(lost),
        tuple(names),
        best,
        tuple(at),
        _staying(best, days.washes, effects, shares),
        tuple((wash, by) for wash, by in kept.items() if wash not in names),
        again,
    )


def best_conditioner(
    days: Schedule,
    before: Schedule,
    effects: Effects,
    shares: Shares,
    concern: Collection[str] = (),
) -> str:
    """What at hand conditions best after a strong wash; empty if nothing does.

    First what is rinsed off; of that what leaves least of what the washes are to keep
    off and the mild ones do not take, then least of what none takes; then what is no
    wash, then what is used anyway. Where no wash is strong, a wash comes last of what
    is rinsed off. What a schedule does without is left out.
    """
    case = effects.case
    assert case is not None
    world, washes = case.world, {*washes_of(case.world)}
    strong = {w for w in washes if case.model.holds(STRONG, (world.symbol(w),))}
    mild = [use for use in days.washes if use.product not in strong]
    hand = _conditions(effects) - strong
    gone = {*before.products} - {*days.products} - washes
    known = [n for n in world.products if n in hand - gone and n in effects.left]

    harsh = len(mild) < len(days.washes)

    def marks(name: str) -> tuple[bool, int, bool, int, bool, bool, int]:
        stays = _staying(name, mild or days.washes, effects, shares)
        bad = {family_of(film, world) for film in stays} & {*concern}
        never = len(_staying(name, days.washes, effects, shares))
        washed = name in washes
        left, late = not is_rinsed(world, name), washed and not harsh
        unused = name not in days.products
        return left, len(bad), late, never, washed, unused, len(stays)

    return min(known, key=marks, default="")


def after_each(days: Schedule, name: str) -> bool:
    """Whether a product is used after each wash of a schedule, on its day."""
    return bool(days.washes) and all(used_after(days, u, name) for u in days.washes)


def used_after(days: Schedule, wash: Use, name: str) -> bool:
    """Whether a product is used after a wash, on its day."""
    return bool(_after(days, wash, frozenset({name})))


def _conditioning(case: Case) -> set[str]:
    if CONDITIONS not in case.world.known.program.arities:
        return set()
    return {str(kind) for (kind,) in case.model.match(CONDITIONS, (None,))}


def _conditions(effects: Effects) -> frozenset[str]:
    """The products that condition: of those left in, such as leave what feels so."""
    case = effects.case
    assert case is not None
    kinds, feeling = _of_kinds(case, _conditioning(case)), feels(effects)
    return frozenset(n for n in kinds if n in feeling or is_rinsed(case.world, n))


def _of_kinds(case: Case, kinds: set[str]) -> frozenset[str]:
    return frozenset(
        name
        for name, each in case.world.products.items()
        if product_kind(each.kind, case.world.base) in kinds
    )


def feels(effects: Effects) -> frozenset[str]:
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
    name: str, uses: Sequence[Use], effects: Effects, shares: Shares
) -> tuple[Film, ...]:
    """The films of a product of which none of some washes surely takes a part."""
    washes = [w for w in dict.fromkeys(use.product for use in uses) if w != WATER]
    return tuple(
        film
        for film in effects.left.get(name, ())
        if not effects.goes(film)
        and film not in effects.level
        and not any(shares.of(w, film).least for w in washes)
    )
