"""The asserted facts that bear on some goals, holding or not.

From each goal the rules are followed downwards, with the values known so far, and
every asserted fact that a condition could meet on the way is kept, also below
negations. Whoever evaluates the same rules on these facts alone gets the same
answer for the goals, and for everything whose absence a proof rests on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

from abluent.engine import terms
from abluent.engine.bindings import (
    Binding,
    folded,
    known,
    next_literal,
    unified,
    value_of,
)
from abluent.engine.clauses import (
    Absence,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Literal,
    Rule,
    Variable,
    body_atoms,
    literal_variables,
)
from abluent.engine.facts import Fact
from abluent.engine.program import Program
from abluent.engine.reasoner import Model
from abluent.engine.terms import Term

Pattern: TypeAlias = tuple[str, tuple[Term | None, ...]]
"""A predicate and its terms; `None` stands for any term."""


def rules_below(program: Program, predicates: Iterable[str]) -> list[Rule]:
    """The rules that some predicates depend on, in the order of the program."""
    found: set[str] = set()
    waiting = list(predicates)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            for rule in program.concluding(name):
                waiting.extend(atom.predicate for atom in body_atoms(rule.body))
    return [rule for rule in program.rules if rule.head.predicate in found]


def facts_below(model: Model, goals: Iterable[Pattern]) -> list[Fact]:
    """The asserted facts that bear on some goals, each assertion once."""
    return _Slice(model).facts(goals)


_MOST_OPENED = 4
# Places opened when a wider pattern is looked for; more would cost more than it saves.


class _Slice:
    def __init__(self, model: Model) -> None:
        self._model = model
        self._seen: set[Pattern] = set()
        self._waiting: list[Pattern] = []

    def facts(self, goals: Iterable[Pattern]) -> list[Fact]:
        found: dict[Fact, None] = {}
        for goal in goals:
            self._ask(*goal)
        while self._waiting:
            predicate, pattern = self._waiting.pop()
            for row in self._model.match(predicate, pattern):
                found.update(dict.fromkeys(self._model.asserted(predicate, row)))
            for rule in self._model.program.concluding(predicate):
                given = unified(rule.head.args, pattern)
                if given is not None:
                    self._follow(rule.body, given)
        return list(found)

    def _ask(self, predicate: str, pattern: tuple[Term | None, ...]) -> None:
        """Take in a pattern, unless a wider one has been taken in."""
        if not any((predicate, wider) in self._seen for wider in _wider(pattern)):
            self._seen.add((predicate, pattern))
            self._waiting.append((predicate, pattern))

    def _follow(
        self, body: Sequence[Literal], given: Binding, keep: Iterable[str] = ()
    ) -> list[Binding]:
        """Ask for all that a body looks at; the bindings that meet it."""
        left, ways = list(body), [given]
        while left and ways:
            literal = left.pop(next_literal(left, ways[0]))
            if isinstance(literal, Atom):
                ways = [way for each in ways for way in self._join(literal, each)]
            else:
                ways = [way for each in ways for way in self._met(literal, each)]
            later = {name for each in left for name in literal_variables(each)}
            ways = _distinct(ways, later.union(keep))
        return ways

    def _join(self, atom: Atom, binding: Binding) -> Iterator[Binding]:
        pattern = tuple(known(each, binding) for each in atom.args)
        self._ask(atom.predicate, pattern)
        for row in self._model.match(atom.predicate, pattern):
            found = unified(atom.args, row, binding)
            if found is not None:
                yield found

    def _met(self, literal: Literal, binding: Binding) -> Iterator[Binding]:
        """The binding if it meets a condition that is not an atom."""
        if isinstance(literal, Absence):
            if not list(self._join(literal.atom, binding)):
                yield binding
            return
        try:
            if isinstance(literal, Comparison):
                sides = (
                    value_of(each, binding) for each in (literal.left, literal.right)
                )
                outcome = terms.COMPARISONS[literal.operator](*sides)
                if outcome or (outcome is None and literal.perhaps):
                    yield binding
            elif isinstance(literal, Assignment):
                value = value_of(literal.expression, binding)
                yield from _given(literal.variable.name, value, binding)
            elif isinstance(literal, Collection):
                yield from self._collect(literal, binding)
        except (TypeError, ZeroDivisionError):
            return  # the reasoner met no such values, so these come of the cut

    def _collect(self, literal: Collection, binding: Binding) -> Iterator[Binding]:
        given = {name: binding[name] for name in literal.groups}
        names = [each.name for each in literal.terms if isinstance(each, Variable)]
        ways = self._follow(literal.body, given, names)
        members = {tuple(known(each, way) for each in literal.terms) for way in ways}
        first = [member[0] for member in members if member[0] is not None]
        value = folded(literal.function, first)
        if value is not None:
            yield from _given(literal.variable.name, value, binding)


def _given(name: str, value: Term, binding: Binding) -> Iterator[Binding]:
    if binding.get(name, value) == value:
        yield {**binding, name: value}


def _distinct(ways: Iterable[Binding], names: set[str]) -> list[Binding]:
    """The different bindings of some names."""
    found: dict[tuple[tuple[str, Term], ...], Binding] = {}
    for way in ways:
        kept = {name: term for name, term in way.items() if name in names}
        found.setdefault(tuple(sorted(kept.items(), key=_first)), kept)
    return list(found.values())


def _first(pair: tuple[str, Term]) -> str:
    return pair[0]


def _wider(pattern: tuple[Term | None, ...]) -> Iterator[tuple[Term | None, ...]]:
    """A pattern and every pattern that leaves more places open."""
    bound = [place for place, term in enumerate(pattern) if term is not None]
    for size in range(min(len(bound), _MOST_OPENED) + 1):
        for opened in combinations(bound, size):
            yield tuple(None if i in opened else t for i, t in enumerate(pattern))
