"""The fewest sources whose withdrawal would turn an answer round.

Withdrawing a source takes away every fact and rule that cites nothing else. An
answer can go because its support goes, and it can appear because what stood against
it goes; both are found, by trying.

The search branches over the sources that can touch the current proof. Any set that
turns the answer must contain one of them, so the first size at which an answer turns
is the smallest there is.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from abluent.engine.clauses import Absence, Literal
from abluent.engine.clauses import Collection as Collected
from abluent.engine.knowledge import Knowledge
from abluent.engine.proofs import Proof
from abluent.engine.slices import Pattern, facts_below

Sources = frozenset[str]


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """Which sources an answer hangs on.

    Args:
        goal: what was asked, `None` being any term.
        held: whether it holds while nothing is withdrawn.
        sets: the smallest sets that turn it round, each sorted; empty if none does.
        exact: whether all sets up to that size were tried; else there may be
            smaller ones, or more.
    """

    goal: Pattern
    held: bool
    sets: tuple[tuple[str, ...], ...]
    exact: bool


def fewest_sources(
    knowledge: Knowledge,
    goal: Pattern,
    spared: Collection[str] = (),
    trials: int = 200,
) -> Withdrawal:
    """The smallest sets of sources without which the answer is the opposite.

    Args:
        knowledge: the rules and facts.
        goal: what was asked.
        spared: sources that are never withdrawn, such as conventions.
        trials: how many sets to try; when they are used up the result is not
            `exact`.
    """
    held = knowledge.holds(goal)
    found: list[Sources] = []
    waiting: deque[Sources] = deque([frozenset()])
    seen: set[Sources] = {frozenset()}
    while waiting:
        gone = waiting.popleft()
        if found and len(gone) > len(found[0]):
            break
        if not trials:
            return _result(goal, held, found, exact=False)
        trials -= 1
        left = knowledge.without_sources(gone) if gone else knowledge
        if left.holds(goal) != held:
            found.append(gone)
            continue
        for name in sorted(_touching(left, left.proof(goal)) - gone):
            wider = gone | {name}
            if name not in spared and wider not in seen:
                seen.add(wider)
                waiting.append(wider)
    return _result(goal, held, found, exact=True)


def _result(goal: Pattern, held: bool, found: list[Sources], exact: bool) -> Withdrawal:
    sets = sorted(tuple(sorted(each)) for each in found)
    return Withdrawal(goal, held, tuple(sets), exact)


def _touching(knowledge: Knowledge, proof: Proof) -> Sources:
    """The sources that may matter to a proof: its own, and those behind absences."""
    found = set(proof.sources)
    for absence in proof.absences:
        pattern = (absence.predicate, absence.pattern)
        denied = _denied_below(knowledge, absence.predicate)
        if denied:
            for fact in facts_below(knowledge.model, [pattern]):
                if fact.predicate in denied:
                    found.update(fact.basis.sources)
            for rule in knowledge.program.rules:
                if rule.head.predicate in denied:
                    found.update(rule.sources)
    return frozenset(found)


def _denied_below(knowledge: Knowledge, predicate: str) -> set[str]:
    """The predicates whose loss could make a fact of a predicate appear."""
    seen: set[tuple[str, bool]] = set()
    waiting = [(predicate, False)]
    while waiting:
        step = waiting.pop()
        if step not in seen:
            seen.add(step)
            name, denied = step
            for rule in knowledge.program.concluding(name):
                waiting.extend(_looked_at(rule.body, denied))
    return {name for name, denied in seen if denied}


def _looked_at(body: tuple[Literal, ...], denied: bool) -> Iterator[tuple[str, bool]]:
    """The predicates of a body, and whether they count against what it concludes."""
    for literal in body:
        if isinstance(literal, Absence):
            yield literal.atom.predicate, not denied
        elif isinstance(literal, Collected):
            # A value may rise or fall with its members, so they count both ways.
            for name, _ in _looked_at(literal.body, denied):
                yield from ((name, True), (name, False))
        elif hasattr(literal, "predicate"):
            yield literal.predicate, denied
