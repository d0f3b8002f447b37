"""From the steps of a search to a repair, tried where it can be tried."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

from abluent.engine.logic.clauses import (
    Atom,
    Comparison,
    Expression,
    Literal,
    Operation,
    Variable,
)
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.bindings import Binding, known
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.obstacles import (
    Failing,
    Lacking,
    Obstacle,
    Repair,
    Standing,
    Unruled,
)
from abluent.engine.proof.slices import Pattern


@dataclass(frozen=True, slots=True)
class Lack:
    """A fact that is missing, perhaps with open terms; `ruled` if it could be had."""

    atom: Atom
    ruled: bool = True


Step: TypeAlias = Lack | Standing | Failing


@dataclass(frozen=True)
class Way:
    """A way to a goal, as far as it has been followed backwards.

    Args:
        todo: the conditions still to be looked at.
        binding: the values found so far.
        steps: what had to be assumed or set aside.
        relied: the facts that were found to hold and are used.
        rules: the ids of the rules gone through.
        opened: the patterns that rules were tried for, so as not to go in circles.
        cost: how many changes it takes, roughly.
    """

    todo: tuple[Literal, ...]
    binding: Binding
    steps: tuple[Step, ...] = ()
    relied: tuple[Ground, ...] = ()
    rules: tuple[str, ...] = ()
    opened: frozenset[Pattern] = frozenset()
    cost: int = 0

    def met(self, binding: Binding, row: Ground) -> Way:
        """The way after a condition was met by a fact."""
        return replace(self, binding=binding, relied=(*self.relied, row))

    def with_step(self, step: Step, cost: int) -> Way:
        """The way after something was assumed or set aside."""
        return replace(self, steps=(*self.steps, step), cost=self.cost + cost)


def mended(
    knowledge: Knowledge, goal: Pattern, way: Way, single: Collection[str] | None
) -> Repair:
    """The repair that a way amounts to, tried as far as it can be.

    Args:
        knowledge: the rules and facts.
        goal: the pattern to make hold.
        way: the way.
        single: the predicates that have one last term for the same first terms; if
            it is not given, those of which that is so of three facts or more.
    """
    said = _Said(knowledge, single)
    made = (_obstacle(said, step, way.binding) for step in way.steps)
    obstacles = tuple(dict.fromkeys(made))
    lacks = [each for each in obstacles if isinstance(each, Lacking)]
    stands = [each for each in obstacles if isinstance(each, Standing)]
    added = tuple((each.predicate, each.pattern) for each in lacks)
    removed = {row: None for each in stands for row in each.removals}
    removed.update({(f.predicate, f.args): None for e in lacks for f in e.instead})
    repair = Repair(
        obstacles, added, tuple(removed), tuple(_provided(way)), way.rules, None
    )
    return replace(repair, verified=_tried(knowledge, goal, repair, way.relied))


def _provided(way: Way) -> Iterator[Comparison]:
    """The comparisons that are left because a term is open."""
    for literal in way.todo:
        if isinstance(literal, Comparison):
            left = _filled(literal.left, way.binding)
            right = _filled(literal.right, way.binding)
            yield literal._replace(left=left, right=right)


def _filled(expression: Expression, binding: Binding) -> Expression:
    if isinstance(expression, Variable):
        return binding.get(expression.name, expression)
    if isinstance(expression, Operation):
        parts = tuple(_filled(each, binding) for each in expression.operands)
        return Operation(expression.operator, parts)
    return expression


def _obstacle(said: _Said, step: Step, binding: Binding) -> Obstacle:
    if not isinstance(step, Lack):
        return step
    predicate = step.atom.predicate
    pattern = tuple(known(each, binding) for each in step.atom.args)
    if not step.ruled:
        return Unruled(predicate, pattern)
    return Lacking(predicate, pattern, said.instead(predicate, pattern))


class _Said:
    """What a base says in the place of something it does not say."""

    def __init__(self, knowledge: Knowledge, single: Collection[str] | None) -> None:
        self._facts = knowledge.facts
        self._single = single

    def instead(
        self, predicate: str, pattern: tuple[Term | None, ...]
    ) -> tuple[Fact, ...]:
        """The facts that a new one would take the place of."""
        key = pattern[:-1]
        if not key or None in key or not self._has_one_value(predicate):
            return ()
        rivals = (fact for fact in self._of(predicate) if fact.args[:-1] == key)
        return tuple(fact for fact in rivals if fact.args[-1] != pattern[-1])

    def _has_one_value(self, predicate: str) -> bool:
        if self._single is not None:
            return predicate in self._single
        values: dict[tuple[Term, ...], set[Term]] = {}
        for fact in self._of(predicate):
            values.setdefault(fact.args[:-1], set()).add(fact.args[-1])
        return len(values) > 2 and all(len(each) == 1 for each in values.values())

    def _of(self, predicate: str) -> Iterator[Fact]:
        return (fact for fact in self._facts if fact.predicate == predicate)


def _tried(
    knowledge: Knowledge, goal: Pattern, repair: Repair, relied: Iterable[Ground]
) -> bool | None:
    """Whether the goal holds after the changes; `None` if that cannot be told.

    Then at least what was relied on must hold after them.
    """
    whole = not any(map(_is_final, repair.obstacles))
    facts = []
    for predicate, pattern in repair.added:
        args = tuple(term for term in pattern if term is not None)
        if len(args) == len(pattern):
            facts.append(Fact(predicate, args))
        else:
            whole = False
    changed = knowledge.but(facts, repair.removed)
    if whole:
        return changed.holds(goal)
    return None if all(map(changed.holds, relied)) else False


def _is_final(obstacle: Obstacle) -> bool:
    """Whether no change of facts that is known of would do away with it."""
    if isinstance(obstacle, Standing):
        return obstacle.immovable
    return isinstance(obstacle, Failing | Unruled)
