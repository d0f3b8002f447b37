"""A relation, kept as rows or as bits, whichever its rules make cheaper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeAlias

from abluent.engine._bits import Batch, BitStore, Masks, Row, grouped_masks
from abluent.engine._tuples import TupleStore

# What a plan finds: rows, or the masks of the last column by the columns before.
Found: TypeAlias = Iterable[Row] | Masks


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

    def merge(self, findings: Iterable[Found]) -> Relation:
        """Add what plans found; returns the relation of the rows that were new."""
        findings = list(findings)
        fresh = Relation(self.arity)
        bits = isinstance(self._store, BitStore)
        if bits or any(isinstance(found, dict) for found in findings):
            self._turn_into_bits()
            assert isinstance(self._store, BitStore)
            new_masks = _new_masks(findings, self._store.masks, self.arity)
            self._store.add(new_masks)
            fresh._store = BitStore(self.arity, new_masks)
        else:
            assert isinstance(self._store, TupleStore)
            new_rows = set[Row]().union(*findings) - self._store.held
            self._store.add(new_rows)
            fresh._store = TupleStore(self.arity, new_rows)
        return fresh

    def take(self, other: Relation) -> None:
        """Hold what another relation holds, and nothing else."""
        self._store = other._store

    def _turn_into_bits(self) -> None:
        if isinstance(self._store, TupleStore):
            masks = _masked(self._store.held, self.arity)
            self._store = BitStore(self.arity, masks)


def _masked(rows: Iterable[Row], arity: int) -> Masks:
    if arity == 2:
        return grouped_masks(rows)  # type: ignore[arg-type]  # rows of two columns
    return grouped_masks(((), row[0]) for row in rows)


def _new_masks(findings: Iterable[Found], known: Masks, arity: int) -> Masks:
    new: Masks = {}
    for found in findings:
        masks = found if isinstance(found, dict) else _masked(found, arity)
        for key, mask in masks.items():
            fresh = mask & ~known.get(key, 0)
            if fresh:
                new[key] = new.get(key, 0) | fresh
    return new
