"""Conditions of the syntax tree as clauses, and walks through syntax trees."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from abluent.engine.logic.clauses import (
    ANYTHING,
    Absence,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Variable,
)
from abluent.engine.logic.terms import Interval, interval
from abluent.grammar.common.errors import Span
from abluent.grammar.rules import tree as ast


def translate(
    conditions: Sequence[ast.Condition], outer: Iterable[str]
) -> tuple[Literal, ...]:
    """Compile a conjunction; `outer` are the variables of what stands around it."""
    return tuple(
        _literal(
            condition,
            set(outer).union(
                *(_outside(each) for each in conditions if each is not condition)
            ),
        )
        for condition in conditions
    )


def _outside(condition: ast.Condition) -> set[str]:
    """The variables a condition shows to its neighbours."""
    if isinstance(condition, ast.Collection):
        return {condition.variable.name}
    return mentioned(condition)


def _literal(condition: ast.Condition, outside: set[str]) -> Literal:
    if isinstance(condition, ast.Atom):
        return translate_atom(condition)
    if isinstance(condition, ast.Absence):
        return Absence(translate_atom(condition.atom))
    if isinstance(condition, ast.Comparison):
        left, right = _expression(condition.left), _expression(condition.right)
        return Comparison(condition.operator, left, right, condition.perhaps)
    if isinstance(condition, ast.Assignment):
        variable = Variable(condition.variable.name)
        return Assignment(variable, _expression(condition.expression))
    inside = mentioned(condition.conditions) | mentioned(condition.terms)
    return Collection(
        Variable(condition.variable.name),
        condition.function,
        tuple(map(_argument, condition.terms)),
        translate(condition.conditions, outside),
        tuple(sorted(inside & outside)),
    )


def translate_atom(atom: ast.Atom) -> Atom:
    """One atom, as a condition or as a head."""
    return Atom(atom.predicate, tuple(map(_argument, atom.args)))


def _argument(term: ast.TermNode) -> Argument:
    if isinstance(term, ast.Variable):
        return Variable(term.name)
    return ANYTHING if isinstance(term, ast.Anything) else _value(term)


def _expression(expression: ast.Expression) -> Expression:
    if isinstance(expression, ast.Variable):
        return Variable(expression.name)
    if isinstance(expression, ast.Constant):
        return _value(expression)
    return Operation(expression.operator, tuple(map(_expression, expression.operands)))


def _value(constant: ast.Constant) -> str | int | Fraction | Interval:
    value = constant.value
    if isinstance(value, ast.Range):
        return interval(value.low, value.high, value.low_open, value.high_open)
    return value


def mentioned(tree: object) -> set[str]:
    """The names of all variables in a tree, or in a tuple of trees."""
    return {node.name for node in ast.nodes(tree) if isinstance(node, ast.Variable)}


def place_of(tree: object, name: str) -> Span | None:
    """The first place of a variable of this name, or of `_`, in a tree."""
    for node in ast.nodes(tree):
        if isinstance(node, ast.Variable) and node.name == name:
            return node.span
        if isinstance(node, ast.Anything) and name == "_":
            return node.span
    return None
