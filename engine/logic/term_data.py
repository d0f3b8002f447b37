"""Clauses as plain data and back, for storage without a parser.

A clause becomes a tuple of a number, which stands for its class, and its fields;
a tuple becomes one that starts with 0. Everything else is already plain.

What holds many clauses is *packed*: a list of all plain values, and a list of all
others, each as a number and the places of its parts in both lists together. Parts that
are alike are one, so that a cold start makes every variable once.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any, TypeAlias

from abluent.engine.logic import clauses
from abluent.engine.logic.strata import Component
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


Packed: TypeAlias = tuple[list[Any], list[tuple[int, ...]]]


def pack(value: Any) -> Packed:
    """A clause, or a tuple of them, with every part once.

    The depth of the recursion is that of the text of one rule.
    """
    values: dict[tuple[type, Any], int] = {}
    nodes: dict[tuple[int, ...], int] = {}
    # The places of nodes are counted from the other end until all values are known.
    whole = _enter(value, values, nodes)
    base = len(values)
    placed = [
        (kind, *(part if part >= 0 else base - 1 - part for part in parts))
        for kind, *parts in nodes
    ]
    assert whole < 0, "only clauses and tuples are packed"
    return [value for _, value in values], placed


def _enter(
    value: Any, values: dict[tuple[type, Any], int], nodes: dict[tuple[int, ...], int]
) -> int:
    number = _NUMBERS.get(type(value))
    if number is None:
        return values.setdefault((type(value), value), len(values))
    parts: Iterable[Any] = value if number > 2 or number == 0 else ()
    if number == 1:
        parts = (value.numerator, value.denominator)
    node = (number, *(_enter(part, values, nodes) for part in parts))
    return nodes.setdefault(node, -1 - len(nodes))


def unpack(packed: Packed) -> Any:
    """The value that `pack` was given."""
    values, nodes = packed
    found = [*values]
    for number, *parts in nodes:
        made = [found[part] for part in parts]
        found.append(_CLASSES[number](*made) if number else tuple(made))
    return found[-1]
