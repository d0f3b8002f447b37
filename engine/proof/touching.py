"""The sources that could touch a proof if they were withdrawn.

A proof falls if a source of its facts or rules goes, or if something it takes to be
absent appears. What could appear at all is found in a relaxed model, in which no
negation stops a rule: whatever holds after a withdrawal holds there. From what could
appear, the rules are followed to what stops them now, and to the sources of that.
"""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.logic.clauses import Absence, Collection, Rule
from abluent.engine.logic.instances import Instance, Missing
from abluent.engine.proof.bindings import known
from abluent.engine.proof.cone import Point
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.proofs import Proof, matches
from abluent.engine.proof.slices import (
    Pattern,
    asserted_of,
    predicates_below,
    rules_below,
)


def touching(knowledge: Knowledge, proof: Proof) -> frozenset[str]:
    """The sources without which a proof may no longer stand."""
    found = _Touching(knowledge)
    found.sources.update(proof.sources)
    found.follow((absence.predicate, absence.pattern) for absence in proof.absences)
    return frozenset(found.sources)


class _Touching:
    def __init__(self, knowledge: Knowledge) -> None:
        self._knowledge = knowledge
        self.sources: set[str] = set()
        self._absent: list[Pattern] = []
        self._met: set[Pattern] = set()
        self._present: list[Ground] = []
        self._counted: set[Point] = set()
        self._swept: set[str] = set()

    def follow(self, absences: Iterable[Pattern]) -> None:
        """Take in all that bears on some absences."""
        self._absent.extend(absences)
        while self._absent or self._present:
            while self._present:
                self._support(self._present.pop())
            if self._absent:
                pattern = self._absent.pop()
                if pattern not in self._met:
                    self._met.add(pattern)
                    self._could_appear(pattern)

    def _could_appear(self, pattern: Pattern) -> None:
        """What stops the facts of an absent pattern from appearing."""
        program = self._knowledge.program
        below = rules_below(program, [pattern[0]])
        if any(isinstance(part, Collection) for rule in below for part in rule.body):
            # What is collected may change in ways that no relaxed model shows.
            self._everything_below(pattern[0], below)
            return
        if not any(isinstance(part, Absence) for rule in below for part in rule.body):
            return  # nothing is lost that could make it appear
        relaxed = self._knowledge.relaxed
        rows = [(pattern[0], row) for row in matches(relaxed.model, pattern)]
        for reading in relaxed.prover.cone.below(rows).values():
            for instance in reading.instances:
                self._stops(instance)

    def _stops(self, instance: Instance) -> None:
        """What holds where the rule of a relaxed instance requires its absence."""
        binding = instance.binding()
        for literal in self._knowledge.unrelaxed(instance.rule).body:
            if isinstance(literal, Absence):
                terms = tuple(known(each, binding) for each in literal.atom.args)
                pattern = (literal.atom.predicate, terms)
                found = matches(self._knowledge.model, pattern)
                self._present.extend((pattern[0], row) for row in found)

    def _support(self, row: Ground) -> None:
        """The sources of everything a fact may rest on."""
        readings = self._knowledge.prover.cone.below([row])
        for point, reading in readings.items():
            if point in self._counted:
                continue
            self._counted.add(point)
            for fact in reading.facts:
                self.sources.update(fact.basis.sources)
            for instance in reading.instances:
                self.sources.update(instance.rule.sources)
                for each in instance.supports:
                    if isinstance(each, Missing):
                        self._absent.append((each.predicate, each.pattern))

    def _everything_below(self, predicate: str, rules: Iterable[Rule]) -> None:
        for rule in rules:
            self.sources.update(rule.sources)
        below = predicates_below(self._knowledge.program, [predicate])
        for name in below - self._swept:
            for fact in asserted_of(self._knowledge.model, name):
                self.sources.update(fact.basis.sources)
        self._swept |= below
