"""Judging whether two labels are nearly the same: `resemble P`.

Two lists resemble each other if at least four in five of the ingredients of both
together are on both, and what both list stands in nearly the same order. The rows are
the lines that they share.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from abluent.engine.base.contract import LISTED
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Member
from abluent.engine.questions.verbs.judgement import Judged, Judgements, all_of
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

SHARED = Fraction(4, 5)
"""Which share of the ingredients of two lists must be on both."""
IN_ORDER = Fraction(4, 5)
"""Which share of the pairs that both list must stand in the same order."""


class Likeness:
    """Which labels are nearly the same, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms

    def resembles(self, items: Sequence[Item], said: q.Resembles) -> Judgements:
        """Whether the label of each is nearly that of each object."""
        others = [i for i in self._terms.items(said.object, PRODUCT) if _is_label(i)]
        named = [i.key for i in dict.fromkeys([*items, *others]) if _is_label(i)]
        case = Case.of(self._terms.world, sources=named)
        return {
            item: all_of([self._against(case, item, o) for o in others if o != item])
            if _is_label(item) and any(o != item for o in others)
            else Judged(False)
            for item in items
        }

    def _against(self, case: Case, item: Item, other: Item) -> Judged:
        one, two = self._lines(item), self._lines(other)
        both = [each for each in one if each in two]
        unread = self._unread(item) + self._unread(other)
        every = len({*one, *two})
        least = Fraction(len(both), every + unread) if every else Fraction(0)
        most = Fraction(len(both) + unread, every + unread) if every else Fraction(0)
        ordered = _in_order(both, two) >= IN_ORDER
        rows = tuple(
            Member(
                case,
                Item(INGREDIENT, each),
                (LISTED, (product_symbol(item.key), each)),
            )
            for each in both
        )
        if most < SHARED or not ordered:
            return Judged(False, rows)
        return Judged(True if least >= SHARED else None, rows)

    def _lines(self, item: Item) -> list[str]:
        readings = self._terms.world.read(item.key).readings
        return list(dict.fromkeys(str(r.symbol) for r in readings if r.symbol))

    def _unread(self, item: Item) -> int:
        readings = self._terms.world.read(item.key).readings
        return sum(reading.symbol is None for reading in readings)


def _is_label(item: Item) -> bool:
    return item.kind == PRODUCT and item.key != WATER


def _in_order(both: Sequence[str], other: Sequence[str]) -> Fraction:
    """Which share of the pairs of one order stands so in the other too."""
    place = {each: at for at, each in enumerate(other)}
    pairs = [place[a] < place[b] for a, b in combinations(both, 2)]
    return Fraction(sum(pairs), len(pairs)) if pairs else Fraction(1)
