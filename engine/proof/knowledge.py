"""A program and its facts together, to be varied: what if this were otherwise?

A `Knowledge` is never changed; its variants are made with `but`, `without_sources`
and `with_rules`. Each evaluates itself when it is first asked.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from functools import cached_property

from abluent.engine.errors import EngineError
from abluent.engine.logic.clauses import Absence, Atom, Literal, Rule
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.engine.logic.strata import components, unfinished
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.proofs import Proof, Prover, matches
from abluent.engine.proof.slices import Pattern, asserted_of


class Knowledge:
    """Rules and asserted facts.

    Args:
        program: the rules.
        facts: the assertions; one fact may be asserted on several bases.
        model: what follows from them, where that is worked out already.
    """

    def __init__(
        self, program: Program, facts: Iterable[Fact], model: Model | None = None
    ) -> None:
        self.program = program
        self.facts = tuple(facts)
        self._revised: tuple[Model, list[Fact], list[Fact]] | None = None
        if model is not None:
            self.__dict__["model"] = model

    @classmethod
    def of(cls, model: Model) -> Knowledge:
        """The knowledge that a model was made from."""
        names = model.predicates()
        facts = (fact for name in names for fact in asserted_of(model, name))
        return cls(model.program, dict.fromkeys(facts), model)

    @cached_property
    def model(self) -> Model:
        """All that follows."""
        if self._revised is None:
            return evaluate(self.program, self.facts)
        base, added, removed = self._revised
        return base.revise(added, removed)

    @cached_property
    def prover(self) -> Prover:
        """Finds the best proofs, and keeps what it finds."""
        return Prover(self.model)

    def rows(self, predicate: str, pattern: Sequence[Term | None]) -> frozenset[Ground]:
        """The facts that agree with a pattern, `None` being any term."""
        found = matches(self.model, (predicate, tuple(pattern)))
        return frozenset((predicate, row) for row in found)

    def all_rows(self, predicate: str) -> frozenset[Ground]:
        """Every fact of a predicate."""
        if predicate not in self.model.predicates():
            return frozenset()
        return frozenset((predicate, row) for row in self.model.match(predicate))

    def has_rule(self, rule: Rule) -> bool:
        """Whether it has a rule, wherever that is written."""
        return (rule.id, rule.head, rule.body) in self._rules

    @cached_property
    def _rules(self) -> frozenset[tuple[str, Atom, tuple[Literal, ...]]]:
        return frozenset((rule.id, rule.head, rule.body) for rule in self.program.rules)

    def holds(self, goal: Pattern) -> bool:
        """Whether some fact agrees with a pattern."""
        return next(matches(self.model, goal), None) is not None

    def proof(self, goal: Pattern) -> Proof:
        """The best proof of the first fact of a pattern, or of its absence."""
        rows = self.rows(*goal)
        if not rows:
            return self.prover.prove_absence(*goal)
        return self.prover.prove(*min(rows, key=repr))

    # -- variants -------------------------------------------------------------------

    def but(
        self, added: Iterable[Fact] = (), removed: Collection[Ground] = ()
    ) -> Knowledge:
        """The same with facts taken away, whoever asserts them, and others added."""
        gone = [f for f in self.facts if (f.predicate, f.args) in removed]
        return self._changed(list(added), gone)

    def without_sources(self, names: Collection[str]) -> Knowledge:
        """The same without what only these sources say, facts and rules alike."""
        gone = [f for f in self.facts if rests_on(f.basis.sources, names)]
        rules = [r for r in self.program.rules if not rests_on(r.sources, names)]
        left = self._changed([], gone)
        return left if len(rules) == len(self.program.rules) else left.with_rules(rules)

    def _changed(self, added: list[Fact], removed: list[Fact]) -> Knowledge:
        """The same over other facts; what was worked out is used again."""
        without = set(removed)
        kept = (fact for fact in self.facts if fact not in without)
        made = Knowledge(self.program, (*kept, *added))
        if "model" in self.__dict__:
            made._revised = (self.model, added, removed)
        return made

    def with_rules(self, rules: Iterable[Rule]) -> Knowledge:
        """The same facts under other rules."""
        return Knowledge(with_rules(self.program, rules), self.facts)

    # -- what could be ----------------------------------------------------------------

    @cached_property
    def relaxed(self) -> Knowledge:
        """The same with no negation left to stop a rule.

        Whatever holds after facts and rules are taken away holds here, unless it
        depends on a collection.
        """
        return self.with_rules(map(_relaxed, self.program.rules))

    def unrelaxed(self, rule: Rule) -> Rule:
        """The rule of which `relaxed` has this form."""
        return self._by_head[rule.id, rule.head]

    @cached_property
    def _by_head(self) -> dict[tuple[str, Atom], Rule]:
        return {(rule.id, rule.head): rule for rule in self.program.rules}


def _relaxed(rule: Rule) -> Rule:
    body = tuple(each for each in rule.body if not isinstance(each, Absence))
    return rule._replace(body=body)


def rests_on(sources: Collection[str], names: Collection[str]) -> bool:
    """Whether something cites sources and all of them are among the names."""
    return bool(sources) and all(each in names for each in sources)


def with_rules(program: Program, rules: Iterable[Rule]) -> Program:
    """A program with the same sentences and scale, and other rules.

    Raises:
        EngineError: together they let a negation depend on its own outcome.
    """
    kept = tuple(rules)
    if kept == program.rules:
        return program
    parts = components(kept)
    for _, cycle in unfinished(kept, parts):
        raise EngineError(f"a negation depends on its own outcome: {' ← '.join(cycle)}")
    declared = tuple(program.declarations.values())
    return Program(kept, declared, program.standings, parts)
