"""Values in the places of variables, for code that follows rules by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from typing import TypeAlias

from abluent.engine.logic import terms
from abluent.engine.logic.clauses import (
    Anything,
    Argument,
    Atom,
    Expression,
    Literal,
    Operation,
    Variable,
)
from abluent.engine.logic.safety import needed_variables
from abluent.engine.logic.terms import Term

Binding: TypeAlias = dict[str, Term]
"""The values of variables, by name."""


def next_literal(left: Sequence[Literal], binding: Mapping[str, Term]) -> int:
    """The condition to look at next: what is ready, else the best known atom."""

    def dear(place: int) -> tuple[int, int]:
        literal = left[place]
        loose = sum(name not in binding for name in needed_variables(literal))
        if not isinstance(literal, Atom):
            return (2 if loose else 0), place
        bound = [known(each, binding) is not None for each in literal.args]
        return 1, bound.count(False) - 100 * any(bound)

    return min(range(len(left)), key=dear)


def known(argument: Argument, binding: Mapping[str, Term]) -> Term | None:
    """The value of an argument, `None` where it is open."""
    if isinstance(argument, Variable):
        return binding.get(argument.name)
    return None if isinstance(argument, Anything) else argument


def unified(
    args: Sequence[Argument],
    row: Sequence[Term | None],
    binding: Mapping[str, Term] | None = None,
) -> Binding | None:
    """The binding that makes an atom agree with a row, where the row is known."""
    found = dict(binding or {})
    for argument, term in zip(args, row, strict=True):
        if term is None or isinstance(argument, Anything):
            continue
        if isinstance(argument, Variable):
            if found.setdefault(argument.name, term) != term:
                return None
        elif argument != term:
            return None
    return found


def value_of(expression: Expression, binding: Mapping[str, Term]) -> Term:
    """The value of an expression whose variables are bound.

    Raises:
        TypeError: it does arithmetic on a symbol.
        ZeroDivisionError: it divides by what is, or may be, zero.
    """
    if isinstance(expression, Variable):
        return binding[expression.name]
    if not isinstance(expression, Operation):
        return expression
    first, *rest = (value_of(each, binding) for each in expression.operands)
    if not rest:
        return terms.negate(first) if expression.operator == "-" else first
    return reduce(terms.OPERATIONS[expression.operator], rest, first)


def folded(function: str, values: Sequence[Term]) -> Term | None:
    """The value of a collection over the first terms of its members."""
    if function == "count":
        return len(values)
    if function == "sum":
        nothing: Term = 0
        return reduce(terms.add, values, nothing)
    return reduce(terms.OPERATIONS[function], values) if values else None
