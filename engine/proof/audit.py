"""What in a base does no work, and which answers hang on one source.

unused rules     no facts meet their conditions
idle facts       assertions on which no answer rests, and which stop nothing
fragile answers  they fail as soon as one source is withdrawn
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass

from abluent.engine.logic.clauses import Absence, Literal, Rule
from abluent.engine.logic.clauses import Collection as Collected
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.instances import body_instances
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.slices import rules_below


@dataclass(frozen=True, slots=True)
class Fragile:
    """An answer that one source holds up alone."""

    answer: Ground
    source: str


@dataclass(frozen=True, slots=True)
class Audit:
    """What an audit found; see the module."""

    unused_rules: tuple[Rule, ...]
    idle_facts: tuple[Fact, ...]
    fragile: tuple[Fragile, ...]


def audit(
    knowledge: Knowledge,
    predicates: Collection[str],
    spared: Collection[str] = (),
    progress: Callable[[int, int], None] | None = None,
) -> Audit:
    """Audit a base with a view to some answers.

    Args:
        knowledge: the rules and facts.
        predicates: those of the answers that matter.
        spared: sources that are never withdrawn, such as conventions.
        progress: called with how many sources were tried, and how many there are.
    """
    return Audit(
        tuple(unused_rules(knowledge)),
        tuple(idle_facts(knowledge, predicates)),
        tuple(fragile_answers(knowledge, predicates, spared, progress)),
    )


def unused_rules(knowledge: Knowledge) -> Iterator[Rule]:
    """The rules with no instance, in the order of the program."""
    for rule in knowledge.program.rules:
        if next(body_instances(knowledge.model, rule, {}), None) is None:
            yield rule


def idle_facts(knowledge: Knowledge, predicates: Iterable[str]) -> Iterator[Fact]:
    """The assertions that no proof of an answer uses and that stop no rule.

    A fact stops a rule if it supports something of which a rule on the way to an
    answer requires the absence.
    """
    asked = list(predicates)
    denied = {
        name
        for rule in rules_below(knowledge.program, asked)
        for name in _denied(rule.body)
    }
    roots = [row for name in (*asked, *denied) for row in knowledge.all_rows(name)]
    used = knowledge.prover.cone.below(roots)
    for fact in knowledge.facts:
        if (fact.predicate, fact.args) not in used:
            yield fact


def _denied(body: Iterable[Literal]) -> Iterator[str]:
    for literal in body:
        if isinstance(literal, Absence):
            yield literal.atom.predicate
        elif isinstance(literal, Collected):
            yield from _denied(literal.body)


def fragile_answers(
    knowledge: Knowledge,
    predicates: Iterable[str],
    spared: Collection[str] = (),
    progress: Callable[[int, int], None] | None = None,
) -> Iterator[Fragile]:
    """The answers that fail when one source is withdrawn, source by source."""
    asked = list(predicates)
    names = sorted(_cited(knowledge) - set(spared))
    for number, name in enumerate(names):
        if progress:
            progress(number, len(names))
        left = knowledge.without_sources({name})
        for predicate in asked:
            gone = knowledge.all_rows(predicate) - left.all_rows(predicate)
            for answer in sorted(gone, key=repr):
                yield Fragile(answer, name)


def _cited(knowledge: Knowledge) -> set[str]:
    facts = {name for fact in knowledge.facts for name in fact.basis.sources}
    return facts | {name for rule in knowledge.program.rules for name in rule.sources}
