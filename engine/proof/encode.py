"""Terms, rules and proof nodes as JSON data, in the one form that is hashed.

The forms are described in `checker`, which reads them with code of its own.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, TypeAlias

from abluent.engine.logic import clauses as c
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Interval, Term

Json: TypeAlias = Any


_ENCODER = json.JSONEncoder(sort_keys=True, separators=(",", ":"))


def canonical(data: Json) -> str:
    """The one JSON text of some data."""
    return _ENCODER.encode(data)


def digest(data: Json) -> str:
    """The SHA-256 of the canonical JSON text, in hexadecimal."""
    return hashlib.sha256(canonical(data).encode()).hexdigest()


def term_json(term: Term | c.Variable | c.Anything | None) -> Json:
    """A value, a variable, or null for "anything"."""
    if isinstance(term, str):
        return term
    if term is None or isinstance(term, c.Anything):
        return None
    if isinstance(term, c.Variable):
        return {"v": term.name}
    if isinstance(term, Interval):
        low = None if term.low is None else str(term.low)
        high = None if term.high is None else str(term.high)
        ends = f"{'(' if term.low_open else '['}{')' if term.high_open else ']'}"
        return {"i": [low, high, ends]}
    return {"n": str(term)}


def term_from(data: Json) -> Term:
    """The value that `term_json` was given, for values only."""
    if isinstance(data, str):
        return data
    ((tag, body),) = data.items()
    if tag == "n":
        return _number(body)
    low, high, ends = body
    return Interval(
        None if low is None else _number(low),
        None if high is None else _number(high),
        ends[0] == "(",
        ends[1] == ")",
    )


def _number(text: str) -> int | Fraction:
    return Fraction(text) if "/" in text else int(text)


def atom_json(predicate: str, args: tuple[Any, ...]) -> Json:
    """An atom: the predicate and its terms in one list."""
    return [predicate, *map(term_json, args)]


def expression_json(
    expression: c.Expression, binding: Mapping[str, Term] | None = None
) -> Json:
    """An expression, with values in the place of the variables that are bound."""
    if isinstance(expression, c.Operation):
        parts = [expression_json(each, binding) for each in expression.operands]
        return {"op": expression.operator, "of": parts}
    if isinstance(expression, c.Variable) and binding and expression.name in binding:
        return term_json(binding[expression.name])
    return term_json(expression)


def literal_json(literal: c.Literal, binding: Mapping[str, Term] | None = None) -> Json:
    """A condition, with values in the place of the variables that are bound."""
    given = binding or {}
    if isinstance(literal, c.Atom):
        return ["is", _atom(literal, given)]
    if isinstance(literal, c.Absence):
        return ["not", _atom(literal.atom, given), literal.form]
    if isinstance(literal, c.Comparison):
        sides = [expression_json(each, given) for each in (literal.left, literal.right)]
        return ["compare", literal.operator, *sides, literal.perhaps]
    if isinstance(literal, c.Assignment):
        parts = (literal.variable, literal.expression)
        return ["let", *(expression_json(each, given) for each in parts)]
    return [
        "collect",
        expression_json(literal.variable, given),
        *collection_json(literal, given),
    ]


def collection_json(literal: c.Collection, binding: Mapping[str, Term]) -> list[Json]:
    """A collection but for its variable: function, terms, conditions, groups."""
    inner = {name: binding[name] for name in literal.groups if name in binding}
    return [
        literal.function,
        [_argument(each, inner) for each in literal.terms],
        [literal_json(each, inner) for each in literal.body],
        [_argument(c.Variable(name), inner) for name in literal.groups],
    ]


def _atom(atom: c.Atom, binding: Mapping[str, Term]) -> Json:
    return [atom.predicate, *(_argument(each, binding) for each in atom.args)]


def _argument(argument: Any, binding: Mapping[str, Term]) -> Json:
    if isinstance(argument, c.Variable) and argument.name in binding:
        return term_json(binding[argument.name])
    return term_json(argument)


def basis_json(basis: Basis | c.Rule) -> dict[str, Json]:
    """The standing and sources of a fact or a rule."""
    return {
        "standing": basis.standing,
        "memory": basis.from_memory,
        "sources": list(basis.sources),
    }


def fact_json(fact: Fact) -> dict[str, Json]:
    """An asserted fact with its basis and its origin."""
    return {
        "atom": atom_json(fact.predicate, fact.args),
        **basis_json(fact.basis),
        "origin": fact.basis.origin,
    }


def fact_from(data: Json) -> Fact:
    """The fact that `fact_json` was given."""
    predicate, *args = data["atom"]
    basis = (data["standing"], tuple(data["sources"]), data["memory"], data["origin"])
    return Fact(predicate, tuple(map(term_from, args)), Basis(*basis))


def rule_json(rule: c.Rule) -> dict[str, Json]:
    """A rule as data, without its place in a file."""
    return {
        "head": _atom(rule.head, {}),
        "body": [literal_json(each) for each in rule.body],
        "says": rule.says,
        "exception": rule.target,
        **basis_json(rule),
    }


def rule_names(program: Program) -> dict[tuple[str, c.Atom], str]:
    """The name in a trace of every rule, by its id and head.

    A block with several heads makes several rules of one id; those after the first
    get a number.
    """
    found: dict[tuple[str, c.Atom], str] = {}
    seen: dict[str, int] = {}
    for rule in program.rules:
        if (rule.id, rule.head) not in found:
            count = seen[rule.id] = seen.get(rule.id, 0) + 1
            found[rule.id, rule.head] = (
                rule.id if count == 1 else f"{rule.id} ({count})"
            )
    return found
