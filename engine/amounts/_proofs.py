"""Proofs that no composition a label allows exceeds a bound, and ones that reach it.

The proof goes by cases on where the 1 % line stands. In each case the rows in force
are added up with weights that are not negative; the sum says what is to be proven,
or says that no composition is possible in that case. One sum serves for all
positions at which its rows hold, so few cases are needed.

That the bound is exact is shown by a composition. Where the bound is only
approached, there are two: one that keeps every row, and one on the border that has
the value itself; the straight way from the first to the second keeps every row.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from math import lcm
from typing import Any, NamedTuple

from abluent.engine.amounts._program import Grid, Optimum, Programs
from abluent.engine.amounts._rows import Item, LineRule, Row, chain
from abluent.engine.amounts._simplex import Pair


class ProofCase(NamedTuple):
    """One case: the line at the positions `first` to `last`, and weights of rows."""

    first: int
    last: int
    weights: Mapping[str, Fraction]


class Certificate(NamedTuple):
    """That a form of the levels has a greatest value, with everything to check it.

    Args:
        items: the places of the label.
        rule: how the list ends.
        rows: every row.
        form: the form, by index of item.
        bound: its greatest value; `None` if no composition is possible at all.
        approached: whether the value is approached and not reached.
        cases: the proof.
        line: the position of the line in the compositions.
        inside: a composition that keeps every row.
        border: one that has the value, where `inside` has not.
    """

    items: tuple[Item, ...]
    rule: LineRule
    rows: tuple[Row, ...]
    form: Mapping[int, Fraction]
    bound: Fraction | None
    approached: bool
    cases: tuple[ProofCase, ...]
    line: int = 0
    inside: tuple[Fraction, ...] = ()
    border: tuple[Fraction, ...] = ()

    @property
    def used(self) -> list[Row]:
        """The rows that the proof rests on, each once, as they first come up."""
        names = dict.fromkeys(name for case in self.cases for name in case.weights)
        by_name = {row.name: row for row in self.rows}
        return [by_name[name] for name in names]

    def as_data(self) -> dict[str, Any]:
        """The proof in plain values, which `proof.bounds` takes.

        Items, rows, form and value are left out: a checker knows them otherwise.
        """
        cases = [
            {
                "first": case.first,
                "last": case.last,
                "weights": {n: str(w) for n, w in sorted(case.weights.items())},
            }
            for case in self.cases
        ]
        inside, border = map(self._by_place, (self.inside, self.border))
        return {"cases": cases, "line": self.line, "inside": inside, "border": border}

    def _by_place(self, levels: Iterable[Fraction]) -> dict[str, str]:
        pairs = zip(self.items, levels, strict=False)
        return {str(item.place): str(level) for item, level in pairs}


def prove(
    items: Sequence[Item],
    rule: LineRule,
    rows: Sequence[Row],
    form: Mapping[int, Fraction],
) -> Certificate:
    """The greatest value that a form of the levels can have, with its proof.

    Every position of the line is in some case, and the greatest of the values found
    is greatest of all: at a position that was not solved, the case that covers it
    proves that nothing greater than its own value is possible there either.
    """
    order = chain(items)
    programs = Programs(Grid(rows, order, len(items)), form)
    by_name = {row.name: row for row in rows}
    cases: list[ProofCase] = []
    best: Optimum | None = None
    best_line = 0
    pending = _positions(order, form)
    while pending:
        line = pending[0]
        found = programs.at(line)
        case = _case(found, by_name, len(order))
        cases.append(case)
        pending = [at for at in pending if not case.first <= at <= case.last]
        if found.value is not None and (
            best is None or best.value is None or found.value > best.value
        ):
            best, best_line = found, line
    frame = (tuple(items), rule, tuple(rows), form)
    if best is None or best.value is None:
        return Certificate(*frame, None, False, tuple(cases))
    value, approached = best.value[0], best.value[1] != 0
    in_force = [row for row in rows if row.holds_at(best_line)]
    inside = _inside(best.levels, in_force)
    border = tuple(level for level, _ in best.levels) if approached else ()
    return Certificate(
        *frame, value, approached, tuple(cases), best_line, inside, border
    )


class Ground:
    """What is asked for values alone: the rows of a label, and what follows of them.

    Args:
        items: the items of the label.
        rows: its rows.
    """

    def __init__(self, items: Sequence[Item], rows: Sequence[Row]) -> None:
        self._order, self._size, self._rows = chain(items), len(items), rows

    @cached_property
    def _grid(self) -> Grid:
        return Grid(self._rows, self._order, self._size)

    @cached_property
    def _held(self) -> Mapping[str, tuple[int, int]]:
        return {row.name: (row.first, row.last) for row in self._rows}

    def greatest(self, form: Mapping[int, Fraction]) -> tuple[Fraction, bool] | None:
        """The bound that `prove` proves, and whether it is only approached."""
        programs = Programs(self._grid, form)
        best: Pair | None = None
        pending = _positions(self._order, form)
        while pending:
            found = programs.reached(pending[0])
            held = [self._held[name] for name in found.used]
            first = max((each[0] for each in held), default=0)
            last = min((each[1] for each in held), default=len(self._order))
            pending = [at for at in pending if not first <= at <= last]
            if found.value is not None and (best is None or found.value > best):
                best = found.value
        return None if best is None else (best[0], best[1] != 0)

    @property
    def fits(self) -> bool:
        """Whether there is a composition at all."""
        programs = Programs(self._grid, {})
        positions = _positions(self._order, {})
        return any(programs.reached(at).value is not None for at in positions)


def _positions(order: Sequence[int], form: Mapping[int, Fraction]) -> list[int]:
    """The positions of the line, the likeliest to prove much first."""
    near = [number for number, at in enumerate(order, start=1) if at in form]
    ends = [0, len(order)]
    rest = range(len(order) + 1)
    return list(dict.fromkeys([*near, *(at - 1 for at in near), *ends, *rest]))


def _case(found: Optimum, rows: Mapping[str, Row], last: int) -> ProofCase:
    used = [rows[name] for name in found.weights]
    return ProofCase(
        max((row.first for row in used), default=0),
        min((row.last for row in used), default=last),
        found.weights,
    )


def _inside(levels: Iterable[Pair], rows: Sequence[Row]) -> tuple[Fraction, ...]:
    """The composition with a number for the infinitesimal, small enough to keep all."""
    pairs = list(levels)
    for halvings in range(0, 512, 4):
        small = Fraction(1, 1 << halvings)
        tried = tuple(level + small * more if more else level for level, more in pairs)
        whole = lcm(*(level.denominator for level in tried))
        parts = [level.numerator * (whole // level.denominator) for level in tried]
        if all(_keeps(parts, whole, row) for row in rows):
            return tried
    raise AssertionError("a composition with an infinitesimal keeps its rows near it")


def _keeps(parts: Sequence[int], whole: int, row: Row) -> bool:
    """Whether levels, as numerators over one denominator, keep a row."""
    total: int | Fraction = 0
    for at, share in row.terms.items():
        exact = share.numerator if share.denominator == 1 else share
        total += exact * parts[at]
    total *= row.bound.denominator
    bound = row.bound.numerator * whole
    return total < bound if row.strict else total <= bound
