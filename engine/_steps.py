"""The steps of a plan: each turns a batch of bindings into the next batch.

A binding is a row of numbers, one for every constant and variable bound so far.
Working on whole batches keeps the interpreter's cost per step, not per binding:
what happens to one binding happens inside a comprehension or a built-in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import reduce
from typing import Any, Protocol, TypeAlias

from abluent.engine._relation import Reading, Relation, Row, chooser, picker
from abluent.engine._symbols import Symbols
from abluent.engine.clauses import Expression, Operation, Variable
from abluent.engine.errors import EvaluationError
from abluent.engine.terms import (
    COMPARISONS,
    OPERATIONS,
    Quantity,
    Term,
    add,
    maximum,
    minimum,
    negate,
)

Batch: TypeAlias = list[Row]
# Where the value of a name stands in a binding, and the terms it numbers.
Slots: TypeAlias = dict[str, tuple[int, Symbols]]


class Step(Protocol):
    """One step of a plan."""

    def run(self, batch: Batch) -> Batch:
        """The bindings after this step, in no particular order."""


@dataclass(slots=True)
class Join:
    """Extend every binding by the rows that agree with it."""

    relation: Relation
    reading: Reading
    slots: tuple[int, ...]

    def run(self, batch: Batch) -> Batch:
        get, key = self.relation.index(self.reading).get, picker(self.slots)
        return [row + more for row in batch for more in get(key(row), ())]


@dataclass(slots=True)
class Semijoin:
    """Keep the bindings that some row agrees with, or that none does."""

    relation: Relation
    reading: Reading
    slots: tuple[int, ...]
    absent: bool = False

    def run(self, batch: Batch) -> Batch:
        if len(self.slots) == self.relation.arity and not self.reading.same:
            known: Any = self.relation.rows
            key: Callable[[Row], Any] = chooser(self.slots)
        else:
            known, key = self.relation.index(self.reading), picker(self.slots)
        if self.absent:
            return [row for row in batch if key(row) not in known]
        return [row for row in batch if key(row) in known]


@dataclass(slots=True)
class Keep:
    """Drop what no later step looks at, and the repetitions that leaves."""

    slots: tuple[int, ...]

    def run(self, batch: Batch) -> Batch:
        return list(set(map(chooser(self.slots), batch)))


Evaluator: TypeAlias = Callable[[Row], Term]


@dataclass(slots=True)
class Compare:
    """Keep the bindings for which a comparison holds."""

    rule: str
    operator: str
    left: Evaluator
    right: Evaluator
    perhaps: bool

    def run(self, batch: Batch) -> Batch:
        test, left, right = COMPARISONS[self.operator], self.left, self.right
        try:
            if self.perhaps:
                return [
                    row for row in batch if test(left(row), right(row)) is not False
                ]
            return [row for row in batch if test(left(row), right(row))]
        except (TypeError, ZeroDivisionError) as error:
            raise EvaluationError(self.rule, str(error)) from None


@dataclass(slots=True)
class Compute:
    """Extend every binding by the value of an expression."""

    rule: str
    expression: Evaluator
    symbols: Symbols

    def run(self, batch: Batch) -> Batch:
        value, number = self.expression, self.symbols
        try:
            return [(*row, number[value(row)]) for row in batch]
        except (TypeError, ZeroDivisionError) as error:
            raise EvaluationError(self.rule, str(error)) from None


@dataclass(slots=True)
class Same:
    """Keep the bindings whose two last values that were computed apart agree."""

    slot: int
    other: int

    def run(self, batch: Batch) -> Batch:
        slot, other = self.slot, self.other
        return [row for row in batch if row[slot] == row[other]]


@dataclass(slots=True)
class Collect:
    """Extend every binding by the count, sum, minimum or maximum of its group."""

    rule: str
    function: str
    groups: tuple[int, ...]
    plan: Any
    terms: tuple[Symbols, ...]
    symbols: Symbols
    _known: dict[Row, int | None] = field(default_factory=dict)

    def run(self, batch: Batch) -> Batch:
        group = chooser(self.groups)
        found = []
        for row in batch:
            number = self._number(group(row))
            if number is not None:
                found.append((*row, number))
        return found

    def _number(self, group: Row) -> int | None:
        if group not in self._known:
            rows = set(self.plan.run([group]))
            first = self.terms[0].terms
            try:
                value = fold(self.function, [first[row[0]] for row in rows])
            except TypeError as error:
                raise EvaluationError(self.rule, str(error)) from None
            self._known[group] = None if value is None else self.symbols[value]
        return self._known[group]


_FOLDS = {"sum": add, "min": minimum, "max": maximum}


def fold(function: str, values: list[Term]) -> Quantity | None:
    """The value of a collection over the values of its first term.

    Raises:
        TypeError: a sum, minimum or maximum met a symbol.
    """
    if function == "count":
        return len(values)
    if not values and function != "sum":
        return None
    total: Quantity = 0 if function == "sum" else add(values[0], 0)
    operate = _FOLDS[function]
    for value in values:
        total = operate(total, value)
    return total


def evaluator(expression: Expression, slots: Slots) -> Evaluator:
    """A function from a binding to the value of an expression in it."""
    if isinstance(expression, Variable):
        slot, symbols = slots[expression.name]
        terms = symbols.terms
        return lambda row: terms[row[slot]]
    if not isinstance(expression, Operation):
        value = expression
        return lambda row: value
    parts = [evaluator(each, slots) for each in expression.operands]
    if len(parts) == 1:
        (only,) = parts
        if expression.operator == "-":
            return lambda row: negate(only(row))
        return lambda row: add(only(row), 0)
    operate = OPERATIONS[expression.operator]
    return lambda row: reduce(operate, [part(row) for part in parts])
