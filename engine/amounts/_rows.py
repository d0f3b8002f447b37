"""What is known of the levels on one label, as linear rows.

A row says `sum of coefficient * level <= bound`, or `<` where it is strict; levels
are in per cent by weight. Where the 1 % line of a label lies is not printed, so a
row also says for which positions of the line it holds: the line at `k` stands after
the first `k` items whose order counts. At one position the rows are linear; over
all positions the levels that a label allows are a union of polytopes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.logic.facts import NO_BASIS, Basis
from abluent.engine.logic.terms import Interval, Quantity

WHOLE = Fraction(100)
# The coefficients of nearly every row, known again by what they are.
ONE = Fraction(1)
MINUS = -ONE
_NOTHING = Fraction(0)
# Of a printed line, or of a rule whose sources are not given.
AS_LAW = Basis("lawOrStandard")


class Item(NamedTuple):
    """One place of a label, as far as levels need it.

    Args:
        place: its number on the label, from one.
        symbol: the ingredient; `None` for a line that was not understood, which may
            be nothing, or several things at once.
        stated: the per cent by weight printed beside it, as a number or interval.
        ordered: whether its place in the list says anything about its level.
        certain: whether it is in the product at all; `may contain` leaves that open.
        counted: whether its level adds to that of the other items; an allergen of
            the perfume, or an item in the parentheses of another, may be part of it.
        basis: on what basis it is read there.
    """

    place: int
    symbol: str | None
    stated: Quantity | None = None
    ordered: bool = True
    certain: bool = True
    counted: bool = True
    basis: Basis = AS_LAW

    @property
    def chained(self) -> bool:
        """Whether it takes part in the order of the list."""
        return self.ordered and self.symbol is not None


class Cap(NamedTuple):
    """Together, the `shares` of some ingredients lie between two figures in per cent.

    Args:
        name: the symbol of the limit, which a reader can look up.
        shares: each ingredient with the part of its mass that counts; a salt whose
            limit is stated as acid counts in part.
        high: the greatest level.
        low: the least level, where there is one.
        basis: its standing and sources.
    """

    name: str
    shares: tuple[tuple[str, Fraction], ...]
    high: Fraction | None
    low: Fraction | None = None
    basis: Basis = NO_BASIS


class LineRule(NamedTuple):
    """How a market lets the order of a list end.

    Items above the threshold stand first in descending order; those below it may
    follow in any order.

    Args:
        name: the symbols of the label rules, which a reader can look up.
        threshold: the level of the line, in per cent.
        free_at_threshold: whether an item at exactly the threshold may stand in any
            order, as "1 per cent or less" says and "less than 1 %" does not.
        basis: its standing and sources.
    """

    name: str
    threshold: Fraction = Fraction(1)
    free_at_threshold: bool = True
    basis: Basis = AS_LAW


class Row(NamedTuple):
    """`sum(coefficient * level of item) <= bound`, strictly where `strict`.

    Args:
        name: unique on its label, such as `order 2 3`, `below 4`, `cap ...`.
        terms: item (by its index) to coefficient.
        bound: the right side.
        strict: whether equality is excluded.
        first, last: the positions of the line from and to which it holds.
        basis: where it comes from.
    """

    name: str
    terms: Mapping[int, Fraction]
    bound: Fraction
    strict: bool
    first: int
    last: int
    basis: Basis

    def holds_at(self, line: int) -> bool:
        """Whether the row is in force with the line at this position."""
        return self.first <= line <= self.last

    @property
    def single(self) -> bool:
        """Whether it bounds one item alone."""
        return len(self.terms) == 1

    @property
    def level(self) -> Fraction:
        """Of a row that bounds one item alone: the level that it bounds it by."""
        (coefficient,) = self.terms.values()
        # Nearly every row is of an item as it is, and a division takes long.
        if coefficient is ONE:
            return self.bound
        return -self.bound if coefficient is MINUS else self.bound / coefficient


_ARITHMETIC = Basis("lawOrStandard", origin="the parts of a whole")


def chain(items: Sequence[Item]) -> list[int]:
    """The indices of the items whose order counts, in the order of the list."""
    return [at for at, item in enumerate(items) if item.chained]


def rows_of(
    items: Sequence[Item],
    rule: LineRule,
    caps: Iterable[Cap],
    complete: bool = True,
) -> list[Row]:
    """Every row of a label; the order among them does not matter.

    Args:
        items: the items in the order of the list.
        rule: how the list ends.
        caps: limits on single items or several together.
        complete: whether the items are all there is in the product.
    """
    order = chain(items)
    maker = _Maker(items, rule, len(order))
    rows = [*maker.whole(complete)]
    for at, item in enumerate(items):
        rows += maker.alone(at, item)
    rows += maker.line(order)
    for cap in caps:
        rows += maker.capped(cap)
    return rows


class _Maker:
    def __init__(self, items: Sequence[Item], rule: LineRule, lines: int) -> None:
        self._items = items
        self._rule = rule
        self._lines = lines

    def _row(
        self,
        name: str,
        terms: Mapping[int, Fraction],
        bound: Fraction,
        basis: Basis,
        *,
        strict: bool = False,
    ) -> Row:
        return Row(name, terms, bound, strict, 0, self._lines, basis)

    def whole(self, complete: bool) -> Iterator[Row]:
        """The parts make 100 %; an unread line leaves open how much is missing."""
        items = self._items
        counted = {at: ONE for at, item in enumerate(items) if item.counted}
        if counted:
            yield self._row("sum at most", counted, WHOLE, _ARITHMETIC)
        if complete and all(item.symbol is not None for item in items):
            parts = dict.fromkeys(range(len(items)), MINUS)
            yield self._row("sum at least", parts, -WHOLE, _ARITHMETIC)

    def alone(self, at: int, item: Item) -> Iterator[Row]:
        """What bounds one item by itself."""
        yield self._row(f"part {item.place}", {at: ONE}, WHOLE, _ARITHMETIC)
        present = item.certain and item.symbol is not None
        name = f"present {item.place}" if present else f"nothing less {item.place}"
        yield self._row(name, {at: MINUS}, _NOTHING, item.basis, strict=present)
        if item.stated is not None:
            yield from self._stated(at, item, item.stated)

    def _stated(self, at: int, item: Item, stated: Quantity) -> Iterator[Row]:
        known = stated if isinstance(stated, Interval) else Interval(stated, stated)
        if known.high is not None:
            name, high = f"stated at most {item.place}", Fraction(known.high)
            yield self._row(name, {at: ONE}, high, item.basis, strict=known.high_open)
        if known.low is not None:
            name, low = f"stated at least {item.place}", -Fraction(known.low)
            yield self._row(name, {at: MINUS}, low, item.basis, strict=known.low_open)

    def line(self, order: Sequence[int]) -> Iterator[Row]:
        """Descending down to the line; below it any order, but little of each.

        With the line at the number of items that reach the threshold, what stands
        after it is below the threshold whether or not the maker sorted it too.
        Where exactly the threshold is free, `at least` above the line and `at most`
        below it allow the same levels over all positions as `more than` would.
        """
        rule, last = self._rule, self._lines
        strict = not rule.free_at_threshold
        for number, at in enumerate(order, start=1):
            place = self._items[at].place
            above = {at: MINUS}
            yield Row(
                f"above {place}",
                above,
                -rule.threshold,
                False,
                number,
                last,
                rule.basis,
            )
            below = {at: ONE}
            yield Row(
                f"below {place}",
                below,
                rule.threshold,
                strict,
                0,
                number - 1,
                rule.basis,
            )
            if number > 1:
                before = order[number - 2]
                name = f"order {self._items[before].place} {place}"
                terms = {at: ONE, before: MINUS}
                yield Row(name, terms, _NOTHING, False, number, last, rule.basis)

    def capped(self, cap: Cap) -> Iterator[Row]:
        """The limits of a cap on those of its ingredients that are on the label."""
        shares = dict(cap.shares)
        found = [at for at, i in enumerate(self._items) if i.symbol in shares]
        first = {str(self._items[at].symbol): at for at in reversed(found)}
        if cap.high is not None:
            # A name that is printed twice may be one and the same portion.
            terms = {at: shares[symbol] for symbol, at in first.items()}
            for alone in [at for at in found if at not in terms]:
                item = self._items[alone]
                own = {alone: shares[str(item.symbol)]}
                name = f"cap {cap.name} at {item.place}"
                yield self._row(name, own, cap.high, cap.basis)
            if terms:
                yield self._row(f"cap {cap.name}", terms, cap.high, cap.basis)
        unread = any(item.symbol is None for item in self._items)
        if cap.low is not None and found and not unread:
            less = {at: -shares[str(self._items[at].symbol)] for at in found}
            yield self._row(f"least {cap.name}", less, -cap.low, cap.basis)
