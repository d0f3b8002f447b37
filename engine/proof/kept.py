"""Proofs found before, as plain data that outlives a run.

What follows from a base alone has the same proofs whatever is asked. Each *goal* that
was asked for is kept with how its best proof stands and the name of its node; the nodes
lie beside it, packed one by one, and are made when a proof comes to them.
"""

from __future__ import annotations

import marshal
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Any, NamedTuple, TypeAlias

from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    ComparisonNode,
    ComputationNode,
    FactNode,
    Ground,
    Member,
    Node,
    RuleNode,
)

_KINDS: tuple[Any, ...] = (
    FactNode,
    RuleNode,
    AbsenceNode,
    ComparisonNode,
    ComputationNode,
    CollectionNode,
)
_MOST = 4000
"""So many goals are kept; each is some ten nodes, most of them shared."""

Measure: TypeAlias = tuple[int, int, int]
"""How low a proof stands, its length, and the numbers in it, as proofs are ordered."""


class Found(NamedTuple):
    """How the best proof of a goal stands, and its node."""

    measure: Measure
    key: str


class KeptProofs:
    """The proofs of one model's goals; can be kept as plain data.

    Args:
        program: the rules of the model.
    """

    def __init__(self, program: Program) -> None:
        self._rules = program.rules
        self._found: dict[Any, tuple[Measure, str]] = {}
        self._nodes: dict[str, bytes] = {}
        self.grown = False

    def find(self, goal: Ground) -> Found | None:
        """How the best proof of a goal stands, if it was kept."""
        found = self._found.get(to_plain(goal)) if self._found else None
        return None if found is None else Found(*found)

    def node(self, key: str) -> Node | None:
        """The node of a name, if it was kept."""
        packed = self._nodes.get(key)
        if packed is None:
            return None
        kind, rule, *fields = marshal.loads(packed)
        parts = [from_plain(each) for each in fields]
        if kind == 0:
            predicate, args, basis = parts
            parts = [Fact(predicate, args, Basis(*basis))]
        elif rule >= 0:
            parts.insert(0, self._rules[rule])
        elif kind == _KINDS.index(CollectionNode):
            parts[-1] = tuple(Member(*each) for each in parts[-1])
        node: Node = _KINDS[kind](*parts, key)
        return node

    def add(self, goal: Ground, found: Found, nodes: Iterable[Node]) -> None:
        """Keep a goal with every node of its proof, while there is room."""
        if len(self._found) >= _MOST:
            return
        numbers = self._numbers
        self._found[to_plain(goal)] = (found.measure, found.key)
        for node in nodes:
            if node.key not in self._nodes:
                self._nodes[node.key] = marshal.dumps(_plain(node, numbers))
        self.grown = True

    @cached_property
    def _numbers(self) -> Mapping[int, int]:
        return {id(rule): at for at, rule in enumerate(self._rules)}

    def dump(self) -> Any:
        """All that is kept, as tuples, texts and numbers."""
        self.grown = False
        return self._found, self._nodes

    def undump(self, plain: Any) -> None:
        """Take in what `dump` returned for the same rules and facts."""
        self._found, self._nodes = plain


def _plain(node: Node, numbers: Mapping[int, int]) -> tuple[Any, ...]:
    if isinstance(node, FactNode):
        fact = node.fact
        return 0, -1, fact.predicate, to_plain(fact.args), to_plain(tuple(fact.basis))
    if isinstance(node, RuleNode):
        parts = (node.name, node.args, node.bindings, node.premises)
        return 1, numbers[id(node.rule)], *map(to_plain, parts)
    fields: list[Any] = [*node][:-1]
    if isinstance(node, CollectionNode):
        members = tuple(
            (each.terms, each.bindings, each.premises) for each in node.members
        )
        fields[-1] = members
    return _KINDS.index(type(node)), -1, *map(to_plain, fields)
