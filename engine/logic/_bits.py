"""Sets of numbers as the bits of one integer, and relations made of them.

Bit `n` of a mask is set when number `n` is in the set. Python's integers do union,
intersection and difference of such sets a machine word at a time, so that a rule
over all pairs of two sorts costs one operation per row instead of one per pair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain, compress, repeat
from typing import Any, NamedTuple, TypeAlias

Row: TypeAlias = tuple[int, ...]
# A key of one column is the bare number, one of several columns is a row.
Masks: TypeAlias = dict[Any, int]
Batch: TypeAlias = list[Row]

_FEW = 8
_SHORT = 512
_BITS = bytes.maketrans(b"01", b"\x00\x01")


def members(mask: int) -> list[int]:
    """The numbers in a mask, smallest first."""
    count, length = mask.bit_count(), mask.bit_length()
    if count * _FEW >= length:
        return list(compress(range(length), _flags(mask)))
    found = []
    if length <= _SHORT:
        while mask:
            lowest = mask & -mask
            found.append(lowest.bit_length() - 1)
            mask ^= lowest
        return found
    text = bin(mask)[:1:-1]
    place = text.find("1")
    while place >= 0:
        found.append(place)
        place = text.find("1", place + 1)
    return found


def _flags(mask: int) -> bytes:
    """One byte per bit, lowest first, 1 where the bit is set."""
    return bin(mask)[:1:-1].encode().translate(_BITS)


def mask_of(numbers: Iterable[int]) -> int:
    """The mask of some numbers."""
    numbers = list(numbers)
    if not numbers:
        return 0
    largest = max(numbers)
    if len(numbers) < _FEW or largest < _SHORT:
        mask = 0
        for number in numbers:
            mask |= 1 << number
        return mask
    # Setting bytes is independent of the length of the mask.
    bits = bytearray((largest >> 3) + 1)
    for number in numbers:
        bits[number >> 3] |= 1 << (number & 7)
    return int.from_bytes(bits, "little")


def grouped_masks(pairs: Iterable[tuple[Any, int]]) -> Masks:
    """The masks of pairs of a key and a number, by key."""
    groups: dict[Any, list[int]] = {}
    for key, number in pairs:
        if key in groups:
            groups[key].append(number)
        else:
            groups[key] = [number]
    return {key: mask_of(numbers) for key, numbers in groups.items()}


def transposed(masks: Mapping[int, int]) -> Masks:
    """The masks read the other way: from members to keys.

    Equal masks are taken apart only once, whatever the number of keys that share
    them.
    """
    sharing: dict[int, list[int]] = {}
    for key, mask in masks.items():
        sharing.setdefault(mask, []).append(key)
    found: Masks = {}
    for mask, keys in sharing.items():
        column = mask_of(keys)
        for member in members(mask):
            found[member] = found.get(member, 0) | column
    return found


def union(masks: Iterable[int]) -> int:
    """The numbers that are in any of some masks."""
    whole = 0
    for mask in set(masks):
        whole |= mask
    return whole


class Swept(NamedTuple):
    """Rows as masks of one column, by the other column or by `()`."""

    masks: Masks
    column: int


class BitStore:
    """A relation of one or two columns as masks.

    Two columns can be kept by the first, as masks of the second, or by the second;
    whichever is missing is made when it is first read, and then both are kept. A
    relation of one column is one mask, under the key `()`.
    """

    __slots__ = ("_by", "_size", "_wholes", "arity")

    def __init__(self, arity: int, masks: Masks, column: int) -> None:
        """Take over `masks`, whose members are the numbers of `column`."""
        self.arity = arity
        self._by: dict[int, Masks] = {column: masks}
        self._wholes: dict[int, int] = {}
        self._size = _count(masks)

    def __len__(self) -> int:
        return self._size

    def __contains__(self, row: Row) -> bool:
        column, masks = next(iter(self._by.items()))
        key = row[1 - column] if self.arity == 2 else ()
        return bool(masks.get(key, 0) >> row[column] & 1)

    def add(self, more: Masks, column: int) -> None:
        """Add rows that are not there yet, as masks of a column."""
        for kept, masks in self._by.items():
            _add(masks, more if kept == column else transposed(more))
        self._wholes.clear()
        self._size += _count(more)

    def copy(self) -> BitStore:
        """Another store of the same rows, to be changed apart from this one."""
        (column, masks), *others = self._by.items()
        made = BitStore(self.arity, dict(masks), column)
        made._by |= {other: dict(kept) for other, kept in others}
        return made

    def swept(self) -> Swept:
        """Its masks as they are kept."""
        column, masks = next(iter(self._by.items()))
        return Swept(masks, column)

    def minus(self, other: BitStore) -> BitStore:
        """The rows that another store does not have."""
        column, masks = next(iter(self._by.items()))
        theirs = other.masks(column)
        left = {
            key: rest
            for key, mask in masks.items()
            if (rest := mask & ~theirs.get(key, 0))
        }
        return BitStore(self.arity, left, column)

    def remove(self, rows: set[Row]) -> None:
        """Take away rows, as far as they are there."""
        gone = [row for row in rows if row in self]
        for column, masks in self._by.items():
            for row in gone:
                key = row[1 - column] if self.arity == 2 else ()
                masks[key] &= ~(1 << row[column])
                if not masks[key]:
                    del masks[key]
        self._wholes.clear()
        self._size -= len(gone)

    def rows(self) -> Iterator[Row]:
        """Every row."""
        lists = Lists()
        column, masks = next(iter(self._by.items()))
        if self.arity == 1:
            return zip(lists[masks.get((), 0)])
        return chain.from_iterable(
            _pairs(key, lists[mask], column) for key, mask in masks.items()
        )

    def decoded(self, columns: Sequence[Sequence[Any]]) -> Iterator[tuple[Any, ...]]:
        """Every row as terms, given the terms of every column by their numbers.

        Rows that share a mask share the work of taking it apart.
        """
        column, masks = next(iter(self._by.items()))
        terms = columns[column]
        lists = {mask: list(compress(terms, _flags(mask))) for mask in masks.values()}
        if self.arity == 1:
            return zip(lists.get(masks.get((), 0), ()))
        keys = columns[1 - column]
        return chain.from_iterable(
            _pairs(keys[key], lists[mask], column) for key, mask in masks.items()
        )

    def masks(self, column: int) -> Masks:
        """The masks of a column, by the other column or by `()`."""
        masks = self._by.get(column)
        if masks is None:
            masks = self._by[column] = transposed(self._by[1 - column])
        return masks

    def read(self, keys: tuple[int, ...], column: int) -> Masks:
        """The masks of a column, by the other column or by none."""
        return self.masks(column) if keys else {(): self.whole(column)}

    def whole(self, column: int) -> int:
        """The numbers that stand in a column."""
        if column not in self._wholes:
            masks = self._by.get(column)
            if masks is None:
                self._wholes[column] = mask_of(self._by[1 - column])
            else:
                self._wholes[column] = union(masks.values())
        return self._wholes[column]

    def part(self, columns: tuple[int, ...]) -> BitStore:
        """The relation of one of the columns, repetitions left out."""
        (column,) = columns
        return BitStore(1, {(): self.whole(column)}, 0)

    def find(self, keys: tuple[int, ...], key: Any) -> Iterable[Row]:
        """The rows that have a key in some columns."""
        if not keys:
            return self.rows()
        if len(keys) == self.arity:
            row = key if self.arity == 2 else (key,)
            return (row,) if row in self else ()
        column = 1 - keys[0]
        return _pairs(key, members(self.masks(column).get(key, 0)), column)

    def filter(
        self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...], absent: bool
    ) -> Batch:
        """The bindings with which some row agrees, or with `absent` none does."""
        if len(keys) == 2:
            column, masks = next(iter(self._by.items()))
            get, outer, inner = masks.get, slots[1 - column], slots[column]
            if absent:
                return [r for r in batch if not get(r[outer], 0) >> r[inner] & 1]
            return [r for r in batch if get(r[outer], 0) >> r[inner] & 1]
        if not keys:
            return batch if (len(self) > 0) != absent else []
        (slot,) = slots
        mask = self.whole(keys[0])
        if absent:
            return [row for row in batch if not mask >> row[slot] & 1]
        return [row for row in batch if mask >> row[slot] & 1]

    def extend(
        self,
        batch: Batch,
        keys: tuple[int, ...],
        slots: tuple[int, ...],
        payload: tuple[int, ...],
    ) -> Batch:
        """The bindings extended by the wanted columns of the rows that agree."""
        if keys:
            get = self.masks(1 - keys[0]).get
            (slot,) = slots
            lists = Lists()
            return [
                (*row, number) for row in batch for number in lists[get(row[slot], 0)]
            ]
        if len(payload) == 1:
            numbers = members(self.whole(payload[0]))
            return [(*row, number) for row in batch for number in numbers]
        rows = list(self.rows())
        return [
            (*row, more[payload[0]], more[payload[1]]) for row in batch for more in rows
        ]

    def count(self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...]) -> int:
        """How many bindings `extend` would make."""
        if not keys:
            return len(batch) * len(self)
        get = self.masks(1 - keys[0]).get
        (slot,) = slots
        return sum([get(row[slot], 0).bit_count() for row in batch])


def _count(masks: Masks) -> int:
    return sum(map(int.bit_count, masks.values()))


def _pairs(key: Any, numbers: Iterable[Any], column: int) -> Iterator[tuple[Any, ...]]:
    """Rows of two columns, of which the one that is not `column` is the key."""
    return zip(repeat(key), numbers) if column else zip(numbers, repeat(key))


class Lists(dict[int, list[int]]):
    """The members of masks, each mask taken apart once."""

    def __missing__(self, mask: int) -> list[int]:
        found = self[mask] = members(mask)
        return found


def _add(masks: Masks, more: Mapping[Any, int]) -> None:
    for key, mask in more.items():
        masks[key] = masks.get(key, 0) | mask
