"""The nodes of a proof.

    FactNode          asserted, on a basis
    RuleNode          a rule instance, resting on one node per condition
    AbsenceNode       no fact agrees with a pattern; so also an exception not met
    ComparisonNode    a comparison that holds, with both values
    ComputationNode   a value that was worked out
    CollectionNode    a count, sum, minimum or maximum, with every member

A node is named by the hash of its content, which holds the names of the nodes it
rests on: equal reasoning has one name everywhere, and a circle cannot be written.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeAlias, TypeVar, cast

from abluent.engine.logic.clauses import (
    Collection,
    Expression,
    Operation,
    Rule,
    Variable,
)
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.encode import (
    Json,
    atom_json,
    collection_json,
    digest,
    expression_json,
    fact_json,
    term_json,
)

Ground: TypeAlias = tuple[str, tuple[Term, ...]]
"""A fact without its basis: the predicate and its terms."""

Bindings: TypeAlias = tuple[tuple[str, Term], ...]


class FactNode(NamedTuple):
    """An asserted fact."""

    fact: Fact
    key: str = ""

    @property
    def premises(self) -> tuple[str, ...]:
        """None: an assertion is where a chain ends."""
        return ()


class RuleNode(NamedTuple):
    """A conclusion of a rule, with one premise for each of its conditions.

    `name` is that of the rule in a trace, which tells the heads of a block apart.
    """

    rule: Rule
    name: str
    args: tuple[Term, ...]
    bindings: Bindings
    premises: tuple[str, ...]
    key: str = ""


class AbsenceNode(NamedTuple):
    """That the base holds no fact of a pattern; `None` stands for any term.

    `form` is `not`, `unless` or `exception`, as the rule puts it.
    """

    predicate: str
    pattern: tuple[Term | None, ...]
    form: str
    key: str = ""

    @property
    def premises(self) -> tuple[str, ...]:
        """None: the predicate is finished, and nothing of it agrees."""
        return ()


class ComparisonNode(NamedTuple):
    """A comparison of two values that holds, or with `perhaps` may hold."""

    operator: str
    left: Term
    right: Term
    perhaps: bool
    key: str = ""

    @property
    def premises(self) -> tuple[str, ...]:
        """None: anyone can compare two values."""
        return ()


class ComputationNode(NamedTuple):
    """A value and the arithmetic, on values only, that gives it."""

    expression: Expression
    value: Term
    key: str = ""

    @property
    def premises(self) -> tuple[str, ...]:
        """None: anyone can do the arithmetic."""
        return ()


class Member(NamedTuple):
    """One member of a collection, and one node per condition that it meets."""

    terms: tuple[Term, ...]
    bindings: Bindings
    premises: tuple[str, ...]


class CollectionNode(NamedTuple):
    """A count, sum, minimum or maximum over every member of a group."""

    condition: Collection
    groups: Bindings
    value: Term
    members: tuple[Member, ...]
    key: str = ""

    @property
    def premises(self) -> tuple[str, ...]:
        """Those of all members."""
        return tuple(key for each in self.members for key in each.premises)


Node: TypeAlias = (
    FactNode
    | RuleNode
    | AbsenceNode
    | ComparisonNode
    | ComputationNode
    | CollectionNode
)
_N = TypeVar("_N", bound=Node)
_LENGTH = 16
"""How much of the digest names a node: 64 bits."""


def named(node: _N) -> _N:
    """The node with the key that its content gives it."""
    return cast(_N, node._replace(key=digest(node_json(node))[:_LENGTH]))


def node_json(node: Node) -> Json:
    """The content of a node, of which its key is the digest."""
    if isinstance(node, FactNode):
        return {"kind": "fact", **fact_json(node.fact)}
    if isinstance(node, RuleNode):
        return {
            "kind": "rule",
            "rule": node.name,
            "bind": _bindings_json(node.bindings),
            "atom": atom_json(node.rule.head.predicate, node.args),
            "premises": list(node.premises),
        }
    if isinstance(node, AbsenceNode):
        atom = atom_json(node.predicate, node.pattern)
        return {"kind": "absent", "atom": atom, "form": node.form}
    if isinstance(node, ComparisonNode):
        return {
            "kind": "compare",
            "op": node.operator,
            "left": term_json(node.left),
            "right": term_json(node.right),
            "perhaps": node.perhaps,
        }
    if isinstance(node, ComputationNode):
        expression = expression_json(node.expression)
        return {"kind": "compute", "expr": expression, "result": term_json(node.value)}
    return _collection_content(node)


def _collection_content(node: CollectionNode) -> Json:
    function, terms, body, groups = collection_json(node.condition, dict(node.groups))
    members = [
        {"bind": _bindings_json(each.bindings), "premises": list(each.premises)}
        for each in node.members
    ]
    return {
        "kind": "collect",
        "function": function,
        "terms": terms,
        "body": body,
        "groups": groups,
        "members": members,
        "result": term_json(node.value),
    }


def _bindings_json(bindings: Bindings) -> Json:
    return {name: term_json(term) for name, term in bindings}


def ground(expression: Expression, binding: Mapping[str, Term]) -> Expression:
    """An expression with values in the place of its variables."""
    if isinstance(expression, Variable):
        return binding[expression.name]
    if not isinstance(expression, Operation):
        return expression
    parts = tuple(ground(each, binding) for each in expression.operands)
    return Operation(expression.operator, parts)
