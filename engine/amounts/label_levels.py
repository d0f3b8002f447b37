"""The levels of a label that was read, from the facts that it asserts.

Everything is taken from facts, so that a label that is supposed to be otherwise has
levels too, and so that a checker can look at what they were worked out from.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from functools import cached_property

from abluent.engine.amounts._law import Listed, legal_caps, line_rule, usual_levels
from abluent.engine.amounts._rows import Cap, Item, LineRule
from abluent.engine.amounts.levels import Levels, levels
from abluent.engine.base import contract as c
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Interval, Quantity, Term, interval
from abluent.engine.proof.origins import label_origin
from abluent.engine.reading.readings import ReadLabel

_AS_PRINTED = ("label-as-printed",)


def label_levels(
    read: ReadLabel, base: Base, *, on: str = "", practice: bool = False
) -> Levels:
    """How much of each ingredient a label can mean.

    Args:
        read: the label, with the facts that say what kind of product it is of and
            where it is sold; without a market only what all markets share is used.
        base: the base.
        on: the day on which the product was on sale, as `2026-01-31`; today if empty.
        practice: whether to narrow the levels by what the trade usually puts in.
    """
    return LabelFacts(read.facts, base, on).levels(practice=practice)


class LabelFacts:
    """What is asserted of one product and its ingredients, as levels need it.

    Args:
        facts: the facts of one label, and of ingredients that are described there.
        base: the base.
        on: the day on which the product was on sale; today if empty.
    """

    def __init__(self, facts: Iterable[Fact], base: Base, on: str = "") -> None:
        self.base, self.on = base, on or date.today().isoformat()
        self._by_name: dict[str, list[Fact]] = {}
        for fact in facts:
            self._by_name.setdefault(fact.predicate, []).append(fact)
        self.product = self.said(c.PRODUCT, 0) or ""
        self.kind = self.said(c.KIND) or base.term(Role.OTHER_KIND)
        self.market = self.said(c.SOLD_IN)
        self.items = self._items()

    def said(self, predicate: str, place: int = 1) -> str | None:
        """A term of the first fact of a predicate."""
        found = self._by_name.get(predicate)
        return str(found[0].args[place]) if found else None

    def levels(self, *, practice: bool = False) -> Levels:
        """The levels of its items; see `label_levels`."""
        base, kind, market = self.base, self.kind, self.market
        usual: Sequence[Cap] = ()
        if practice:
            usual = usual_levels(base, self.listed, market, kind, self.places)
        return levels(self.items, self._rule, self._caps, usual)

    @cached_property
    def _rule(self) -> LineRule:
        return line_rule(self.base, self.market)

    @cached_property
    def _caps(self) -> Sequence[Cap]:
        return legal_caps(self.base, self.listed, self.market, self.kind, self.on)

    @cached_property
    def listed(self) -> Listed:
        """The ingredients, by symbol, in the order of the list, with their classes."""
        symbols = [item.symbol for item in self.items if item.symbol is not None]
        return {symbol: self._kinds(symbol) for symbol in symbols}

    @cached_property
    def places(self) -> Mapping[str, int]:
        """The first place of each ingredient, if the list proves an order."""
        if c.UNORDERED in self._by_name:
            return {}
        lines = self._by_name.get(c.LINE, ())
        found: dict[str, int] = {}
        for place, symbol in sorted((_place(f.args[1]), str(f.args[2])) for f in lines):
            found.setdefault(symbol, place)
        return found

    def _kinds(self, symbol: str) -> Collection[str]:
        """Every class of an ingredient: as asserted here, else as the base has it."""
        told = [f.args[1] for f in self._by_name.get(c.TYPE, ()) if f.args[0] == symbol]
        if told:
            return set().union(*(self.base.ancestors(str(each)) for each in told))
        return self.base.classes_of(symbol) if symbol in self.base else ()

    # -- places -------------------------------------------------------------------

    def _items(self) -> tuple[Item, ...]:
        """The items in the order of the list.

        A name that is printed again may be the same portion once more.
        """
        lines = [
            fact
            for name in (c.LINE, c.MAY_CONTAIN, c.UNREAD_LINE)
            for fact in self._by_name.get(name, ())
        ]
        seen: set[str] = set()
        items = []
        for line in sorted(lines, key=lambda fact: _place(fact.args[1])):
            item = self._item(line, seen)
            items.append(item)
            seen.update([item.symbol] if item.symbol else [])
        return tuple(items)

    def _item(self, line: Fact, seen: Collection[str]) -> Item:
        place = _place(line.args[1])
        symbol = None if line.predicate == c.UNREAD_LINE else str(line.args[2])
        again = symbol in seen
        loose = again or c.UNORDERED in self._by_name or place in self._outside
        return Item(
            place,
            symbol,
            stated=self._stated.get(place),
            ordered=not loose,
            certain=line.predicate != c.MAY_CONTAIN,
            counted=not again and place not in self._within,
            basis=_printed(line),
        )

    @cached_property
    def _outside(self) -> set[Term]:
        return {fact.args[1] for fact in self._by_name.get(c.OUT_OF_ORDER, ())}

    @cached_property
    def _within(self) -> set[Term]:
        return {fact.args[1] for fact in self._by_name.get(c.WITHIN_ANOTHER, ())}

    @cached_property
    def _stated(self) -> Mapping[int, Quantity]:
        """The figure beside each place, or no more than what the label says at most."""
        most = self._by_name.get(c.STATED_AT_MOST, ())
        found: dict[int, Quantity] = {}
        for fact in most:
            figure = _quantity(fact.args[2])
            assert not isinstance(figure, Interval), "labels print one figure at most"
            found[_place(fact.args[1])] = interval(None, figure)
        stated = self._by_name.get(c.STATED, ())
        return found | {_place(f.args[1]): _quantity(f.args[2]) for f in stated}


def _place(term: Term) -> int:
    assert isinstance(term, int), "places are whole numbers"
    return term


def _quantity(term: Term) -> Quantity:
    assert not isinstance(term, str), "a figure is a number or an interval"
    return term


def _printed(line: Fact) -> Basis:
    """The basis of an item: what is printed, or supposed to be, is as good as law."""
    origin = line.basis.origin
    sources = _AS_PRINTED if label_origin(origin) else ()
    return Basis("lawOrStandard", sources, origin=origin)
