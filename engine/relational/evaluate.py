"""The facts of some goals, evaluated in bulk."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Protocol

from abluent.engine.logic.facts import Table
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.relational import plan as p
from abluent.engine.relational.closed import Closed
from abluent.engine.relational.domains import Domain
from abluent.engine.relational.translate import Translation


class Database(Protocol):
    """What runs a plan, such as `duck.Duck`."""

    def load(self, table: p.Table, columns: Sequence[Sequence[int]]) -> None:
        """Make a table of columns of whole numbers."""

    def run(self, plan: p.Plan, keep: Collection[str]) -> None:
        """Run a plan whose given tables are there."""

    def rows(self, table: p.Table) -> Iterator[tuple[int, ...]]:
        """The rows of a table."""

    def count(self, table: p.Table) -> int:
        """How many rows a table has."""


class Bulk:
    """What follows from facts in bulk, for some goals.

    Args:
        program: the rules.
        goals: the predicates whose facts are wanted.
        closed: the model of all facts that do not come in bulk. What depends on
            these alone is asked of it.
        tables: the facts that come in bulk.
        database: what runs the plan.
        varying: the predicates of which facts may come in bulk; those of the tables
            if left out.

    Raises:
        Untranslatable: a rule cannot be evaluated so; nothing was run.
        EngineError: the database refused.
    """

    def __init__(  # noqa: PLR0913, PLR0917 - one evaluation, described in full
        self,
        program: Program,
        goals: Iterable[str],
        closed: Closed,
        tables: Sequence[Table],
        database: Database,
        varying: Collection[str] = (),
    ) -> None:
        moving = {*varying} or {table.predicate for table in tables}
        self._database = database
        known = {name for name in moving if next(iter(closed.match(name)), None)}
        self.translation = Translation(program, goals, moving, known)
        given = self._given(closed, tables)
        self._take_in(given)
        self.plan = self.translation.plan()
        for name, parts in given.items():
            self._load(name, parts)
        goals = {self.plan.tables[name].name for name in self.translation.goals}
        database.run(self.plan, goals)

    def count(self, predicate: str) -> int:
        """How many facts of a goal hold."""
        return self._database.count(self.plan.tables[predicate])

    def match(self, predicate: str) -> Iterator[tuple[Term, ...]]:
        """The facts of a goal, in no particular order."""
        decode = self.decoder(predicate)
        return map(decode, self._database.rows(self.plan.tables[predicate]))

    def decoder(self, predicate: str) -> Decoder:
        """What turns the rows of a table into terms."""
        return Decoder(self.translation.domains.columns(predicate))

    def _given(
        self, closed: Closed, tables: Sequence[Table]
    ) -> dict[str, list[Sequence[Sequence[Term]]]]:
        """The columns of every given predicate."""
        translation = self.translation
        found: dict[str, list[Sequence[Sequence[Term]]]] = {}
        for name in sorted(translation.given):
            arity = translation.arities[name]
            rows = self._rows_of(closed, name)
            columns = list(zip(*rows, strict=True)) if arity else [[1] * len(rows)]
            found[name] = [columns] if rows else []
        for table in tables:
            if table.predicate in found:
                found[table.predicate].append(table.columns)
        return found

    def _rows_of(self, closed: Closed, name: str) -> list[tuple[Term, ...]]:
        if name not in closed.predicates():
            return []
        rows = closed.match(name)
        if name in self.translation.closed:
            return list(rows)
        # It has rules besides, and what these conclude is for the plan to say.
        return [row for row in rows if closed.asserted(name, row)]

    def _take_in(self, given: dict[str, list[Sequence[Sequence[Term]]]]) -> None:
        domains = self.translation.domains
        for name, parts in given.items():
            if self.translation.arities[name]:
                for part in parts:
                    for domain, column in zip(domains.columns(name), part, strict=True):
                        domain.add(set(column))

    def _load(self, name: str, parts: Sequence[Sequence[Sequence[Term]]]) -> None:
        domains = self.translation.domains.columns(name)
        self._database.load(self.plan.given[name], load_columns(domains, parts))


def load_columns(
    domains: Sequence[Domain], parts: Sequence[Sequence[Sequence[Term]]]
) -> list[list[int]]:
    """Columns of terms, in parts, as columns of numbers."""
    if not domains:
        return [[1] for _ in parts[:1]]
    columns: list[list[int]] = []
    for place, domain in enumerate(domains):
        ends = [_encoded(domain, part[place]) for part in parts]
        columns.append([low for lows, _ in ends for low in lows])
        if domain.wide:
            columns.append([high for _, highs in ends for high in highs])
    return columns


def _encoded(domain: Domain, column: Sequence[Term]) -> tuple[list[int], list[int]]:
    if not domain.wide:
        codes = domain.codes
        low = [codes[term] for term in column]
        return low, low
    known: dict[Term, tuple[int, int]] = {}
    for term in set(column):
        code = domain.code(term)
        assert code is not None, "every term was taken in"
        known[term] = code
    return [known[t][0] for t in column], [known[t][1] for t in column]


class Decoder:
    """Rows of numbers as terms."""

    def __init__(self, domains: Sequence[Domain]) -> None:
        self._domains = domains
        self._known: list[dict[tuple[int, int], Term]] = [{} for _ in domains]

    def __call__(self, row: Sequence[int]) -> tuple[Term, ...]:
        found: list[Term] = []
        at = 0
        for domain, known in zip(self._domains, self._known, strict=True):
            ends = row[at], row[at + 1 if domain.wide else at]
            at += 2 if domain.wide else 1
            if ends not in known:
                known[ends] = domain.term(*ends)
            found.append(known[ends])
        return tuple(found)
