"""Values in the places of variables, for code that follows rules by hand.

Each use of a rule gets variables of its own, so that its values are not mixed up with
those of whoever uses it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from typing import TypeAlias

from abluent.engine.logic import terms
from abluent.engine.logic.clauses import (
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
)
from abluent.engine.logic.terms import Term

Binding: TypeAlias = dict[str, Term]
"""The values of variables, by name."""


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


# -- rules made ready ---------------------------------------------------------------


def used(
    rule: Rule, args: Sequence[Argument], number: int
) -> tuple[list[Literal], Binding] | None:
    """The body of a rule that is to conclude some terms.

    Args:
        rule: the rule.
        args: what its head is to be; open places are variables of the caller.
        number: which use of a rule this is; it tells the variables apart.

    Returns:
        The body, and the values that the head fixes, also for variables of the
        caller; `None` if the head cannot be that.
    """
    own = _Renaming(number)
    body = [own.literal(each) for each in rule.body]
    bound: Binding = {}
    for argument, wanted in zip(rule.head.args, args, strict=True):
        inside = own.argument(argument)
        if isinstance(wanted, Variable) and isinstance(inside, Variable):
            body.append(Assignment(wanted, inside))
            continue
        if not _agree(inside, wanted, bound):
            return None
    return body, bound


def _agree(inside: Argument, wanted: Argument, bound: Binding) -> bool:
    """Make two arguments agree, at most one of which is a variable."""
    variable, term = inside, wanted
    if not isinstance(variable, Variable):
        variable, term = wanted, inside
    if isinstance(term, Variable | Anything):
        return True
    if isinstance(variable, Variable):
        return bound.setdefault(variable.name, term) == term
    return isinstance(variable, Anything) or variable == term


class _Renaming:
    """Gives the variables of one use of a rule names of their own."""

    def __init__(self, number: int) -> None:
        self._mark = f"#{number}"

    def _variable(self, variable: Variable) -> Variable:
        return Variable(variable.name + self._mark)

    def argument(self, argument: Argument) -> Argument:
        return self._variable(argument) if isinstance(argument, Variable) else argument

    def expression(self, expression: Expression) -> Expression:
        if isinstance(expression, Variable):
            return self._variable(expression)
        if isinstance(expression, Operation):
            parts = tuple(map(self.expression, expression.operands))
            return Operation(expression.operator, parts)
        return expression

    def _atom(self, atom: Atom) -> Atom:
        return Atom(atom.predicate, tuple(map(self.argument, atom.args)))

    def literal(self, literal: Literal) -> Literal:
        if isinstance(literal, Atom):
            return self._atom(literal)
        if isinstance(literal, Absence):
            return Absence(self._atom(literal.atom), literal.form)
        if isinstance(literal, Comparison):
            left, right = map(self.expression, (literal.left, literal.right))
            return literal._replace(left=left, right=right)
        variable = self._variable(literal.variable)
        if isinstance(literal, Assignment):
            return Assignment(variable, self.expression(literal.expression))
        return Collection(
            variable,
            literal.function,
            tuple(map(self.argument, literal.terms)),
            tuple(map(self.literal, literal.body)),
            tuple(name + self._mark for name in literal.groups),
        )
