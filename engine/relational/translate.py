"""From rules to a plan: which tables are given, and which are made in which order."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Sequence

from abluent.engine.logic.clauses import (
    Anything,
    Assignment,
    Atom,
    Rule,
    Variable,
    atom_variables,
    body_atoms,
    literal_variables,
)
from abluent.engine.logic.clauses import Collection as Collected
from abluent.engine.logic.program import Program
from abluent.engine.logic.strata import Component, components
from abluent.engine.proof.slices import predicates_below
from abluent.engine.relational import plan as p
from abluent.engine.relational._bodies import Naming, selection
from abluent.engine.relational._folded import folded
from abluent.engine.relational.domains import Domains


def depending(
    program: Program,
    goals: Iterable[str],
    varying: Iterable[str],
    known: Collection[str] = (),
) -> tuple[list[Rule], set[str]]:
    """What must be evaluated in bulk, and what can be closed beforehand.

    Args:
        program: the rules.
        goals: the predicates whose facts are wanted.
        varying: those of which facts come in bulk.
        known: those of them of which some fact is known beforehand. A condition that
            asks no more than whether there is one does not vary.

    Returns:
        The rules whose conclusions depend on facts that come in bulk, in the order
        in which they can be evaluated, and the predicates that they look at and that
        none of them concludes.
    """
    below = predicates_below(program, goals)
    moving = set(varying)
    rules: list[Rule] = []
    for part in program.components:
        if below.isdisjoint(part.predicates):
            continue
        own = [program.rules[number] for number in part.rules]
        looked_at = {name for rule in own for name in _looked_at(rule, known)}
        if moving.isdisjoint(looked_at):
            # Of what comes in bulk too, its rules conclude only what is known.
            continue
        moving.update(part.predicates)
        rules += own
    made = {rule.head.predicate for rule in rules}
    used = {a.predicate for rule in rules for a in body_atoms(rule.body)} | {*goals}
    return rules, used - made


def beforehand(
    rules: Sequence[Rule], given: Iterable[str]
) -> tuple[list[Rule], list[Rule]]:
    """The rules that compute with no more than what is given, and the others.

    What they conclude is worked out by the reasoner, whose numbers and intervals have
    no limits, before anything is put into a database.

    Args:
        rules: rules in the order in which they can be evaluated.
        given: the predicates of which all facts are given.
    """
    early: list[Rule] = []
    rest: list[Rule] = []
    inputs = set(given)
    for part in components(rules):
        here = [rules[at] for at in part.rules]
        looked_at = {a.predicate for rule in here for a in body_atoms(rule.body)}
        if any(map(_computes, here)) and inputs.issuperset(looked_at):
            inputs.update(part.predicates)
            early += here
        else:
            rest += here
    return early, rest


def _computes(rule: Rule) -> bool:
    """Whether a rule works out a value that no fact gives."""
    return any(
        isinstance(literal, Assignment)
        or (isinstance(literal, Collected) and literal.function != "count")
        for literal in rule.body
    )


def _looked_at(rule: Rule, known: Collection[str]) -> set[str]:
    """The predicates on whose facts it depends what a rule concludes."""
    settled = {
        atom.predicate
        for atom in rule.body
        if isinstance(atom, Atom)
        and atom.predicate in known
        and _asks_for_any(atom, rule)
    }
    atoms = list(body_atoms(rule.body))
    often = Counter(atom.predicate for atom in atoms)
    return {
        atom.predicate
        for atom in atoms
        if atom.predicate not in settled or often[atom.predicate] > 1
    }


def _asks_for_any(atom: Atom, rule: Rule) -> bool:
    """Whether a condition asks for nothing but that there is some fact."""
    names = [each.name for each in atom.args if isinstance(each, Variable)]
    if any(not isinstance(each, Variable | Anything) for each in atom.args):
        return False
    used = Counter(atom_variables(rule.head))
    used.update(name for literal in rule.body for name in literal_variables(literal))
    return all(used[name] == 1 for name in names)


class Translation:
    """A plan for the rules that some goals need.

    The terms of the given facts must be taken into `domains` before `plan` is asked
    for, as the numbers of constants depend on them.

    Args:
        program: the rules.
        goals: the predicates whose facts are wanted.
        varying: those of which facts come in bulk.
        known: those of them of which some fact is known beforehand.
    """

    def __init__(
        self,
        program: Program,
        goals: Iterable[str],
        varying: Collection[str],
        known: Collection[str] = (),
    ) -> None:
        self.goals = tuple(goals)
        rules, self.closed = depending(program, self.goals, varying, known)
        self.rules = [folded(rule) for rule in rules]
        made = {rule.head.predicate for rule in self.rules}
        self.given = self.closed | (made & set(varying))
        """The predicates of which facts are given; some have rules besides."""
        names = dict.fromkeys([*sorted(self.closed), *sorted(made)])
        self.arities = {name: program.arities[name] for name in names}
        self.domains = Domains(self.rules, self.arities)

    def plan(self) -> p.Plan:
        """The plan.

        Raises:
            Untranslatable: a rule cannot be translated exactly.
        """
        self.domains.refuse()
        tables = tables_of(self.domains, self.arities)
        return Planner(self.rules, Naming(tables, self.domains), self.given).plan()


def tables_of(domains: Domains, names: Iterable[str]) -> dict[str, p.Table]:
    """A table for every one of some predicates."""
    return {
        name: p.Table(f"{_plain(name)}_{at}", _columns(domains, name))
        for at, name in enumerate(names)
    }


class Planner:
    """Makes the plan of some rules.

    Args:
        rules: the rules, at their positions in the domains.
        naming: the tables and the domains.
        given: the predicates of which facts are given.
        among: the positions of the rules that count; all if left out.
    """

    def __init__(
        self,
        rules: Sequence[Rule],
        naming: Naming,
        given: Iterable[str],
        among: Iterable[int] | None = None,
    ) -> None:
        self._rules, self._naming = rules, naming
        self._made: dict[str, list[int]] = {}
        for at in range(len(rules)) if among is None else among:
            self._made.setdefault(rules[at].head.predicate, []).append(at)
        self._given = {name: self._given_table(name) for name in sorted(given)}

    @property
    def made(self) -> set[str]:
        """The predicates that it makes tables of."""
        return {*self._made}

    def plan(self) -> p.Plan:
        """The plan."""
        positions = sorted(at for each in self._made.values() for at in each)
        parts = components([self._rules[at] for at in positions])
        steps = [
            self._loop(part.predicates) if part.recursive else self._single(part)
            for part in parts
            if not self._made.keys().isdisjoint(part.predicates)
        ]
        return p.Plan(self._given, tuple(steps), dict(self._naming.tables))

    def _given_table(self, name: str) -> p.Table:
        table = self._naming.tables[name]
        if name not in self._made:
            return table
        return p.Table(f"{table.name}_given", table.columns)

    def _single(self, part: Component) -> p.Define:
        (name,) = part.predicates
        return self._defined(name, self._made[name])

    def _defined(self, name: str, rules: Sequence[int]) -> p.Define:
        table = self._naming.tables[name]
        selects = [selection(self._naming, at, self._rules[at]) for at in rules]
        ids = [self._rules[at].id for at in rules]
        if name in self._given:
            selects.insert(0, _whole(self._given[name]))
            ids.insert(0, "")
        return p.Define(name, table, tuple(selects), tuple(ids))

    def _loop(self, names: Sequence[str]) -> p.Loop:
        first, more = [], []
        for name in names:
            within = {at: _positions(self._rules[at], names) for at in self._made[name]}
            once = [at for at in self._made[name] if not within[at]]
            first.append(self._defined(name, once))
            again = [(at, place) for at, places in within.items() for place in places]
            selects = tuple(self._round(*each) for each in again)
            ids = tuple(self._rules[at].id for at, _ in again)
            more.append(p.Define(name, self._naming.tables[name], selects, ids))
        return p.Loop(tuple(first), tuple(more))

    def _round(self, at: int, position: int) -> p.Select:
        """A rule that reads what is new at one of its conditions."""

        def reads(number: int, predicate: str) -> str:
            table = self._naming.tables[predicate].name
            return p.fresh(table) if number == position else table

        return selection(self._naming, at, self._rules[at], reads)


def _columns(domains: Domains, predicate: str) -> tuple[str, ...]:
    found: list[str] = []
    for at, domain in enumerate(domains.columns(predicate)):
        found += [f"c{at}", f"h{at}"] if domain.wide else [f"c{at}"]
    return tuple(found) or ("c",)


def _positions(rule: Rule, names: Collection[str]) -> list[int]:
    """Which of the positive conditions of a rule look at some predicates."""
    atoms = [literal for literal in rule.body if isinstance(literal, Atom)]
    return [at for at, atom in enumerate(atoms) if atom.predicate in names]


def _whole(table: p.Table) -> p.Select:
    columns = tuple((name, p.Column("t", name)) for name in table.columns)
    return p.Select(columns, (p.Source(table.name, "t"),), ())


def _plain(name: str) -> str:
    return re.sub(r"\W+", "_", name)
