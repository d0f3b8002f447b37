"""A small exact solver: the greatest value of a linear form under linear rows.

Maximise `c . x` subject to `A x <= b` and `x >= 0`, in rational numbers, by the
simplex method in two phases. The first phase is that of one artificial variable, and
Bland's rule (the candidate of least number enters and leaves) excludes cycling:
see Chvátal, Linear Programming, 1983. The tableau holds whole numbers over one
common denominator, so that a step divides without remainder (the integer pivoting of
Edmonds and Bareiss).

A right side is a pair `a + b*e` with an infinitesimal `e > 0`, so that a strict row
is one whose `b` is -1. Pairs are ordered by `a` and then by `b`. Since only right
sides carry `e`, it takes one more column and no other change. Callers bring rows and
forms to whole numbers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias

# `a + b*e`
Pair: TypeAlias = tuple[Fraction, Fraction]
ZERO: Pair = (Fraction(0), Fraction(0))


class Constraint(NamedTuple):
    """`sum(terms[j] * x[j]) <= bound`."""

    terms: Mapping[int, int]
    bound: tuple[int, int]


class Solution(NamedTuple):
    """The end of a search.

    Args:
        value: the greatest value; `None` if no `x` meets the rows.
        point: an `x` that has it.
        weights: one number for each row, none negative; the weighted sum of the rows
            shows that nothing greater is possible, or that the rows contradict.
        shares: the same for each `x >= 0`.
    """

    value: Pair | None
    point: tuple[Pair, ...]
    weights: tuple[Fraction, ...]
    shares: tuple[Fraction, ...]


class Tableau:
    """The rows in force, in a form from which several objectives can be tried.

    Args:
        rows: the rows.
        size: the number of variables.
    """

    def __init__(self, rows: Sequence[Constraint], size: int) -> None:
        self._size = size
        self._rows = [_entries(row, size) for row in rows]
        # Variables are numbered: those given, then one slack of every row, then the
        # artificial one. A row of the tableau belongs to the variable in `basis`, a
        # column to that in `outside`; the last two columns are the right side.
        self._outside = list(range(size))
        self._basis = [size + number for number in range(len(rows))]
        self._denominator = 1
        self._top: list[int] = []
        self._failed: Solution | None = None
        if any(row[-2:] < [0, 0] for row in self._rows):
            self._find_start()

    @property
    def contradiction(self) -> Solution | None:
        """The proof that the rows contradict, if they do."""
        return self._failed

    def maximise(self, form: Mapping[int, int]) -> Solution:
        """The greatest value of a form; the form must be bounded by the rows."""
        if self._failed is not None:
            return self._failed
        self._top = self._priced(form)
        self._climb()
        return self._solution()

    def reach(
        self, form: Mapping[int, int]
    ) -> tuple[Pair | None, list[int], list[int]]:
        """The greatest value of a form, and which rows and signs show it.

        The numbers of `Solution`, as far as they are not nought; the value is `None`
        if no `x` meets the rows.
        """
        if self._failed is None:
            self._top = self._priced(form)
            self._climb()
            value = self._pair(self._top)
            shown = [v for at, v in enumerate(self._outside) if self._top[at]]
            last = self._size + len(self._rows)
            rows = [v - self._size for v in shown if self._size <= v < last]
            return value, rows, [v for v in shown if v < self._size]
        weights, shares = self._failed.weights, self._failed.shares
        return (
            None,
            [at for at, weight in enumerate(weights) if weight],
            [at for at, share in enumerate(shares) if share],
        )

    # -- the two phases -------------------------------------------------------

    def _find_start(self) -> None:
        """Phase one: lift all rows by an artificial variable, then bring it down."""
        artificial = self._size + len(self._rows)
        for entries in self._rows:
            entries.insert(len(self._outside), -1)
        self._outside.append(artificial)
        self._top = [0] * (len(self._outside) + 2)
        self._top[len(self._outside) - 1] = 1
        worst = min(range(len(self._rows)), key=lambda at: self._rows[at][-2:])
        self._pivot(worst, len(self._outside) - 1)
        self._climb()
        if self._top[-2:] < [0, 0]:
            self._failed = self._solution(failed=True)
            return
        if artificial in self._basis:
            row = self._basis.index(artificial)
            entries = self._rows[row][: len(self._outside)]
            column = next(at for at, entry in enumerate(entries) if entry)
            self._pivot(row, column)
        column = self._outside.index(artificial)
        del self._outside[column]
        for each in self._rows:
            del each[column]

    def _priced(self, form: Mapping[int, int]) -> list[int]:
        """The form as a row, in terms of the variables that are now outside."""
        top = [0] * (len(self._outside) + 2)
        for at, variable in enumerate(self._outside):
            top[at] = -form.get(variable, 0) * self._denominator
        for variable, row in zip(self._basis, self._rows, strict=True):
            factor = form.get(variable, 0)
            if factor:
                top = [a + factor * b for a, b in zip(top, row, strict=True)]
        return top

    def _climb(self) -> None:
        while True:
            better = [at for at in range(len(self._outside)) if self._top[at] < 0]
            if not better:
                return
            column = min(better, key=self._outside.__getitem__)
            self._pivot(self._leaving(column), column)

    def _leaving(self, column: int) -> int:
        """The row that first stops the growth of the variable of a column."""
        found = -1
        for at, row in enumerate(self._rows):
            if row[column] > 0 and (found < 0 or self._stops_first(at, found, column)):
                found = at
        assert found >= 0, "levels are at most 100, so every form of them is bounded"
        return found

    def _stops_first(self, one: int, other: int, column: int) -> bool:
        a, b = self._rows[one], self._rows[other]
        for side in (-2, -1):
            left, right = a[side] * b[column], b[side] * a[column]
            if left != right:
                return left < right
        return self._basis[one] < self._basis[other]

    def _pivot(self, row: int, column: int) -> None:
        """Exchange the variable of a row with that of a column."""
        old, chosen = self._denominator, self._rows[row]
        # The common denominator stays positive: turn the row if its pivot is not.
        sign = 1 if chosen[column] > 0 else -1
        chosen = [sign * entry for entry in chosen]
        for at, other in enumerate(self._rows):
            if at != row:
                self._rows[at] = _cleared(other, chosen, column, old)
                self._rows[at][column] *= sign
        self._top = _cleared(self._top, chosen, column, old)
        self._top[column] *= sign
        self._denominator = chosen[column]
        chosen[column] = sign * old
        self._rows[row] = chosen
        entering, leaving = self._outside[column], self._basis[row]
        self._outside[column], self._basis[row] = leaving, entering

    # -- reading the result ---------------------------------------------------

    def _solution(self, *, failed: bool = False) -> Solution:
        weights = [Fraction(0)] * len(self._rows)
        shares = [Fraction(0)] * self._size
        for at, variable in enumerate(self._outside):
            price = Fraction(self._top[at], self._denominator)
            if variable < self._size:
                shares[variable] = price
            elif variable < self._size + len(self._rows):
                weights[variable - self._size] = price
        value = None if failed else self._pair(self._top)
        point = () if failed else tuple(self._point())
        return Solution(value, point, tuple(weights), tuple(shares))

    def _point(self) -> list[Pair]:
        point = [ZERO] * self._size
        for variable, row in zip(self._basis, self._rows, strict=True):
            if variable < self._size:
                point[variable] = self._pair(row)
        return point

    def _pair(self, row: Sequence[int]) -> Pair:
        side, infinitesimal = row[-2:]
        return (
            Fraction(side, self._denominator),
            Fraction(infinitesimal, self._denominator),
        )


def _cleared(
    row: Sequence[int], chosen: Sequence[int], column: int, old: int
) -> list[int]:
    """A row after the variable of `column` was put in terms of the chosen row."""
    factor, pivot = row[column], chosen[column]
    new = [(a * pivot - factor * b) // old for a, b in zip(row, chosen, strict=True)]
    new[column] = -factor
    return new


def _entries(row: Constraint, size: int) -> list[int]:
    entries = [row.terms.get(at, 0) for at in range(size)]
    return [*entries, *row.bound]
