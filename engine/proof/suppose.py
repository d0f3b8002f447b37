"""What would follow otherwise: a supposition answered as a difference.

The facts that appear and those that go are given for the predicates asked about,
each with the proof that it has, or had, and the steps in which the two bases part.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from abluent.engine.logic.facts import Fact
from abluent.engine.proof.cone import member_instances
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    FactNode,
    Ground,
    Node,
    RuleNode,
)
from abluent.engine.proof.proofs import Proof


@dataclass(frozen=True, slots=True)
class Turn:
    """A step of a proof that holds on one side only.

    Args:
        node: an assertion, an absence or a collection that the other side does not
            have as it is.
        against: for an absence, the proof on the other side of what is present there.
    """

    node: Node
    against: Proof | None = None


@dataclass(frozen=True, slots=True)
class Gain:
    """A fact that follows on one side only.

    Args:
        goal: the fact.
        proof: its proof on the side where it follows.
        turns: the steps of that proof that the other side does not have.
    """

    goal: Ground
    proof: Proof
    turns: tuple[Turn, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """What follows after a change and not before, and the other way round."""

    gained: tuple[Gain, ...]
    lost: tuple[Gain, ...]

    def __bool__(self) -> bool:
        return bool(self.gained or self.lost)


def suppose(
    knowledge: Knowledge,
    added: Iterable[Fact] = (),
    removed: Collection[Ground] = (),
    predicates: Iterable[str] = (),
) -> Difference:
    """What a supposition changes; to replace a fact, remove one and add another.

    Args:
        knowledge: the rules and facts as they are.
        added: facts supposed to hold.
        removed: facts supposed not to be asserted, whoever asserts them.
        predicates: what is asked about; by default everything that rules conclude.
    """
    return difference(knowledge, knowledge.but(added, removed), predicates)


def difference(
    before: Knowledge, after: Knowledge, predicates: Iterable[str] = ()
) -> Difference:
    """What follows from one base and not from another.

    Args:
        before: the one.
        after: the other.
        predicates: what is asked about; by default everything that rules conclude
            but exceptions, which count through what they stop.
    """
    asked = tuple(predicates) or _concluded(before, after)
    return Difference(
        tuple(_only(after, before, asked)), tuple(_only(before, after, asked))
    )


def _concluded(*sides: Knowledge) -> tuple[str, ...]:
    rules = [rule for side in sides for rule in side.program.rules]
    shown = [r.head.predicate for r in rules if not (r.target or r.generated)]
    return tuple(dict.fromkeys(shown))


def _only(
    here: Knowledge, there: Knowledge, predicates: Iterable[str]
) -> Iterator[Gain]:
    for predicate in predicates:
        rows = here.all_rows(predicate) - there.all_rows(predicate)
        for row in sorted(rows, key=repr):
            proof = here.prover.prove(*row)
            yield Gain(row, proof, tuple(turns(proof, there)))


def turns(proof: Proof, there: Knowledge) -> Iterator[Turn]:
    """The steps of a proof at which another base does not follow it."""
    for node in proof.nodes.values():
        if isinstance(node, AbsenceNode):
            rows = there.rows(node.predicate, node.pattern)
            if rows:
                yield Turn(node, there.prover.prove(*min(rows, key=repr)))
        elif _is_gone(node, there):
            yield Turn(node)


def _is_gone(node: Node, there: Knowledge) -> bool:
    """Whether another base lacks an assertion, a rule, or collects something else."""
    if isinstance(node, FactNode):
        return not there.model.asserted(node.fact.predicate, node.fact.args)
    if isinstance(node, RuleNode):
        return not there.has_rule(node.rule)
    if not isinstance(node, CollectionNode):
        return False
    found = member_instances(there.model, node.condition, dict(node.groups))
    return {each.args for each in found} != {each.terms for each in node.members}
