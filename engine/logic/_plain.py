"""Clauses as plain data and back, for storage without a parser.

A clause becomes a tuple of a number, which stands for its class, and its fields;
a tuple becomes one that starts with 0. Everything else is already plain.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from abluent.engine.logic import clauses
from abluent.engine.logic._strata import Component
from abluent.engine.logic.terms import Interval

_CLASSES: tuple[Any, ...] = (
    tuple,
    Fraction,
    clauses.Anything,
    Interval,
    clauses.Variable,
    clauses.Operation,
    clauses.Atom,
    clauses.Absence,
    clauses.Comparison,
    clauses.Assignment,
    clauses.Collection,
    clauses.Place,
    clauses.Rule,
    clauses.Declaration,
    Component,
)
_NUMBERS = {each: number for number, each in enumerate(_CLASSES)}


def to_plain(value: Any) -> Any:
    """A clause, or a tuple of them, as nested tuples."""
    number = _NUMBERS.get(type(value))
    if number is None:
        return value
    if number == 0:
        return (0, *map(to_plain, value))
    if number == 1:
        return (1, value.numerator, value.denominator)
    if number == 2:
        return (2,)
    return (number, *map(to_plain, value))


def from_plain(data: Any) -> Any:
    """The value that `to_plain` was given."""
    if type(data) is not tuple:
        return data
    number = data[0]
    parts = [from_plain(each) if type(each) is tuple else each for each in data[1:]]
    return tuple(parts) if number == 0 else _CLASSES[number](*parts)
