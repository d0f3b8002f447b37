"""Which limits of law and figures of the trade bear on a product, from the base.

An ingredient with one limit as a preservative and another for other uses may be
there for either, so the greater of the two binds; where the base knows that other
uses have no greatest level, none does. A limit whose scope takes in only some
products of a kind never binds by itself, but may lift another. Windows for drugs
(limits with a least level) are left to the figures that such labels must print.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TypeAlias

from abluent.engine.amounts._rows import WHOLE, Cap, LineRule
from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis

Listed: TypeAlias = Mapping[str, Collection[str]]
"""The ingredients of a label, each with every class it is known to be of."""

_SCALE = ("inferred", "commonPractice", "handbook", "measured", "lawOrStandard")
_LAW = _SCALE[-1]
_MOST_KEPT = 100_000


def line_rule(base: Base, market: str | None) -> LineRule:
    """How a list ends in a market, by its symbol.

    Where the market is unknown, or its law is not in the base, any of the known ways
    is taken to be possible; the one that frees what is exactly at the line allows
    all that the others do.
    """
    rules = [base.record(each) for each in base.instances("LabelRule")]
    known = [each for each in rules if _threshold(each) is not None]
    here = [each for each in known if market in each.links("market")] or known
    if not here:
        return LineRule("no label rule")
    # The greater threshold, and of two alike the one that is itself free.
    widest = max(here, key=lambda each: (_threshold(each), _free(each)))
    threshold = _threshold(widest)
    return LineRule(
        " ".join(each.symbol for each in here),
        Fraction(threshold if threshold is not None else 1),
        _free(widest),
        _joined(each.basis for each in here),
    )


def _threshold(rule: Record) -> Fraction | None:
    for name in ("freeBelow", "freeUpTo"):
        value = rule.number(name)
        if value is not None:
            return Fraction(value)
    return None


def _free(rule: Record) -> bool:
    return rule.number("freeUpTo") is not None


def legal_caps(
    base: Base,
    ingredients: Listed,
    market: str | None,
    kind: str,
    on: str,
) -> list[Cap]:
    """The limits that bind the level of some ingredients in a lawful product.

    Args:
        base: the base.
        ingredients: those on the label.
        market: the symbol of the market; where it is unknown no limit binds.
        kind: the symbol of the product kind.
        on: the day on which the product was on sale, as `2026-01-31`. A limit binds
            from the day on which older stock had to be gone, where one is known.
    """
    figures = _Figures.of(base)
    members: dict[_Figure, list[str]] = {}
    for each, kinds in ingredients.items():
        for limit in figures.binding(each, kinds, market, on, kind):
            members.setdefault(limit, []).append(each)
    here = figures.in_force(market, on)
    return [cap for x in here if x in members for cap in x.caps(members[x])]


def lifting(base: Base, ingredients: Listed, market: str | None, on: str) -> list[str]:
    """Every limit in force that names one of some ingredients, by symbol.

    Whether a limit binds depends on these, as one for another use may lift it.
    """
    here = _Figures.of(base).in_force(market, on)
    found = (x for each in ingredients.items() for x in _naming(*each, here))
    return list(dict.fromkeys(limit.record.symbol for limit in found))


def usual_levels(
    base: Base,
    ingredients: Listed,
    market: str | None,
    kind: str,
    places: Mapping[str, int] | None = None,
) -> list[Cap]:
    """What the trade usually puts in, which binds nobody.

    Only figures that speak of the kind as a whole are given, and no single formulas;
    of those that speak of one sort, such as a wash led by anionics, only where the
    places on the label show that sort. `places` has them, as far as the order of the
    list proves anything; the ingredients are taken to stand as given if left out.
    Where the base holds several ranges for the same ingredients, as
    it does for shampoos of different sorts, the label does not tell which is meant,
    and the range that holds them all is given.
    """
    if places is None:
        places = {each: at for at, each in enumerate(ingredients)}
    alike: dict[tuple[tuple[str, ...], bool, bool], list[_Figure]] = {}
    figures = _Figures.of(base)
    named: dict[_Figure, list[str]] = {}
    for each, kinds in ingredients.items():
        for usual in figures.usual_of(each, kinds):
            named.setdefault(usual, []).append(each)
    for usual in figures.usual:
        members = tuple(named.get(usual, ()))
        if not members or not usual.holds_in(market) or kind not in usual.usual_in:
            continue
        if usual.is_of_sort(members, ingredients, places):
            key = (members, usual.together, usual.low is None)
            alike.setdefault(key, []).append(usual)
    return [
        cap
        for (members, together, _), found in alike.items()
        for cap in _hull(members, found, together)
    ]


def _hull(
    members: Sequence[str], found: Sequence[_Figure], together: bool
) -> Iterator[Cap]:
    lows = [each.low for each in found if each.low is not None]
    high = max(each.high for each in found)
    basis = _joined([*(each.record.basis for each in found), Basis("commonPractice")])
    name = "+".join(each.record.symbol for each in found)
    for group in [members] if together else [[each] for each in members]:
        shares = tuple((each, Fraction(1)) for each in group)
        own = name if together or len(members) == 1 else _on_part(name, group[0])
        yield Cap(own, shares, high, min(lows, default=None), basis)


def _on_part(name: str, ingredient: str) -> str:
    """The name of a limit for one of the ingredients that it binds one by one."""
    return f"{name}:{ingredient.replace(' ', '_')}"


def counted_shares(base: Base, ingredients: Iterable[str]) -> list[str]:
    """The records of the parts by which some ingredients count, by symbol."""
    known = _Figures.of(base).shares
    return [known[each].symbol for each in ingredients if each in known]


def _naming(
    ingredient: str, kinds: Collection[str], limits: Iterable[_Figure]
) -> Sequence[_Figure]:
    return [each for each in limits if each.names(ingredient, kinds)]


def _binding(ingredient: str, named: Sequence[_Figure], kind: str) -> Sequence[_Figure]:
    """Of the limits that name an ingredient, those that bind whatever it is for."""
    sure = [each for each in named if each.covers(kind)]
    preserving = [each for each in sure if each.preserves]
    other = [each for each in sure if not each.preserves]
    if not preserving or (not other and not _lifting(named, kind)):
        free = any(each.open_to_other_use for each in preserving)
        return [] if free else preserving or other
    if not other:
        # A limit for some products of the kind binds none of the rest, but these
        # may hold as much as the highest of such limits lets them.
        other = [max(_lifting(named, kind), key=lambda e: e.level_of(ingredient))]
    least = [min(e.level_of(ingredient) for e in use) for use in (preserving, other)]
    return preserving if least[0] > least[1] else other


def _lifting(named: Sequence[_Figure], kind: str) -> list[_Figure]:
    """Limits on other uses that hold for some products of the kind."""
    return [e for e in named if e.covers(kind) is None and not e.preserves]


class _Figures:
    """The limits and use levels of a base, gathered once."""

    def __init__(self, base: Base) -> None:
        self._base = base
        self._kept: dict[tuple[object, ...], Sequence[_Figure]] = {}

    @classmethod
    def of(cls, base: Base) -> _Figures:
        """Those of a base."""
        return base.once(cls)

    def in_force(self, market: str | None, on: str) -> Sequence[_Figure]:
        """The limits of a market on a day."""
        return self._once(
            (market, on),
            lambda: [x for x in self.limits if x.holds_in(market) and x.in_force(on)],
        )

    def binding(
        self,
        ingredient: str,
        kinds: Collection[str],
        market: str | None,
        on: str,
        kind: str,
    ) -> Sequence[_Figure]:
        """The limits in force that bind an ingredient of some classes."""
        return self._once(
            (ingredient, _key(kinds), market, on, kind),
            lambda: _binding(
                ingredient, _naming(ingredient, kinds, self.in_force(market, on)), kind
            ),
        )

    def usual_of(self, ingredient: str, kinds: Collection[str]) -> Sequence[_Figure]:
        """The ranges that apply to an ingredient of some classes."""
        return self._once(
            (ingredient, _key(kinds)), lambda: _naming(ingredient, kinds, self.usual)
        )

    def _once(
        self, key: tuple[object, ...], make: Callable[[], Sequence[_Figure]]
    ) -> Sequence[_Figure]:
        """What was made before, as most ingredients stand on many labels."""
        found = self._kept.get(key)
        if found is None:
            if len(self._kept) > _MOST_KEPT:
                self._kept.clear()
            found = self._kept[key] = make()
        return found

    @cached_property
    def limits(self) -> list[_Figure]:
        """Limits of law that bound an ingredient itself from above only."""
        return [
            each
            for each in self._of("ConcentrationLimit")
            if each.record.basis.standing == _LAW
            and each.low is None
            and each.record.text("impurity") is None
            and not each.record.truth("bindsSomeGrades")
        ]

    @cached_property
    def usual(self) -> list[_Figure]:
        """Ranges of the trade; the level of a single formula is none."""
        return [each for each in self._of("UseLevel") if each.low != each.high]

    def _of(self, kind: str) -> Iterator[_Figure]:
        for symbol in self._base.instances(kind):
            record = self._base.record(symbol)
            high = record.number("high")
            if record.link("unit") == "percentByWeight" and high is not None:
                yield _Figure(self._base, record, Fraction(high), self.shares)

    @cached_property
    def shares(self) -> dict[str, Record]:
        """The part of its mass by which an ingredient counts, where limits say so."""
        records = map(self._base.record, self._base.instances("Measurement"))
        return {
            ingredient: record
            for record in records
            if record.link("quantity") == "countedShare"
            for ingredient in record.links("measures")
        }


def _key(kinds: Collection[str]) -> Collection[str]:
    return kinds if isinstance(kinds, tuple) else frozenset(kinds)


class _Figure:
    """A limit or use level of the base; `high` is in per cent by weight."""

    def __init__(
        self, base: Base, record: Record, high: Fraction, shares: Mapping[str, Record]
    ) -> None:
        self.base, self.record, self.high, self.shares = base, record, high, shares

    @cached_property
    def low(self) -> Fraction | None:
        """The least level in per cent."""
        value = self.record.number("low")
        return None if value is None else Fraction(value)

    @cached_property
    def usual_in(self) -> frozenset[str]:
        """The product kinds that a use level speaks of."""
        return frozenset(self.record.links("usualIn"))

    def is_of_sort(
        self, members: Sequence[str], listed: Listed, places: Mapping[str, int]
    ) -> bool:
        """Whether the places on a label show the sort of product that it speaks of."""
        above = frozenset(self.record.links("usualAbove"))
        below = frozenset(self.record.links("usualBelow"))
        if not above and not below:
            return True
        if not all(each in places for each in listed):
            return False
        of_members = [places[each] for each in members]
        rivals = [
            places[e] for e, kinds in listed.items() if not above.isdisjoint(kinds)
        ]
        markers = [
            places[e] for e, kinds in listed.items() if not below.isdisjoint(kinds)
        ]
        leads = not above or all(min(of_members) < each for each in rivals)
        follows = not below or any(each < min(of_members) for each in markers)
        return leads and follows

    @cached_property
    def preserves(self) -> bool:
        """Whether it is on use as a preservative."""
        return self.record.truth("bindsPreservativeUse")

    @cached_property
    def open_to_other_use(self) -> bool:
        """Whether other uses are known not to be bound."""
        return self.record.truth("openToOtherUse")

    @cached_property
    def together(self) -> bool:
        """Whether it bounds the sum of what it applies to."""
        return self.record.truth("boundsSum")

    @cached_property
    def _applies(self) -> frozenset[str]:
        return frozenset(self.record.links("appliesTo"))

    @cached_property
    def _to_classes(self) -> bool:
        return any(self.base.is_class(each) for each in self._applies)

    def names(self, ingredient: str, kinds: Collection[str]) -> bool:
        """Whether it applies to an ingredient, by name or by one of its classes."""
        if ingredient in self._applies:
            return True
        return self._to_classes and not self._applies.isdisjoint(kinds)

    def holds_in(self, market: str | None) -> bool:
        """Whether it is law, or custom, in a market."""
        markets = self.record.links("market")
        return market in markets or "anyMarket" in markets

    def in_force(self, on: str) -> bool:
        """Whether it binds everything on sale on a day; days sort as text."""
        record = self.record
        start = record.text("offMarketFrom") or record.text("inForceFrom")
        return start is None or start <= on

    def covers(self, kind: str) -> bool | None:
        """Whether its scope takes in a kind of product; `None` if in part."""
        scopes = [self.base.record(each) for each in self.record.links("scope")]
        if any(kind in scope.links("coversKind") for scope in scopes):
            return True
        doubtful = any(kind in scope.links("mayCoverKind") for scope in scopes)
        return None if doubtful else False

    def _share(self, ingredient: str) -> Fraction | None:
        """The part of the mass that counts; `None` where that is not known."""
        if self.record.text("countedAs") is None:
            return Fraction(1)
        record = self.shares.get(ingredient)
        share = None if record is None else record.number("low")
        return None if share is None else Fraction(share)

    def level_of(self, ingredient: str) -> Fraction:
        """The greatest level of one ingredient under this limit alone."""
        share = self._share(ingredient)
        return WHOLE if share is None else self.high / share

    def caps(self, members: Sequence[str]) -> Iterator[Cap]:
        """The limit on those ingredients that it binds."""
        shares = [(each, self._share(each)) for each in members]
        known = [(each, share) for each, share in shares if share is not None]
        symbol = self.record.symbol
        for group in [known] if self.together else [[each] for each in known]:
            if group:
                whole = self.together or len(known) == 1
                name = symbol if whole else _on_part(symbol, group[0][0])
                yield Cap(name, tuple(group), self.high, None, self._basis(group))

    def _basis(self, group: Iterable[tuple[str, Fraction]]) -> Basis:
        """Arithmetic on molar masses stands lower than the limit itself."""
        counted = [self.shares[each].basis for each, share in group if share != 1]
        return _joined([self.record.basis, *counted])


def _joined(bases: Iterable[Basis]) -> Basis:
    """The basis of what needs all of some: the weakest standing, every source."""
    found = list(bases)
    return Basis(
        min((each.standing for each in found), key=_SCALE.index),
        tuple(dict.fromkeys(source for each in found for source in each.sources)),
        any(each.from_memory for each in found),
        next((each.origin for each in found if each.origin), ""),
    )
