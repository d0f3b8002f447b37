"""Relations as sets of rows, with an index for every way they are read."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from operator import itemgetter
from typing import Any

from abluent.engine.logic._bits import Batch, Masks, Row, grouped_masks, mask_of


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


class TupleStore:
    """A relation of any number of columns."""

    __slots__ = ("_borrows", "_indexes", "_masks", "_parts", "arity", "held")

    def __init__(self, arity: int, rows: set[Row]) -> None:
        self.arity = arity
        self.held = rows
        self._indexes: dict[tuple[int, ...], defaultdict[Any, list[Row]]] = {}
        self._masks: dict[tuple[tuple[int, ...], int], Masks] = {}
        self._parts: dict[tuple[int, ...], TupleStore] = {}
        self._borrows = False

    def __len__(self) -> int:
        return len(self.held)

    def __contains__(self, row: Row) -> bool:
        return row in self.held

    def rows(self) -> Iterable[Row]:
        """Every row."""
        return self.held

    def decoded(self, columns: Sequence[Sequence[Any]]) -> Iterator[tuple[Any, ...]]:
        """Every row as terms, given the terms of every column by their numbers."""
        if not self.arity:
            return iter(self.held)
        numbers = zip(*self.held, strict=True)
        terms = (
            map(each.__getitem__, column)
            for each, column in zip(columns, numbers, strict=False)
        )
        return zip(*terms, strict=True)

    def add(self, more: set[Row]) -> None:
        """Add rows that are not there yet; what was derived from them grows."""
        self.held |= more
        for keys, index in self._indexes.items():
            if self._borrows:
                key = picker(keys)
                for row in more:
                    index[key(row)] = [*index[key(row)], row]
            else:
                _fill(index, keys, more)
        for (keys, column), masks in self._masks.items():
            _fill_masks(masks, keys, column, more)
        for columns, part in self._parts.items():
            part.add(set(map(chooser(columns), more)) - part.held)

    def copy(self) -> TupleStore:
        """Another store of the same rows, to be changed apart from this one.

        The groups of its indexes stay those of this store until they change.
        """
        made = TupleStore(self.arity, set(self.held))
        made._indexes = {keys: index.copy() for keys, index in self._indexes.items()}
        made._borrows = True
        return made

    def remove(self, rows: set[Row]) -> None:
        """Take away rows, as far as they are there."""
        gone = rows & self.held
        self.held -= gone
        self._masks.clear()
        self._parts.clear()
        for keys, index in self._indexes.items():
            key = picker(keys)
            for row in gone:
                kept = [each for each in index.pop(key(row)) if each != row]
                if kept:
                    index[key(row)] = kept

    def find(self, keys: tuple[int, ...], key: Any) -> Iterable[Row]:
        """The rows that have a key in some columns."""
        if not keys:
            return self.held
        if len(keys) == self.arity:
            row = key if self.arity > 1 else (key,)
            return (row,) if row in self.held else ()
        return self._index(keys).get(key, ())

    def filter(
        self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...], absent: bool
    ) -> Batch:
        """The bindings with which some row agrees, or with `absent` none does."""
        if len(keys) == self.arity:
            known: Container[Any] = self.held
            key: Callable[[Row], Any] = chooser(slots)
        else:
            known, key = self._index(keys), picker(slots)
        if absent:
            return [row for row in batch if key(row) not in known]
        return [row for row in batch if key(row) in known]

    def extend(
        self,
        batch: Batch,
        keys: tuple[int, ...],
        slots: tuple[int, ...],
        payload: tuple[int, ...],
    ) -> Batch:
        """The bindings extended by the wanted columns of the rows that agree."""
        if not keys:
            found = list(map(chooser(payload), self.held))
            return [row + more for row in batch for more in found]
        get, key = self._index(keys).get, picker(slots)
        if len(payload) == 1:
            (only,) = payload
            return [(*row, more[only]) for row in batch for more in get(key(row), ())]
        cut = chooser(payload)
        return [row + cut(more) for row in batch for more in get(key(row), ())]

    def count(self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...]) -> int:
        """How many bindings `extend` would make."""
        if not keys:
            return len(batch) * len(self.held)
        get, key = self._index(keys).get, picker(slots)
        return sum([len(get(key(row), ())) for row in batch])

    def part(self, columns: tuple[int, ...]) -> TupleStore:
        """The relation of some of the columns, repetitions left out."""
        part = self._parts.get(columns)
        if part is None:
            rows = set(map(chooser(columns), self.held))
            part = self._parts[columns] = TupleStore(len(columns), rows)
        return part

    def read(self, keys: tuple[int, ...], column: int) -> Masks:
        """The masks of one column, by the numbers of other columns."""
        masks = self._masks.get((keys, column))
        if masks is None:
            masks = self._masks[keys, column] = {}
            _fill_masks(masks, keys, column, self.held)
        return masks

    def _index(self, keys: tuple[int, ...]) -> defaultdict[Any, list[Row]]:
        index = self._indexes.get(keys)
        if index is None:
            index = self._indexes[keys] = defaultdict(list)
            _fill(index, keys, self.held)
        return index


def _fill(
    index: defaultdict[Any, list[Row]], keys: tuple[int, ...], rows: Iterable[Row]
) -> None:
    key = picker(keys)
    for row in rows:
        index[key(row)].append(row)


def _fill_masks(
    masks: Masks, keys: tuple[int, ...], column: int, rows: Iterable[Row]
) -> None:
    if not keys:
        mask = mask_of({row[column] for row in rows})
        masks[()] = masks.get((), 0) | mask
        return
    if len(keys) == 1:
        pairs: Iterable[tuple[Any, int]] = map(itemgetter(keys[0], column), rows)
    else:
        key = picker(keys)
        pairs = ((key(row), row[column]) for row in rows)
    for group, mask in grouped_masks(pairs).items():
        masks[group] = masks.get(group, 0) | mask
