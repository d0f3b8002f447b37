"""Whether a fact still follows without some of the steps that its proof takes.

Whatever has a proof that touches none of them stands; only the rest is tried in
every other way, so that little of the cone is ever read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from abluent.engine.logic.instances import Instance
from abluent.engine.logic.terms import Term
from abluent.engine.proof.cone import Membership, Point
from abluent.engine.proof.nodes import FactNode, Ground, Node, RuleNode
from abluent.engine.proof.proofs import Prover


def stands_without(
    prover: Prover,
    predicate: str,
    args: Sequence[Term],
    nodes: Iterable[Node],
) -> bool:
    """Whether a fact follows without what some nodes of its proof assert.

    That is an asserted fact, or a rule as it is applied there; absences are as they
    are.

    Args:
        prover: of the model.
        predicate: the predicate of the fact.
        args: its terms.
        nodes: the nodes.
    """
    return _Without(prover, nodes).holds((predicate, tuple(args)))


class _Without:
    """What follows once some facts and steps are gone."""

    def __init__(self, prover: Prover, nodes: Iterable[Node]) -> None:
        self._prover = prover
        self._facts: set[Ground] = set()
        self._steps: set[tuple[str, tuple[Term, ...]]] = set()
        for node in nodes:
            if isinstance(node, FactNode):
                self._facts.add((node.fact.predicate, node.fact.args))
            elif isinstance(node, RuleNode):
                self._steps.add((node.name, node.args))
        self._touched: dict[str, bool] = {}

    def holds(self, goal: Ground) -> bool:
        """Whether a fact still follows."""
        ways: list[tuple[Point, set[Point]]] = []
        holding: set[Point] = set()
        seen: set[Point] = {goal}
        waiting: list[Point] = [goal]
        while waiting:
            point = waiting.pop()
            if self._is_untouched(point):
                holding.add(point)
                continue
            for needed in self._other_ways(point):
                ways.append((point, needed))
                waiting += needed - seen
                seen |= needed
        return goal in _closed(holding, ways)

    def _other_ways(self, point: Point) -> list[set[Point]]:
        """What each way to a point requires, of those that are left."""
        reading = self._prover.cone.reading(point)
        found = [
            set(needed)
            for instance, needed in zip(reading.instances, reading.needed, strict=True)
            if not self._is_gone(point, instance)
        ]
        if reading.facts and point not in self._facts:
            found.append(set())
        return found

    def _is_gone(self, point: Point, instance: Instance) -> bool:
        if isinstance(point, Membership):
            return False
        name = self._prover.names[instance.rule.id, instance.rule.head]
        return (name, instance.args) in self._steps

    def _is_untouched(self, point: Point) -> bool:
        """Whether the best proof of a point takes none of what is gone."""
        return not any(map(self._touches, self._prover.resting_on(point)))

    def _touches(self, root: str) -> bool:
        touched, waiting = self._touched, [root]
        while waiting:
            key = waiting[-1]
            node = self._prover.node(key)
            below = [each for each in node.premises if each not in touched]
            if key in touched or not below:
                waiting.pop()
                touched[key] = self._takes(node) or any(map(touched.get, node.premises))
            else:
                waiting += below
        return touched[root]

    def _takes(self, node: Node) -> bool:
        if isinstance(node, FactNode):
            return (node.fact.predicate, node.fact.args) in self._facts
        return isinstance(node, RuleNode) and (node.name, node.args) in self._steps


def _closed(holding: set[Point], ways: list[tuple[Point, set[Point]]]) -> set[Point]:
    """All that follows by some ways from what holds."""
    left = ways
    while True:
        more = {point for point, needed in left if needed <= holding}
        if more <= holding:
            return holding
        holding |= more
        left = [way for way in left if way[0] not in holding]
