"""The asserted facts that bear on some goals, holding or not.

From each goal the rules are followed downwards, with the values known so far, and
every asserted fact that a condition could meet on the way is kept, also below
negations. Whoever evaluates the same rules on these facts alone gets the same
answer for the goals, and for everything whose absence a proof rests on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import reduce
from itertools import combinations
from typing import TypeAlias

from abluent.engine import terms
from abluent.engine._safety import needed_variables
from abluent.engine.clauses import (
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
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

_Binding: TypeAlias = dict[str, Term]


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
                given = _unified(rule.head.args, pattern)
                if given is not None:
                    self._follow(rule.body, given)
        return list(found)

    def _ask(self, predicate: str, pattern: tuple[Term | None, ...]) -> None:
        """Take in a pattern, unless a wider one has been taken in."""
        if not any((predicate, wider) in self._seen for wider in _wider(pattern)):
            self._seen.add((predicate, pattern))
            self._waiting.append((predicate, pattern))

    def _follow(
        self, body: Sequence[Literal], given: _Binding, keep: Iterable[str] = ()
    ) -> list[_Binding]:
        """Ask for all that a body looks at; the bindings that meet it."""
        left, ways = list(body), [given]
        while left and ways:
            literal = left.pop(_next(left, ways[0]))
            if isinstance(literal, Atom):
                ways = [way for each in ways for way in self._join(literal, each)]
            else:
                ways = [way for each in ways for way in self._met(literal, each)]
            later = {name for each in left for name in literal_variables(each)}
            ways = _distinct(ways, later.union(keep))
        return ways

    def _join(self, atom: Atom, binding: _Binding) -> Iterator[_Binding]:
        pattern = tuple(_known(each, binding) for each in atom.args)
        self._ask(atom.predicate, pattern)
        for row in self._model.match(atom.predicate, pattern):
            found = _unified(atom.args, row, binding)
            if found is not None:
                yield found

    def _met(self, literal: Literal, binding: _Binding) -> Iterator[_Binding]:
        """The binding if it meets a condition that is not an atom."""
        if isinstance(literal, Absence):
            if not list(self._join(literal.atom, binding)):
                yield binding
            return
        try:
            if isinstance(literal, Comparison):
                sides = (
                    _value(each, binding) for each in (literal.left, literal.right)
                )
                outcome = terms.COMPARISONS[literal.operator](*sides)
                if outcome or (outcome is None and literal.perhaps):
                    yield binding
            elif isinstance(literal, Assignment):
                value = _value(literal.expression, binding)
                yield from _given(literal.variable.name, value, binding)
            elif isinstance(literal, Collection):
                yield from self._collect(literal, binding)
        except (TypeError, ZeroDivisionError):
            return  # the reasoner met no such values, so these come of the cut

    def _collect(self, literal: Collection, binding: _Binding) -> Iterator[_Binding]:
        given = {name: binding[name] for name in literal.groups}
        names = [each.name for each in literal.terms if isinstance(each, Variable)]
        ways = self._follow(literal.body, given, names)
        members = {tuple(_known(each, way) for each in literal.terms) for way in ways}
        first = [member[0] for member in members if member[0] is not None]
        value = _folded(literal.function, first)
        if value is not None:
            yield from _given(literal.variable.name, value, binding)


def _given(name: str, value: Term, binding: _Binding) -> Iterator[_Binding]:
    if binding.get(name, value) == value:
        yield {**binding, name: value}


def _next(left: Sequence[Literal], binding: Mapping[str, Term]) -> int:
    """The condition to look at next: what is ready, else the best known atom."""

    def dear(place: int) -> tuple[int, int]:
        literal = left[place]
        loose = sum(name not in binding for name in needed_variables(literal))
        if not isinstance(literal, Atom):
            return (2 if loose else 0), place
        known = [_known(each, binding) is not None for each in literal.args]
        return 1, known.count(False) - 100 * any(known)

    return min(range(len(left)), key=dear)


def _known(argument: Argument, binding: Mapping[str, Term]) -> Term | None:
    if isinstance(argument, Variable):
        return binding.get(argument.name)
    return None if isinstance(argument, Anything) else argument


def _unified(
    args: Sequence[Argument],
    row: Sequence[Term | None],
    binding: Mapping[str, Term] | None = None,
) -> _Binding | None:
    """The binding that makes an atom agree with a row, where the row is known."""
    found = dict(binding or {})
    for argument, term in zip(args, row, strict=True):
        if term is None or isinstance(argument, Anything):
            continue
        if isinstance(argument, Variable):
            if found.setdefault(argument.name, term) != term:
                return None
        elif argument != term:
            return None
    return found


def _value(expression: Expression, binding: Mapping[str, Term]) -> Term:
    if isinstance(expression, Variable):
        return binding[expression.name]
    if not isinstance(expression, Operation):
        return expression
    first, *rest = (_value(each, binding) for each in expression.operands)
    if not rest:
        return terms.negate(first) if expression.operator == "-" else first
    return reduce(terms.OPERATIONS[expression.operator], rest, first)


def _folded(function: str, values: Sequence[Term]) -> Term | None:
    """The value of a collection over the first terms of its members."""
    if function == "count":
        return len(values)
    if function == "sum":
        nothing: Term = 0
        return reduce(terms.add, values, nothing)
    return reduce(terms.OPERATIONS[function], values) if values else None


def _distinct(ways: Iterable[_Binding], names: set[str]) -> list[_Binding]:
    """The different bindings of some names."""
    found: dict[tuple[tuple[str, Term], ...], _Binding] = {}
    for way in ways:
        kept = {name: term for name, term in way.items() if name in names}
        found.setdefault(tuple(sorted(kept.items(), key=_first)), kept)
    return list(found.values())


def _first(pair: tuple[str, Term]) -> str:
    return pair[0]


def _wider(pattern: tuple[Term | None, ...]) -> Iterator[tuple[Term | None, ...]]:
    """A pattern and every pattern that leaves more places open."""
    known = [place for place, term in enumerate(pattern) if term is not None]
    for size in range(min(len(known), _MOST_OPENED) + 1):
        for opened in combinations(known, size):
            yield tuple(None if i in opened else t for i, t in enumerate(pattern))
