"""A relation: a set of rows of numbers, with an index for every way it is read."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from operator import itemgetter
from typing import Any, TypeAlias

Row: TypeAlias = tuple[int, ...]
# A key of one column is the bare number, one of several columns is a row.
Index: TypeAlias = dict[Any, list[Row]]


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a relation.

    Args:
        keys: the columns that are known.
        payload: the columns that are wanted.
        width: the number of columns of the relation.
        same: pairs of columns that must be equal.
    """

    keys: tuple[int, ...]
    payload: tuple[int, ...]
    width: int
    same: tuple[tuple[int, int], ...] = ()


def picker(columns: tuple[int, ...]) -> Callable[[Row], Any]:
    """A function from a row to its key: bare for one column, a row for others."""
    if not columns:
        return lambda row: ()
    return itemgetter(*columns)


def chooser(columns: tuple[int, ...]) -> Callable[[Row], Row]:
    """A function from a row to the row of some of its columns."""
    if not columns:
        return lambda row: ()
    if len(columns) == 1:
        (only,) = columns
        return lambda row: (row[only],)
    return itemgetter(*columns)


class Relation:
    """Rows of one predicate; indexes are made when first asked for and kept."""

    __slots__ = ("_indexes", "arity", "rows")

    def __init__(self, arity: int, rows: Iterable[Row] = ()) -> None:
        self.arity = arity
        self.rows: set[Row] = set(rows)
        self._indexes: dict[Reading, Index] = {}

    def __len__(self) -> int:
        return len(self.rows)

    def add(self, rows: set[Row]) -> None:
        """Add rows that are not yet there; existing indexes grow along."""
        self.rows |= rows
        for reading, index in self._indexes.items():
            _fill(index, reading, rows)

    def replace(self, rows: set[Row]) -> None:
        """Hold these rows and no others."""
        self.rows = rows
        self._indexes.clear()

    def index(self, reading: Reading) -> Index:
        """The rows grouped by the known columns, cut to the wanted ones."""
        index = self._indexes.get(reading)
        if index is None:
            index = self._indexes[reading] = defaultdict(list)
            _fill(index, reading, self.rows)
        return index


def _fill(index: Index, reading: Reading, rows: Iterable[Row]) -> None:
    keys, payload = reading.keys, reading.payload
    if reading.same:
        pairs = reading.same
        rows = [row for row in rows if all(row[i] == row[j] for i, j in pairs)]
    if len(keys) + len(payload) < reading.width:
        # Columns that nobody reads would only repeat what is left of a row.
        rows = set(map(chooser(keys + payload), rows))
        payload = tuple(range(len(keys), len(keys) + len(payload)))
        keys = tuple(range(len(keys)))
    key, cut = picker(keys), chooser(payload)
    for row in rows:
        index[key(row)].append(cut(row))
