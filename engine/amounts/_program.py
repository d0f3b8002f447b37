"""The rows of a label at one position of the line, as a small linear program.

The order is built in: the level of an item above the line is that of the last one
there plus the steps `d >= 0` from each item to the one before it, so that no order
needs a row of its own. Items outside the order that no row and no objective tells
apart are one variable, their sum; the sum of boxes is the box of the sums, so this
loses nothing. What is left is a handful of rows for a label of any length.

The weights of a solution are turned back into weights of the rows of the label,
where a step that is not negative is a row `order`, and so on. Everything is counted
in whole numbers on a grid until the result is read off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import lcm
from typing import NamedTuple, TypeAlias

from abluent.engine.amounts._rows import MINUS, ONE, Row
from abluent.engine.amounts._simplex import Constraint, Pair, Solution, Tableau

# `a + b*e` with an infinitesimal `e`, in whole units of a grid.
Whole: TypeAlias = tuple[int, int]
# What a constraint of the program stands for: weights of rows of the label.
Named: TypeAlias = Mapping[str, Fraction]


class Optimum(NamedTuple):
    """The greatest value of a form at one position of the line.

    Args:
        value: the value, with its infinitesimal; `None` where the rows contradict.
        levels: a composition that has it, by index of item.
        weights: the weighted sum of rows that proves it, by name of row.
    """

    value: Pair | None
    levels: tuple[Pair, ...]
    weights: Mapping[str, Fraction]


class Reached(NamedTuple):
    """The greatest value of a form at one position of the line, without its levels.

    Args:
        value: the value, with its infinitesimal; `None` where the rows contradict.
        used: the names of the rows that prove it.
    """

    value: Pair | None
    used: Collection[str]


class Grid:
    """The rows of one label in whole numbers, whatever is asked of them.

    Args:
        rows: the rows of the label.
        order: the indices of the items whose order counts.
        size: the number of items.
    """

    def __init__(self, rows: Sequence[Row], order: Sequence[int], size: int) -> None:
        self.order, self.size = order, size
        levels = {row.level.denominator for row in rows if row.single}
        self.unit = lcm(*levels, *{row.bound.denominator for row in rows})
        self.low: dict[int, _Box] = {}
        self.high: dict[int, _Box] = {}
        self.above: dict[int, _Box] = {}
        self.below: dict[int, _Box] = {}
        self.steps: dict[tuple[int, ...], Named] = {}
        self.shared: list[_Shared] = []
        for row in rows:
            self._take(row)

    def _take(self, row: Row) -> None:
        if row.single:
            self._take_single(row)
        elif row.name.startswith("order "):
            self.steps[tuple(row.terms)] = {row.name: ONE}
        else:
            scale = lcm(*(share.denominator for share in row.terms.values()))
            terms = {at: int(share * scale) for at, share in row.terms.items()}
            bound = (int(row.bound * scale * self.unit), -int(row.strict))
            self.shared.append(_Shared(terms, bound, {row.name: Fraction(scale)}))

    def _take_single(self, row: Row) -> None:
        """Keep the tightest row on each side of each item."""
        ((at, coefficient),) = row.terms.items()
        plain = coefficient is ONE or coefficient is MINUS
        named = {row.name: ONE if plain else 1 / abs(coefficient)}
        exact = row.level
        level = exact.numerator * (self.unit // exact.denominator)
        if coefficient is ONE or coefficient > 0:
            boxes = self.below if row.name.startswith("below ") else self.high
            box = _Box((level, -int(row.strict)), named)
            if at not in boxes or box.level < boxes[at].level:
                boxes[at] = box
        else:
            boxes = self.above if row.name.startswith("above ") else self.low
            box = _Box((level, int(row.strict)), named)
            if at not in boxes or box.level > boxes[at].level:
                boxes[at] = box


class _Box(NamedTuple):
    """One side of the box of an item, and the row that sets it."""

    level: Whole
    named: Named


class _Shared(NamedTuple):
    """A row on several items, in whole numbers."""

    terms: Mapping[int, int]
    bound: Whole
    named: Named


class Programs:
    """The programs of one label and one form, at every position of the line.

    Args:
        grid: the rows of the label.
        form: the coefficient of every item that counts.
    """

    def __init__(self, grid: Grid, form: Mapping[int, Fraction]) -> None:
        self.grid = grid
        self.factor = lcm(*(c.denominator for c in form.values()), 1)
        self.form = {at: int(c * self.factor) for at, c in form.items()}

    def at(self, line: int) -> Optimum:
        """The greatest value of the form with the line at a position."""
        return _Program(self, line)()

    def reached(self, line: int) -> Reached:
        """The same without a composition that has it."""
        return _Program(self, line).reached()


class _Program:
    """The program at one position of the line."""

    def __init__(self, asked: Programs, line: int) -> None:
        self._form, self._factor = asked.form, asked.factor
        given = self._given = asked.grid
        self._upper = given.order[:line]
        self._low, self._high = dict(given.low), dict(given.high)
        for at in self._upper:
            if given.above[at].level > self._low[at].level:
                self._low[at] = given.above[at]
        for at in given.order[line:]:
            if given.below[at].level < self._high[at].level:
                self._high[at] = given.below[at]
        self._sums = self._told_apart()

    def __call__(self) -> Optimum:
        empty = self._empty_box()
        if empty:
            return Optimum(None, (), empty)
        weighed, tableau = self._laid_out()
        terms, constant = self._expressed(self._form)
        solution = tableau.contradiction or tableau.maximise(terms)
        weights = self._weights(solution, [named for _, named in weighed])
        if solution.value is None:
            return Optimum(None, (), weights)
        value = self._scaled(solution.value, constant)
        return Optimum(value, self._levels(solution.point), weights)

    def reached(self) -> Reached:
        """The value, without a composition that has it."""
        empty = self._empty_box()
        if empty:
            return Reached(None, empty)
        weighed, tableau = self._laid_out()
        terms, constant = self._expressed(self._form)
        value, rows, signs = tableau.reach(terms)
        used = dict.fromkeys(name for at in rows for name in weighed[at][1])
        if signs:
            named = [*self._signs()]
            used |= dict.fromkeys(name for at in signs for name in named[at])
        return Reached(None if value is None else self._scaled(value, constant), used)

    def _laid_out(self) -> tuple[list[tuple[Constraint, Named]], Tableau]:
        weighed = [*self._shared(), *self._boxes(), *self._rooms()]
        size = len(self._upper) + len(self._sums)
        return weighed, Tableau([constraint for constraint, _ in weighed], size)

    def _scaled(self, value: Pair, constant: Whole) -> Pair:
        below = self._given.unit * self._factor
        return (value[0] + constant[0]) / below, (value[1] + constant[1]) / below

    def _empty_box(self) -> dict[str, Fraction]:
        """Two rows that exclude every level of some item; empty if there are none.

        A sum of boxes says nothing of a single one, so these are looked for first.
        """
        for at, low in self._low.items():
            high = self._high[at]
            if low.level > high.level:
                return {**low.named, **high.named}
        return {}

    def _told_apart(self) -> list[list[int]]:
        """The items outside the order, those together that nothing tells apart."""
        alike: dict[tuple[int | None, ...], list[int]] = defaultdict(list)
        above = set(self._upper)
        for at in range(self._given.size):
            if at not in above:
                key = [row.terms.get(at) for row in self._given.shared]
                alike[(self._form.get(at), *key)].append(at)
        return list(alike.values())

    # -- from items to variables ------------------------------------------------

    def _expressed(self, form: Mapping[int, int]) -> tuple[dict[int, int], Whole]:
        """A form of the levels in the variables, and its constant."""
        terms: dict[int, int] = {}
        level = infinitesimal = running = 0
        for step, at in enumerate(self._upper):
            running += form.get(at, 0)
            if running:
                terms[step] = running
        if self._upper and running:
            base = self._low[self._upper[-1]].level
            level, infinitesimal = running * base[0], running * base[1]
        for number, members in enumerate(self._sums, start=len(self._upper)):
            coefficient = form.get(members[0])
            if coefficient:
                terms[number] = coefficient
                for at in members:
                    base = self._low[at].level
                    level += coefficient * base[0]
                    infinitesimal += coefficient * base[1]
        return terms, (level, infinitesimal)

    def _constraint(self, form: Mapping[int, int], bound: Whole) -> Constraint:
        terms, constant = self._expressed(form)
        return Constraint(terms, (bound[0] - constant[0], bound[1] - constant[1]))

    def _shared(self) -> Iterator[tuple[Constraint, Named]]:
        for row in self._given.shared:
            yield self._constraint(row.terms, row.bound), row.named

    def _boxes(self) -> Iterator[tuple[Constraint, Named]]:
        """Boxes in the order, where they say more than those of their neighbours."""
        tightest: Whole | None = None
        for at in self._upper:
            box = self._high[at]
            if tightest is None or box.level < tightest:
                tightest = box.level
                yield self._constraint({at: 1}, box.level), box.named
        tightest = None
        for at in reversed(self._upper):
            box = self._low[at]
            if tightest is None or box.level > tightest:
                if tightest is not None:
                    bound = (-box.level[0], -box.level[1])
                    yield self._constraint({at: -1}, bound), box.named
                tightest = box.level

    def _rooms(self) -> Iterator[tuple[Constraint, Named]]:
        """How far the sum of some items can rise."""
        for number, members in enumerate(self._sums, start=len(self._upper)):
            level = infinitesimal = 0
            named: dict[str, Fraction] = {}
            for at in members:
                low, high = self._low[at].level, self._high[at].level
                level += high[0] - low[0]
                infinitesimal += high[1] - low[1]
                named |= self._high[at].named
            yield Constraint({number: 1}, (level, infinitesimal)), named

    # -- and back ----------------------------------------------------------------

    def _weights(
        self, solution: Solution, named: Sequence[Named]
    ) -> dict[str, Fraction]:
        weights: dict[str, Fraction] = defaultdict(Fraction)
        for numbers, names in (
            (solution.weights, named),
            (solution.shares, [*self._signs()]),
        ):
            for number, each in zip(numbers, names, strict=True):
                if number:
                    for name, factor in each.items():
                        weights[name] += number * factor / self._factor
        return dict(weights)

    def _signs(self) -> Iterator[Named]:
        """For every variable, the rows that say it is not negative."""
        for before, at in pairwise(self._upper):
            yield self._given.steps[at, before]
        if self._upper:
            yield self._low[self._upper[-1]].named
        for members in self._sums:
            named: dict[str, Fraction] = {}
            for at in members:
                named |= self._low[at].named
            yield named

    def _levels(self, point: Sequence[Pair]) -> tuple[Pair, ...]:
        levels: dict[int, tuple[Fraction | int, Fraction | int]] = {}
        if self._upper:
            level: tuple[Fraction | int, Fraction | int]
            level = self._low[self._upper[-1]].level
            for step in reversed(range(len(self._upper))):
                level = (level[0] + point[step][0], level[1] + point[step][1])
                levels[self._upper[step]] = level
        for number, members in enumerate(self._sums, start=len(self._upper)):
            left: tuple[Fraction | int, Fraction | int] = point[number]
            for at in members:
                low, high = self._low[at].level, self._high[at].level
                taken = min(left, (high[0] - low[0], high[1] - low[1]))
                levels[at] = (low[0] + taken[0], low[1] + taken[1])
                left = (left[0] - taken[0], left[1] - taken[1])
        unit = self._given.unit
        pairs = [levels[at] for at in range(self._given.size)]
        return tuple((Fraction(a) / unit, Fraction(b) / unit) for a, b in pairs)
