"""The official inventory of names: what is listed there, by name, number and use.

The file is a table in order of its folded names, so that a name is found in it by
halving, without reading it line by line. It is opened when a name is first asked
for that the base does not list, and says nothing of what kind of thing a name is.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from abluent.engine.base import files
from abluent.engine.base.fold import fold

_NAMES, _FUNCTIONS = "inventory/names.tsv", "inventory/functions.tsv"


class Function(NamedTuple):
    """An official function.

    Args:
        words: what it is called.
        hair: whether it is a use on hair or in a wash.
        kinds: the kinds of ingredient that agree with it, where it says so much.
    """

    words: str
    hair: bool
    kinds: tuple[str, ...]


class Entry(NamedTuple):
    """A name of the inventory.

    Args:
        name: as it is listed.
        cas: its numbers in the register of chemical abstracts, as listed.
        ec: its numbers in the European list of substances, as listed.
        functions: its official functions, in words.
        hair: whether one of them is a use on hair or in a wash.
    """

    name: str
    cas: str
    ec: str
    functions: tuple[str, ...]
    hair: bool


class Inventory:
    """The inventory, opened but not read."""

    def __init__(self, table: bytes, functions: str) -> None:
        self._table = table
        lines = [line.split("\t") for line in functions.splitlines()[1:]]
        self._functions = {
            code: Function(words, hair == "yes", tuple(kinds.split()))
            for code, words, hair, kinds in lines
        }

    @classmethod
    @cache
    def shipped(cls) -> Inventory:
        """The inventory that the ontology holds."""
        with files.shipped_folder() as folder:
            with open(os.path.join(folder, _NAMES), "rb") as stream:
                table = stream.read()
            with open(os.path.join(folder, _FUNCTIONS), encoding="utf-8") as stream:
                return cls(table, stream.read())

    @property
    def functions(self) -> tuple[Function, ...]:
        """Every official function, in the order of its code."""
        return tuple(self._functions.values())

    def find(self, name: str) -> Entry | None:
        """What is listed under a name, whatever its case and punctuation."""
        wanted = fold(name)
        low, high = 0, len(self._table)
        while low < high:
            start = self._table.rfind(b"\n", low, (low + high) // 2) + 1 or low
            found = fold(self._name_at(start))
            if found < wanted:
                low = self._table.find(b"\n", start) + 1 or high
            else:
                high = start
        listed = low < len(self._table) and fold(self._name_at(low)) == wanted
        return self._entry(low) if wanted and listed else None

    def names(self) -> Iterator[str]:
        """Every name, as it is listed."""
        for line in self._table.splitlines():
            yield line[: line.index(b"\t")].decode()

    def entries(self) -> Iterator[Entry]:
        """Everything that is listed."""
        start = 0
        while start < len(self._table):
            yield self._entry(start)
            start = self._table.index(b"\n", start) + 1

    def _name_at(self, start: int) -> str:
        return self._table[start : self._table.index(b"\t", start)].decode()

    def _entry(self, start: int) -> Entry:
        line = self._table[start : self._table.index(b"\n", start)].decode()
        name, cas, ec, codes = line.split("\t")
        told = [self._functions[code] for code in codes.split()]
        hair = any(each.hair for each in told)
        return Entry(name, cas, ec, tuple(each.words for each in told), hair)
