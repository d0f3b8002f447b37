"""On which step a verdict turns: among the weakest, the one without which it falls.

The asserted facts of one claim are that claim. Each of the weakest is taken away by
itself, what bounds the film first; if another chain stands without every one of them,
that is said.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from abluent.engine.base.contract import LEAVES, MAY_LEAVE
from abluent.engine.base.roles import Role
from abluent.engine.proof.nodes import FactNode, Node, RuleNode
from abluent.engine.proof.without import stands_without
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.verdicts import ENDS, Verdict

_TRIED = 6
"""So many of the weakest are taken away by themselves."""


class Turning(NamedTuple):
    """The step on which a verdict turns.

    Args:
        words: the step, in words; empty where nothing has a standing.
        alone: whether without it the verdict does not follow; else another chain to
            it stands.
        equals: how many more stand as low.
        bounds: whether it is a claim that sets a bound.
        claim: whether it is a claim or a rule that was taken away, and not only what a
            thing is, or that the film is there.
    """

    words: str
    alone: bool = True
    equals: int = 0
    bounds: bool = False
    claim: bool = True


NOTHING = Turning("")


def turning_of(row: Verdict) -> Turning:
    """The step on which a verdict turns.

    A claim that bounds what is taken comes before a rule or an order, and what only
    says that the film is there comes last.
    """
    words = row.weakest
    if not words:
        return NOTHING
    label = row.case.world.base.label
    bounding, claims = set(map(label, row.bounding)), set(map(label, row.claims))
    there = _left(row)
    steps = [(each, said, nodes) for each in _ends(row) for said, nodes in _weak(each)]
    steps.sort(key=lambda s: (s[1] not in bounding, not _is_rule(s[2])))
    mine = [
        s for s in steps if s[1] not in there and (s[1] in claims or _is_rule(s[2]))
    ]
    for end, said, nodes in mine[:_TRIED]:
        if not stands_without(end.case.prover, *end.goal, nodes):
            return Turning(said, True, len(words) - 1, said in bounding)
    if mine:
        return Turning(mine[0][1], False, len(words) - 1, mine[0][1] in bounding)
    said = next((each for each in words if each not in there), words[0])
    return Turning(said, True, len(words) - 1, claim=False)


def _is_rule(nodes: list[Node]) -> bool:
    return any(isinstance(node, RuleNode) for node in nodes)


def _left(row: Verdict) -> frozenset[str]:
    """The steps in words that only say that a product leaves the film."""
    _, (_, film, product, _) = row.goal
    model = row.case.model
    for predicate in (LEAVES, MAY_LEAVE):
        if row.source and model.holds(predicate, (product, film)):
            found = Explained(row.case, (predicate, (product, film)))
            return frozenset(map(found.weak_step, found.proof.nodes.values()))
    return frozenset()


def _ends(row: Verdict) -> list[Explained]:
    """What of a verdict says something and stands as low as it does."""
    least, most = ENDS[row.role]
    bound = [
        row.at_least if least is not Role.NONE_OF_IT else None,
        row.at_most if most is not Role.ALL_OF_IT else None,
    ]
    found = [end for end in bound if end is not None and end.standing == row.standing]
    return [*found] or [row]


def _weak(row: Explained) -> Iterator[tuple[str, list[Node]]]:
    """The weakest steps in words, each with all that is asserted of it."""
    groups: dict[str, list[Node]] = {}
    for node in row.proof.weakest:
        groups.setdefault(row.weak_step(node), []).append(node)
    for words in row.weakest:
        if words in groups:
            yield words, _of_one_claim(row, groups[words])


def _of_one_claim(row: Explained, nodes: list[Node]) -> list[Node]:
    """Some nodes with all else that a proof rests on of the same claim."""
    claims = {
        n.fact.args[0]
        for n in nodes
        if isinstance(n, FactNode) and n.fact.args[0] in row.claims
    }
    more = (
        n
        for n in row.proof.nodes.values()
        if isinstance(n, FactNode) and n.fact.args[:1] and n.fact.args[0] in claims
    )
    return [*nodes, *more]
