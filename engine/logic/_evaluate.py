"""Finishing a component: its rules, round by round, until nothing is new."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager

from abluent.engine.logic._plan import Plan, Question
from abluent.engine.logic._planner import make_plan
from abluent.engine.logic._recipe import PlanSource
from abluent.engine.logic._relation import Found, Relation
from abluent.engine.logic.clauses import Atom, Rule

# A plan is made again when what it starts from has grown by this factor.
_OUTGROWN = 8


@contextmanager
def uncollected() -> Iterator[None]:
    """A stretch without Python's search for cycles of garbage.

    Evaluation makes many small rows and no cycles; looking through all of them again
    and again would cost a fifth of its time.
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()


def finish(
    rules: Sequence[Rule],
    predicates: Sequence[str],
    relations: Mapping[str, Relation],
    source: PlanSource,
) -> dict[str, list[Relation]]:
    """Evaluate rules until their predicates hold everything that follows.

    Args:
        rules: all rules that conclude one of the predicates.
        predicates: the predicates, which may depend on each other.
        relations: their relations, with what is asserted; they grow.
        source: where all relations are found.

    Returns:
        what each round added to a predicate that depends on itself, the asserted
        rows first.
    """
    component = ComponentRun(rules, predicates, relations, source)
    component.start()
    return component.repeat() if component.recursive else {}


class ComponentRun:
    """One component under evaluation.

    Attributes:
        recursive: every place where one of its rules looks at one of its predicates.
    """

    def __init__(
        self,
        rules: Sequence[Rule],
        predicates: Sequence[str],
        relations: Mapping[str, Relation],
        source: PlanSource,
    ) -> None:
        self._rules = rules
        self._names = predicates
        self._relations = relations
        self._source = source
        self._deltas = {n: Relation(relations[n].arity) for n in predicates}
        self._plans: dict[tuple[int, int], tuple[int, Plan]] = {}
        self.recursive = [
            (number, place, literal.predicate)
            for number, rule in enumerate(rules)
            for place, literal in enumerate(rule.body)
            if isinstance(literal, Atom) and literal.predicate in predicates
        ]
        self._rounds: dict[str, list[Relation]] = {}

    def start(self) -> None:
        """The first round: every rule on all that is known."""
        if self.recursive:
            self._rounds = {
                name: [self._relations[name].copy()] for name in self._names
            }
        found: dict[str, list[Found]] = {name: [] for name in self._names}
        for rule in self._rules:
            if self._can_meet(rule):
                plan = make_plan(self._question(rule), self._source)
                found[rule.head.predicate].append(plan.run([()]))
        self._merge(found)

    def repeat(self) -> dict[str, list[Relation]]:
        """Further rounds, each on what the last one added."""
        while any(map(len, self._deltas.values())):
            found: dict[str, list[Found]] = {name: [] for name in self._names}
            for number, place, predicate in self.recursive:
                if len(self._deltas[predicate]):
                    head = self._rules[number].head.predicate
                    plan = self._delta_plan(number, place, predicate)
                    found[head].append(plan.run([()]))
            self._merge(found)
        return self._rounds

    def resume(self, found: Mapping[str, Sequence[Found]]) -> dict[str, Relation]:
        """Add some rows and whatever follows from them; returns all that was new."""
        self._rounds = {name: [] for name in self._names}
        self._merge(found)
        if not self.recursive:
            return self._deltas
        added = {name: Relation(each.arity) for name, each in self._relations.items()}
        for name, rounds in self.repeat().items():
            added[name].merge([each.found() for each in rounds])
        return added

    def _merge(self, found: Mapping[str, Sequence[Found]]) -> None:
        for name in self._names:
            fresh = self._relations[name].merge(found[name])
            self._deltas[name].take(fresh)
            if self.recursive:
                self._rounds[name].append(fresh)

    def _can_meet(self, rule: Rule) -> bool:
        """Whether there is something of everything that a rule requires."""
        relation = self._source.relation
        return all(
            len(relation(literal.predicate))
            for literal in rule.body
            if isinstance(literal, Atom)
        )

    def _delta_plan(self, number: int, place: int, predicate: str) -> Plan:
        size = len(self._deltas[predicate])
        planned, plan = self._plans.get((number, place), (0, None))
        if plan is None or size > planned * _OUTGROWN:
            question = self._question(self._rules[number], place, predicate)
            plan = make_plan(question, self._source)
            self._plans[number, place] = size, plan
        return plan

    def _question(
        self, rule: Rule, place: int | None = None, predicate: str = ""
    ) -> Question:
        head = rule.head
        return Question(
            rule.id,
            rule.body,
            (),
            head.args,
            tuple(self._source.symbols(head.predicate)),
            masks=0 < len(head.args) <= 2,
            target=self._relations[head.predicate],
            first=place,
            delta=self._deltas.get(predicate),
            key=self._source.recipes.key(rule, -1 if place is None else place),
        )
