"""Rules whose constant expressions are worked out."""

from __future__ import annotations

from functools import reduce

from abluent.engine.logic.clauses import (
    Assignment,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
)
from abluent.engine.logic.terms import OPERATIONS, add, negate
from abluent.engine.relational.errors import Untranslatable


def folded(rule: Rule) -> Rule:
    """A rule in which no operation is on constants alone.

    Raises:
        Untranslatable: one of them has no value.
    """
    try:
        return rule._replace(body=tuple(map(_literal, rule.body)))
    except (TypeError, ZeroDivisionError) as error:
        raise Untranslatable(rule.id, str(error)) from error


def _literal(literal: Literal) -> Literal:
    if isinstance(literal, Comparison):
        left, right = _folded(literal.left), _folded(literal.right)
        return literal._replace(left=left, right=right)
    if isinstance(literal, Assignment):
        return literal._replace(expression=_folded(literal.expression))
    if isinstance(literal, Collection):
        return literal._replace(body=tuple(map(_literal, literal.body)))
    return literal


def _folded(expression: Expression) -> Expression:
    if not isinstance(expression, Operation):
        return expression
    operands = tuple(map(_folded, expression.operands))
    if any(isinstance(each, Operation | Variable) for each in operands):
        return Operation(expression.operator, operands)
    terms = [each for each in operands if not isinstance(each, Operation | Variable)]
    if len(terms) == 1:
        return negate(terms[0]) if expression.operator == "-" else add(terms[0], 0)
    return reduce(OPERATIONS[expression.operator], terms)
