"""A relation, kept as rows or as bits, whichever its rules make cheaper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import itemgetter
from typing import Any, TypeAlias

from abluent.engine.logic._bits import (
    Batch,
    BitStore,
    Masks,
    Row,
    Swept,
    grouped_masks,
)
from abluent.engine.logic._tuples import TupleStore

# What a plan finds.
Found: TypeAlias = list[Row] | set[Row] | Swept


class Relation:
    """The rows of one predicate.

    It starts as rows; the first masks that are merged into it turn it into bits.
    Plans hold on to the relation, never to what it is made of.
    """

    __slots__ = ("_store", "arity")

    def __init__(self, arity: int, rows: set[Row] | None = None) -> None:
        self.arity = arity
        self._store: TupleStore | BitStore = TupleStore(arity, rows or set())

    def __len__(self) -> int:
        return len(self._store)

    def __contains__(self, row: Row) -> bool:
        return row in self._store

    def __iter__(self) -> Iterator[Row]:
        return iter(self._store.rows())

    @property
    def is_rows(self) -> bool:
        """Whether it is kept as rows at present."""
        return isinstance(self._store, TupleStore)

    def decoded(self, columns: Sequence[Sequence[Any]]) -> Iterator[tuple[Any, ...]]:
        """Every row as terms, given the terms of every column by their numbers."""
        return self._store.decoded(columns)

    def find(self, keys: tuple[int, ...], key: Any) -> Iterable[Row]:
        """The rows that have a key in some columns; bare for a single column."""
        return self._store.find(keys, key)

    def filter(
        self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...], absent: bool
    ) -> Batch:
        """The bindings with which some row agrees, or with `absent` none does.

        Args:
            batch: the bindings.
            keys: the columns that are compared, in order.
            slots: where in a binding the value of each of them stands.
            absent: keep those that no row agrees with.
        """
        return self._store.filter(batch, keys, slots, absent)

    def extend(
        self,
        batch: Batch,
        keys: tuple[int, ...],
        slots: tuple[int, ...],
        payload: tuple[int, ...],
    ) -> Batch:
        """The bindings, each extended by the `payload` of every row that agrees."""
        return self._store.extend(batch, keys, slots, payload)

    def part(self, columns: tuple[int, ...]) -> TupleStore | BitStore:
        """The relation of some of its columns, repetitions left out."""
        return self._store.part(columns)

    def masks(self, keys: tuple[int, ...], column: int) -> Masks:
        """The masks of one column, by the numbers in other columns."""
        return self._store.read(keys, column)

    def count(self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...]) -> int:
        """How many bindings `extend` would make of a batch."""
        return self._store.count(batch, keys, slots)

    def merge(self, findings: Iterable[Found]) -> Relation:
        """Add what plans found; returns the relation of the rows that were new."""
        findings = list(findings)
        fresh = Relation(self.arity)
        swept = [found for found in findings if isinstance(found, Swept)]
        if swept and isinstance(self._store, TupleStore):
            column = max(swept, key=lambda found: len(found.masks)).column
            masks = _masked(self._store.held, self.arity, column)
            self._store = BitStore(self.arity, masks, column)
        if isinstance(self._store, BitStore):
            fresh._store = _merge_masks(self._store, findings)
        else:
            rows = [found for found in findings if not isinstance(found, Swept)]
            new_rows = set[Row]().union(*rows) - self._store.held
            self._store.add(new_rows)
            fresh._store = TupleStore(self.arity, new_rows)
        return fresh

    def copy(self) -> Relation:
        """Another relation with the same rows; what is derived of them is shared."""
        made = Relation(self.arity)
        made._store = self._store.copy()
        return made

    def found(self) -> Found:
        """Its rows in the form of a finding, without a copy."""
        if isinstance(self._store, BitStore):
            return self._store.swept()
        return self._store.held

    def minus(self, other: Relation) -> Relation:
        """The rows that another relation does not have."""
        found = Relation(self.arity)
        mine, theirs = self._store, other._store
        if isinstance(mine, BitStore) and isinstance(theirs, BitStore):
            found._store = mine.minus(theirs)
        elif isinstance(theirs, TupleStore):
            found._store = TupleStore(self.arity, set(self) - theirs.held)
        else:
            rows = {row for row in self if row not in theirs}
            found._store = TupleStore(self.arity, rows)
        return found

    def remove(self, rows: Iterable[Row]) -> None:
        """Take away rows, as far as they are there."""
        self._store.remove(set(rows))

    def take(self, other: Relation) -> None:
        """Hold what another relation holds, and nothing else."""
        self._store = other._store


def _masked(rows: Iterable[Row], arity: int, column: int) -> Masks:
    """Rows as masks of a column."""
    if arity == 1:
        return grouped_masks(((), row[0]) for row in rows)
    return grouped_masks(map(itemgetter(1 - column, column), rows))


def _merge_masks(store: BitStore, findings: list[Found]) -> BitStore:
    """Add findings to a store; returns what was new."""
    last = store.arity - 1
    fresh: BitStore | None = None
    for found in findings:
        column = found.column if isinstance(found, Swept) else last
        masks = (
            found.masks
            if isinstance(found, Swept)
            else _masked(found, store.arity, column)
        )
        known = store.masks(column)
        new = {
            key: more
            for key, mask in masks.items()
            if (more := mask & ~known.get(key, 0))
        }
        store.add(new, column)
        if fresh is None:
            fresh = BitStore(store.arity, new, column)
        else:
            fresh.add(new, column)
    return fresh or BitStore(store.arity, {}, last)
