"""Judging by what labels list, and how much of it: `contain I`, `contain I above 1 %`.

A name that was not understood may be what is asked about, so that what the others
leave undecided is open. A level is true where every level that the label allows is
so, false where none is, and open where some are; the row of an open one is the level
itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from fractions import Fraction

from abluent.engine.base.contract import (
    ASKS_BETWEEN,
    ASKS_LEVEL,
    LEVEL,
    LEVEL_ABOVE,
    LEVEL_AT,
    LEVEL_AT_LEAST,
    LEVEL_AT_MOST,
    LEVEL_BELOW,
    LEVEL_WITHIN,
    LINE,
    LISTED,
)
from abluent.engine.base.phrases import product_symbol
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Interval, Number, Quantity, Term, number
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.origins import QUESTION
from abluent.engine.questions.answers.answer import Member
from abluent.engine.questions.verbs.judgement import Judged, Judgements, enough
from abluent.engine.questions.verbs.places import Places
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_ASKED = Basis(origin=QUESTION)
_GRADES = "coversGrade"
"""The property that ties a name to the grades it may stand for."""


class Contents:
    """What labels list and how much of it, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms

    def contains(self, items: Sequence[Item], said: q.Contains) -> Judgements:
        """Whether labels list enough of what was asked for."""
        if said.level is not None:
            return self._at_level(items, said, said.level)
        if said.place is not None:
            return Places(self._terms).at_place(items, said, said.place)
        products = [i.key for i in items if i.kind == PRODUCT and i.key != WATER]
        case = Case.of(self._terms.world, sources=products)
        wanted = self._terms.wanted(said.object)
        found = {}
        for item in items:
            product = item.kind == PRODUCT
            there = self._terms.nouns.on_label(item) if product else set()
            hit = self._terms.listed(item, said.object) if product else []
            goals = [(LISTED, (product_symbol(item.key), each)) for each in hit]
            rows = tuple(
                Member(case, Item(INGREDIENT, goal[1][1]), goal)
                for goal in goals
                if item.key != WATER
            )
            least = enough(said, len(hit), None)
            maybe = self._unread(item) + self._by_grade(there - {*hit}, wanted)
            most = enough(said, len(hit) + maybe, None)
            found[item] = Judged(least if least == most else None, rows)
        return found

    def _by_grade(self, names: Set[str], wanted: Set[str] | None) -> int:
        """How many names may stand for what was asked for, as a grade of theirs is."""
        base = self._terms.world.base
        listed = [base.record(each) for each in names if each in base]
        grades = [record.links(_GRADES) for record in listed]
        return sum(not (wanted or set()).isdisjoint(each) for each in grades)

    def _unread(self, item: Item) -> int:
        """How many names of a label were not understood; each may be anything."""
        if item.key not in self._terms.world.products:
            return 0
        readings = self._terms.world.read(item.key).readings
        return sum(reading.symbol is None for reading in readings)

    def _at_level(
        self, items: Sequence[Item], said: q.Contains, level: q.Level
    ) -> Judgements:
        """Whether labels list enough of what was asked for at such a level."""
        hits = {item: self._hits(item, said) for item in items}
        case = self._case(hits, level)
        found = {}
        for item, symbols in hits.items():
            parts = [_weighed(case, item, symbol, level) for symbol in symbols]
            sure = sum(part.truth is True for part in parts)
            perhaps = sum(part.truth is None for part in parts)
            least = enough(said, sure, len(parts))
            most = enough(said, sure + perhaps, len(parts))
            truth = least if least == most else None
            telling = [part for part in parts if part.truth is truth] or parts
            rows = tuple(row for part in telling for row in part.rows)
            found[item] = Judged(truth, rows)
        return found

    def _hits(self, item: Item, said: q.Contains) -> list[str]:
        """What was asked for and stands on the label of a product."""
        if item.kind != PRODUCT or item.key == WATER:
            return []
        return self._terms.listed(item, said.object)

    def _case(self, hits: dict[Item, list[str]], level: q.Level) -> Case:
        world = self._terms.world
        weighed = [item.key for item, symbols in hits.items() if symbols]
        levels = [
            fact
            for item, symbols in hits.items()
            if symbols
            for fact in world.amounts.levels(item.key, symbols)
        ]
        return Case.of(world, sources=weighed, more=[*_asked(level), *levels])


def _asked(level: q.Level) -> Iterator[Fact]:
    """What the question is about, for the rules."""
    ends = _ends(level)
    for end in dict.fromkeys(ends):
        yield Fact(ASKS_LEVEL, (end,), _ASKED)
    if len(set(ends)) == 2:
        yield Fact(ASKS_BETWEEN, tuple(ends), _ASKED)


def _ends(level: q.Level) -> list[Number]:
    found = [level.low, level.high]
    return [number(Fraction(end)) for end in found if end is not None]


def _goals(level: q.Level, terms: tuple[Term, ...]) -> tuple[Ground, list[Ground]]:
    """What must follow for a level, and each thing that excludes it."""
    ends = _ends(level)
    if len(ends) == 2:
        low, high = ends
        apart = [(LEVEL_BELOW, (*terms, low)), (LEVEL_ABOVE, (*terms, high))]
        if low == high:
            return (LEVEL_AT, (*terms, low)), apart
        return (LEVEL_WITHIN, (*terms, low, high)), apart
    found = (*terms, ends[0])
    if level.low is None:
        so, other = (LEVEL_AT_MOST, LEVEL_ABOVE)
        if level.open_ended:
            so, other = (LEVEL_BELOW, LEVEL_AT_LEAST)
    else:
        so, other = (LEVEL_AT_LEAST, LEVEL_BELOW)
        if level.open_ended:
            so, other = (LEVEL_ABOVE, LEVEL_AT_MOST)
    return (so, found), [(other, found)]


def _weighed(case: Case, item: Item, symbol: str, level: q.Level) -> Judged:
    """Whether one ingredient of a label is at such a level."""
    product, thing = product_symbol(item.key), Item(INGREDIENT, symbol)
    so, excluded = _goals(level, (product, symbol))
    for truth, goals in ((True, [so]), (False, excluded)):
        for goal in goals:
            if case.model.holds(*goal):
                return Judged(truth, (Member(case, thing, goal),))
    places = [n for _, n, _ in case.model.match(LINE, (product, None, symbol))]
    levels = [
        row for n in places for row in case.model.match(LEVEL, (product, n, None))
    ]
    rows = sorted(levels, key=lambda row: width(row[-1]))[:1]
    return Judged(None, tuple(Member(case, thing, (LEVEL, row)) for row in rows))


def width(term: Term) -> Fraction:
    """How much an interval of per cents leaves open."""
    level: Quantity = term if not isinstance(term, str) else 0
    if not isinstance(level, Interval):
        return Fraction(0)
    return Fraction(100 if level.high is None else level.high) - (level.low or 0)
