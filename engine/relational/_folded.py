"""Rules made plainer: constants worked out, and no name for what is looked at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator
from functools import reduce

from abluent.engine.logic.clauses import (
    ANYTHING,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
    literal_variables,
)
from abluent.engine.logic.terms import OPERATIONS, add, negate
from abluent.engine.relational.errors import Untranslatable


def folded(rule: Rule) -> Rule:
    """A rule in which no operation is on constants alone, and every name counts.

    A variable that stands in one place only is as good as `_` there.

    Raises:
        Untranslatable: an operation on constants has no value.
    """
    try:
        body = tuple(map(_literal, rule.body))
    except (TypeError, ZeroDivisionError) as error:
        raise Untranslatable(rule.id, str(error)) from error
    often = Counter(_names((rule.head, *body)))
    single = {name for name, times in often.items() if times == 1}
    return rule._replace(body=tuple(_unnamed(literal, single) for literal in body))


def _names(literals: Iterable[Literal]) -> Iterator[str]:
    """Every occurrence of a variable, those inside collections too."""
    for literal in literals:
        yield from literal_variables(literal)
        if isinstance(literal, Collection):
            yield from (t.name for t in literal.terms if isinstance(t, Variable))
            yield from _names(literal.body)


def _unnamed(literal: Literal, single: Container[str]) -> Literal:
    if isinstance(literal, Atom):
        args = tuple(
            ANYTHING if isinstance(a, Variable) and a.name in single else a
            for a in literal.args
        )
        return literal._replace(args=args)
    if isinstance(literal, Collection):
        body = tuple(_unnamed(each, single) for each in literal.body)
        return literal._replace(body=body)
    return literal


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
