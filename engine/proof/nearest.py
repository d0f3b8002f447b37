"""Which rule comes nearest to a conclusion, and which of its conditions fail.

This looks at the rules of the goal itself, takes what holds as it is, and counts what
fails. It does not go down into the rules for a condition that fails: where many
conclude what it asks for, that would go on for long.
"""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from abluent.engine.logic import terms
from abluent.engine.logic.clauses import (
    Absence,
    Argument,
    Atom,
    Comparison,
    Literal,
    Rule,
    Variable,
)
from abluent.engine.logic.safety import needed_variables
from abluent.engine.logic.terms import Term
from abluent.engine.proof.bindings import Binding, known, unified, used, value_of
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.obstacles import Failing, Lacking, Obstacle, Standing
from abluent.engine.proof.proofs import matches
from abluent.engine.proof.slices import Pattern

_MOST_STEPS = 3_000
_MOST_FAILING = 3


class NearMiss(NamedTuple):
    """A rule that nearly concludes a goal.

    Args:
        rule: the rule.
        failing: its conditions that fail, the fewest there can be at once.
        met: the facts that meet its other conditions.
    """

    rule: Rule
    failing: tuple[Obstacle, ...]
    met: tuple[Ground, ...]


def nearest(knowledge: Knowledge, goal: Pattern, most: int = 5) -> list[NearMiss]:
    """The rules that come nearest to a goal, those that lack least first.

    None, if no rule concludes anything of the kind.

    Args:
        knowledge: the rules and facts.
        goal: what does not follow.
        most: how many to give; only such that lack as little as any does.
    """
    search = _Search(knowledge, goal)
    found: dict[tuple[Obstacle, ...], NearMiss] = {}
    for miss in search.run():
        if found and len(miss.failing) > len(next(iter(found))):
            break
        found.setdefault(miss.failing, miss)
        if len(found) == most:
            break
    return list(found.values())


class _State(NamedTuple):
    """A rule partly gone through."""

    rule: Rule
    todo: tuple[Literal, ...]
    binding: Binding
    failing: tuple[Obstacle, ...] = ()
    met: tuple[Ground, ...] = ()


class _Search:
    """States are met in order of what fails, then of what is left to look at."""

    def __init__(self, knowledge: Knowledge, goal: Pattern) -> None:
        self._knowledge = knowledge
        self._numbers = count(1)
        self._heap: list[tuple[int, int, int, _State]] = []
        wanted: list[Argument] = [
            Variable(f"#{place}") if term is None else term
            for place, term in enumerate(goal[1])
        ]
        for rule in knowledge.program.concluding(goal[0]):
            body = used(rule, wanted, next(self._numbers))
            if body is not None:
                self._push(_State(rule, tuple(body[0]), body[1]))

    def _push(self, state: _State) -> None:
        size = (len(state.failing), len(state.todo), next(self._numbers))
        heappush(self._heap, (*size, state))

    def run(self) -> Iterator[NearMiss]:
        """Every near miss, the nearest first."""
        for _ in range(_MOST_STEPS):
            if not self._heap:
                return
            *_, state = heappop(self._heap)
            place = self._pick(state)
            if place is None:
                yield NearMiss(state.rule, state.failing, state.met)
                continue
            literal = state.todo[place]
            rest = state.todo[:place] + state.todo[place + 1 :]
            for each in self._follow(state, literal, rest):
                if len(each.failing) <= _MOST_FAILING:
                    self._push(each)

    def _pick(self, state: _State) -> int | None:
        """The condition to look at: a test if it can be made, else the tightest."""
        best: tuple[int, int] | None = None
        for place, literal in enumerate(state.todo):
            if isinstance(literal, Atom):
                rank = (1 + len(self._rows(literal, state.binding)), place)
            elif all(name in state.binding for name in needed_variables(literal)):
                rank = (0, place)
            else:
                continue
            best = rank if best is None else min(best, rank)
        return None if best is None else best[1]

    def _rows(self, atom: Atom, binding: Binding) -> list[tuple[Term, ...]]:
        pattern = tuple(known(each, binding) for each in atom.args)
        return list(matches(self._knowledge.model, (atom.predicate, pattern)))

    def _follow(
        self, state: _State, literal: Literal, rest: tuple[Literal, ...]
    ) -> Iterator[_State]:
        if isinstance(literal, Atom):
            yield from self._require(state, literal, rest)
        elif isinstance(literal, Absence):
            yield self._deny(state, literal, rest)
        elif isinstance(literal, Comparison):
            yield self._compare(state, literal, rest)
        else:
            # What is worked out from known values never fails by itself.
            yield _State(state.rule, rest, state.binding, state.failing, state.met)

    def _require(
        self, state: _State, atom: Atom, rest: tuple[Literal, ...]
    ) -> Iterator[_State]:
        rows = self._rows(atom, state.binding)
        for row in sorted(rows, key=repr):
            binding = unified(atom.args, row, state.binding)
            if binding is not None:
                met = (*state.met, (atom.predicate, row))
                yield _State(state.rule, rest, binding, state.failing, met)
        if not rows:
            pattern = tuple(known(each, state.binding) for each in atom.args)
            lack = Lacking(atom.predicate, pattern)
            yield _failed(state, rest, lack)

    def _deny(
        self, state: _State, literal: Absence, rest: tuple[Literal, ...]
    ) -> _State:
        atom = literal.atom
        rows = sorted(self._rows(atom, state.binding), key=repr)
        if not rows:
            return _State(state.rule, rest, state.binding, state.failing, state.met)
        stands = tuple((atom.predicate, row) for row in rows)
        return _failed(state, rest, Standing(stands, literal.form))

    @staticmethod
    def _compare(
        state: _State, literal: Comparison, rest: tuple[Literal, ...]
    ) -> _State:
        left = value_of(literal.left, state.binding)
        right = value_of(literal.right, state.binding)
        outcome = terms.COMPARISONS[literal.operator](left, right)
        if outcome or (outcome is None and literal.perhaps):
            return _State(state.rule, rest, state.binding, state.failing, state.met)
        return _failed(state, rest, Failing(literal, left, right))


def _failed(state: _State, rest: tuple[Literal, ...], obstacle: Obstacle) -> _State:
    failing = (*state.failing, obstacle)
    return _State(state.rule, rest, state.binding, failing, state.met)
