"""What a model is given: facts by predicate, singly or in tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import TypeAlias, TypeVar

from abluent.engine.errors import FactError
from abluent.engine.logic._bits import Row
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.terms import Term

_Index: TypeAlias = dict[tuple[Term, ...], tuple[Fact, ...]]
_T = TypeVar("_T")


class Assertions:
    """Facts and tables. Never changed once made; `revised` makes another."""

    def __init__(self, facts: Iterable[Fact], tables: Iterable[Table] = ()) -> None:
        self._facts: dict[str, list[Fact]] = {}
        for fact in facts:
            if fact.predicate in self._facts:
                self._facts[fact.predicate].append(fact)
            else:
                self._facts[fact.predicate] = [fact]
        self._tables: dict[str, list[Table]] = {}
        for table in tables:
            self._tables.setdefault(table.predicate, []).append(table)
        self._indexes: dict[str, _Index] = {}

    def __iter__(self) -> Iterator[Fact]:
        """Every fact that was given by itself, by predicate."""
        return chain.from_iterable(self._facts.values())

    def predicates(self) -> dict[str, None]:
        """Every predicate of which something is asserted, in the order given."""
        return dict.fromkeys([*self._facts, *self._tables])

    def arity(self, predicate: str) -> int:
        """The number of terms in the first assertion of a predicate; 0 if none."""
        if predicate in self._facts:
            return len(self._facts[predicate][0].args)
        return len(self._tables[predicate][0].columns) if self._has(predicate) else 0

    def _has(self, predicate: str) -> bool:
        return predicate in self._facts or predicate in self._tables

    def find(self, predicate: str, args: tuple[Term, ...]) -> tuple[Fact, ...]:
        """The assertions of one fact, in the order given."""
        index = self._indexes.get(predicate)
        if index is None:
            index = self._indexes[predicate] = self._index(predicate)
        return index.get(args, ())

    def _index(self, predicate: str) -> _Index:
        found: dict[tuple[Term, ...], list[Fact]] = {}
        for fact in self._facts.get(predicate, ()):
            found.setdefault(fact.args, []).append(fact)
        for table in self._tables.get(predicate, ()):
            for args in zip(*table.columns, strict=True):
                found.setdefault(args, []).append(Fact(predicate, args, table.basis))
        return {args: tuple(facts) for args, facts in found.items()}

    def among(
        self, predicate: str, wanted: set[tuple[Term, ...]]
    ) -> set[tuple[Term, ...]]:
        """Those of some terms that are asserted of a predicate."""
        facts, tables = self._facts.get(predicate, ()), self._tables.get(predicate, ())
        found = {fact.args for fact in facts if fact.args in wanted}
        return found.union(
            *(wanted.intersection(zip(*each.columns, strict=True)) for each in tables)
        )

    def rows(self, predicate: str, symbols: Sequence[Symbols]) -> set[Row]:
        """The asserted rows of a predicate.

        Raises:
            FactError: one of them has another number of terms than there are symbol
                tables.
        """
        found: set[Row] = set()
        facts = self._facts.get(predicate)
        if facts:
            columns = _columns(facts, len(symbols))
            found = _numbered(columns, symbols) if symbols else {()}
        for table in self._tables.get(predicate, ()):
            if len(table.columns) != len(symbols):
                raise FactError(
                    f"`{predicate}` has {len(table.columns)} columns in a table and "
                    f"{len(symbols)} elsewhere"
                )
            rows = _numbered(table.columns, symbols)
            found = found | rows if found else rows
        return found

    def revised(self, added: Iterable[Fact], removed: Iterable[Fact]) -> Assertions:
        """The same with some facts added and some removed.

        A fact is removed as it was asserted, basis and all; other assertions of the
        same stay. Facts of tables are removed in the same way.
        """
        made = Assertions(())
        made._facts, made._tables = dict(self._facts), dict(self._tables)
        gone = dict.fromkeys(removed)
        for predicate in dict.fromkeys(fact.predicate for fact in gone):
            facts = self._facts.get(predicate, [])
            tables = self._tables.get(predicate, [])
            kept = [fact for fact in facts if fact not in gone]
            cut = [_without(table, gone) for table in tables]
            _put(made._facts, predicate, kept)
            _put(made._tables, predicate, cut)
        for fact in added:
            facts = made._facts.get(fact.predicate, [])
            made._facts[fact.predicate] = [*facts, fact]
        return made


def _put(where: dict[str, list[_T]], predicate: str, values: list[_T]) -> None:
    if values:
        where[predicate] = values
    else:
        where.pop(predicate, None)


def _without(table: Table, gone: dict[Fact, None]) -> Table:
    """A table without the rows that are asserted by some facts."""
    rows = {fact.args for fact in gone if fact.basis == table.basis}
    kept = [row for row in zip(*table.columns, strict=True) if row not in rows]
    columns = list(zip(*kept, strict=True)) or [() for _ in table.columns]
    return table._replace(columns=columns)


def _columns(facts: Sequence[Fact], width: int) -> Sequence[Sequence[Term]]:
    """The terms of facts by column, as many as they should have."""
    for fact in facts:
        if len(fact.args) != width:
            args = ", ".join(map(str, fact.args))
            raise FactError(
                f"`{fact.predicate}` has {len(fact.args)} terms in the fact "
                f"`{fact.predicate}({args})` and {width} elsewhere"
            )
    return list(zip(*[fact.args for fact in facts], strict=True))


def _numbered(
    columns: Sequence[Sequence[Term]], symbols: Sequence[Symbols]
) -> set[Row]:
    """Columns of terms as rows of numbers."""
    numbers = [
        map(table.__getitem__, column)
        for table, column in zip(symbols, columns, strict=True)
    ]
    return set(zip(*numbers, strict=True))
