"""Values inside a plan: expressions, comparisons and collections over bindings."""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from functools import reduce
from typing import Any, TypeAlias

from abluent.engine.logic._bits import Batch, Row
from abluent.engine.logic.clauses import Expression, Operation, Variable
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.terms import (
    COMPARISONS,
    OPERATIONS,
    Quantity,
    Term,
    add,
    maximum,
    minimum,
    negate,
)

# Where the value of a name stands in a binding, and the terms it numbers.
Slots: TypeAlias = dict[str, tuple[int, Symbols]]
Evaluator: TypeAlias = Callable[[Row], Term]

# On plain numbers Python's own comparisons are exact and need no third value.
_PLAIN: dict[str, Callable[[Any, Any], bool]] = {
    "=": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}
_FOLDS = {"sum": add, "min": minimum, "max": maximum}


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


def compare(
    batch: Batch, sign: str, left: Evaluator, right: Evaluator, perhaps: bool
) -> Batch:
    """The bindings for which a comparison is certain, or with `perhaps` possible.

    Raises:
        TypeError: a symbol was ordered against a number.
    """
    test = COMPARISONS[sign]
    if perhaps:
        return [row for row in batch if test(left(row), right(row)) is not False]
    return [row for row in batch if test(left(row), right(row))]


def compare_plain(
    batch: Batch,
    sign: str,
    left: tuple[int, Symbols],
    right: tuple[int, Symbols],
) -> Batch:
    """The same for two variables that hold plain numbers only."""
    test = _PLAIN[sign]
    (first, first_symbols), (second, second_symbols) = left, right
    lows, highs = first_symbols.terms, second_symbols.terms
    return [row for row in batch if test(lows[row[first]], highs[row[second]])]


def is_plain(symbols: Symbols) -> bool:
    """Whether all terms of a sort are numbers, none of them an interval."""
    return all(isinstance(term, int | Fraction) for term in symbols.terms)


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
