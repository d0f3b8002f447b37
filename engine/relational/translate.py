"""From rules to a plan: which tables are given, and which are made in which order."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from abluent.engine.logic.clauses import (
    Anything,
    Atom,
    Rule,
    Variable,
    atom_variables,
    body_atoms,
    literal_variables,
)
from abluent.engine.logic.program import Program
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
        if moving.isdisjoint(looked_at) and moving.isdisjoint(part.predicates):
            continue
        moving.update(part.predicates)
        rules += own
    made = {rule.head.predicate for rule in rules}
    used = {a.predicate for rule in rules for a in body_atoms(rule.body)} | {*goals}
    return rules, used - made


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
        self._program = program
        names = dict.fromkeys([*sorted(self.closed), *sorted(made)])
        self.arities = {name: program.arities[name] for name in names}
        self.domains = Domains(self.rules, self.arities)

    def plan(self) -> p.Plan:
        """The plan.

        Raises:
            Untranslatable: a rule cannot be translated exactly.
        """
        self.domains.refuse()
        tables = {
            name: p.Table(f"{_plain(name)}_{at}", self._columns(name))
            for at, name in enumerate(self.arities)
        }
        given = {
            name: tables[name]
            if name in self.closed
            else p.Table(f"{tables[name].name}_given", tables[name].columns)
            for name in sorted(self.given)
        }
        naming = Naming(tables, self.domains)
        steps = tuple(self._steps(naming, given))
        return p.Plan(given, steps, tables)

    def _columns(self, predicate: str) -> tuple[str, ...]:
        found = []
        for at, domain in enumerate(self.domains.columns(predicate)):
            found += [f"c{at}", f"h{at}"] if domain.wide else [f"c{at}"]
        return tuple(found) or ("c",)

    def _steps(self, naming: Naming, given: Mapping[str, p.Table]) -> Iterable[p.Step]:
        made: dict[str, list[int]] = {}
        for at, rule in enumerate(self.rules):
            made.setdefault(rule.head.predicate, []).append(at)
        for part in self._program.components:
            names = [name for name in part.predicates if name in made]
            if not names:
                continue
            if part.recursive:
                yield self._loop(naming, given, names, made)
            else:
                yield self._defined(naming, given, names[0], made[names[0]])

    def _defined(
        self,
        naming: Naming,
        given: Mapping[str, p.Table],
        name: str,
        rules: Sequence[int],
    ) -> p.Define:
        table = naming.tables[name]
        selects = [selection(naming, at, self.rules[at]) for at in rules]
        ids = [self.rules[at].id for at in rules]
        if name in given:
            selects.insert(0, _whole(given[name]))
            ids.insert(0, "")
        return p.Define(name, table, tuple(selects), tuple(ids))

    def _loop(
        self,
        naming: Naming,
        given: Mapping[str, p.Table],
        names: Sequence[str],
        made: Mapping[str, Sequence[int]],
    ) -> p.Loop:
        first, more = [], []
        for name in names:
            within = {at: _positions(self.rules[at], names) for at in made[name]}
            once = [at for at in made[name] if not within[at]]
            first.append(self._defined(naming, given, name, once))
            selects, ids = [], []
            for at, positions in within.items():
                for position in positions:
                    selects.append(self._round(naming, at, position))
                    ids.append(self.rules[at].id)
            table = naming.tables[name]
            more.append(p.Define(name, table, tuple(selects), tuple(ids)))
        return p.Loop(tuple(first), tuple(more))

    def _round(self, naming: Naming, at: int, position: int) -> p.Select:
        """A rule that reads what is new at one of its conditions."""

        def reads(number: int, predicate: str) -> str:
            table = naming.tables[predicate].name
            return p.fresh(table) if number == position else table

        return selection(naming, at, self.rules[at], reads)


def _positions(rule: Rule, names: Collection[str]) -> list[int]:
    """Which of the positive conditions of a rule look at some predicates."""
    atoms = [literal for literal in rule.body if isinstance(literal, Atom)]
    return [at for at, atom in enumerate(atoms) if atom.predicate in names]


def _whole(table: p.Table) -> p.Select:
    columns = tuple((name, p.Column("t", name)) for name in table.columns)
    return p.Select(columns, (p.Source(table.name, "t"),), ())


def _plain(name: str) -> str:
    return re.sub(r"\W+", "_", name)
