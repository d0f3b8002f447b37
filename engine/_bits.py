"""Sets of numbers as the bits of one integer, and relations made of them.

Bit `n` of a mask is set when number `n` is in the set. Python's integers do union,
intersection and difference of such sets a machine word at a time, so that a rule
over all pairs of two sorts costs one operation per row instead of one per pair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain, compress, repeat
from typing import Any, TypeAlias

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


class BitStore:
    """A relation of one or two columns: for every first number a mask of seconds.

    A relation of one column has the single key `()`.
    """

    __slots__ = ("_turned", "_wholes", "arity", "masks")

    def __init__(self, arity: int, masks: Masks) -> None:
        self.arity = arity
        self.masks = masks
        self._turned: Masks | None = None
        self._wholes: dict[int, int] = {}

    def __len__(self) -> int:
        return sum(map(int.bit_count, self.masks.values()))

    def __contains__(self, row: Row) -> bool:
        key = row[0] if self.arity == 2 else ()
        return bool(self.masks.get(key, 0) >> row[-1] & 1)

    def add(self, more: Masks) -> None:
        """Add masks of rows that are not there yet."""
        _add(self.masks, more)
        self._wholes.clear()
        if self._turned is not None:
            _add(self._turned, transposed(more))

    def rows(self) -> Iterator[Row]:
        """Every row."""
        lists = Lists()
        if self.arity == 1:
            return zip(lists[self.masks.get((), 0)])
        return chain.from_iterable(
            zip(repeat(key), lists[mask]) for key, mask in self.masks.items()
        )

    def read(self, keys: tuple[int, ...], column: int) -> Masks:
        """The masks of one column, by the numbers of the other column or of none."""
        if not keys:
            return {(): self.whole(column)}
        return self.masks if keys == (0,) else self._transposed()

    def whole(self, column: int) -> int:
        """The numbers that stand in a column."""
        if column not in self._wholes:
            last = column == self.arity - 1
            mask = union(self.masks.values()) if last else mask_of(self.masks)
            self._wholes[column] = mask
        return self._wholes[column]

    def part(self, columns: tuple[int, ...]) -> BitStore:
        """The relation of one of the columns, repetitions left out."""
        (column,) = columns
        return BitStore(1, {(): self.whole(column)})

    def find(self, keys: tuple[int, ...], key: Any) -> Iterable[Row]:
        """The rows that have a key in some columns."""
        if not keys:
            return self.rows()
        if len(keys) == self.arity:
            row = key if self.arity == 2 else (key,)
            return (row,) if row in self else ()
        found = members(self.read(keys, 1 - keys[0]).get(key, 0))
        if keys == (0,):
            return zip(repeat(key), found)
        return zip(found, repeat(key))

    def filter(
        self, batch: Batch, keys: tuple[int, ...], slots: tuple[int, ...], absent: bool
    ) -> Batch:
        """The bindings with which some row agrees, or with `absent` none does."""
        if len(keys) == 2:
            first, second = slots
            get = self.masks.get
            if absent:
                return [r for r in batch if not get(r[first], 0) >> r[second] & 1]
            return [r for r in batch if get(r[first], 0) >> r[second] & 1]
        if not keys:
            return batch if any(self.masks.values()) != absent else []
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
            get = self.read(keys, 1 - keys[0]).get
            (slot,) = slots
            lists = Lists()
            return [
                (*row, number) for row in batch for number in lists[get(row[slot], 0)]
            ]
        if len(payload) == 1:
            numbers = members(self.whole(payload[0]))
            return [(*row, number) for row in batch for number in numbers]
        rows = list(self.rows())
        return [row + more for row in batch for more in rows]

    def _transposed(self) -> Masks:
        if self._turned is None:
            self._turned = transposed(self.masks)
        return self._turned


class Lists(dict[int, list[int]]):
    """The members of masks, each mask taken apart once."""

    def __missing__(self, mask: int) -> list[int]:
        found = self[mask] = members(mask)
        return found


def _add(masks: Masks, more: Mapping[Any, int]) -> None:
    for key, mask in more.items():
        masks[key] = masks.get(key, 0) | mask
