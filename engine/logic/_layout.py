"""Where values stand in a binding, and where plans find their relations."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from abluent.engine.logic._relation import Relation
from abluent.engine.logic._values import Slots
from abluent.engine.logic.clauses import (
    Absence,
    Atom,
    Collection,
    Literal,
    Variable,
)
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.terms import Term


class Source(Protocol):
    """What a plan reads: relations and symbol tables, by predicate."""

    def relation(self, predicate: str) -> Relation:
        """The relation of a predicate."""

    def symbols(self, predicate: str) -> Sequence[Symbols]:
        """The symbol table of every column of a predicate."""


def atom_of(literal: Literal) -> Atom:
    """The atom of a condition that has one, required or denied."""
    if isinstance(literal, Atom):
        return literal
    assert isinstance(literal, Absence), "only these have an atom"
    return literal.atom


def table_by_variable(body: Sequence[Literal], source: Source) -> dict[str, Symbols]:
    """The symbol table of every variable that stands in an atom of a body."""
    tables: dict[str, Symbols] = {}
    pending = list(body)
    while pending:
        literal = pending.pop()
        if isinstance(literal, Atom | Absence):
            atom = atom_of(literal)
            columns = source.symbols(atom.predicate)
            for argument, table in zip(atom.args, columns, strict=True):
                if isinstance(argument, Variable):
                    tables[argument.name] = table
        elif isinstance(literal, Collection):
            pending.extend(literal.body)
    return tables


class Layout:
    """The places of a binding: constants first, then variables as they are bound.

    Attributes:
        constants: where each of the constants stands: its condition and column.
        slots: the place and the symbol table of every bound variable.
    """

    def __init__(self, tables: dict[str, Symbols]) -> None:
        self.constants: list[tuple[int, int]] = []
        self.slots: Slots = {}
        self._tables = tables
        self._known: dict[tuple[int, int], int] = {}
        self._width = 0

    def table(self, name: str) -> Symbols:
        """The symbol table of a variable; its own, if it stands in no atom."""
        return self._tables.setdefault(name, Symbols())

    def has(self, name: str) -> bool:
        """Whether a variable is bound."""
        return name in self.slots

    def slot(self, name: str) -> int:
        """The place of a bound variable."""
        return self.slots[name][0]

    def bind(self, name: str) -> None:
        """Give a variable the next place."""
        self.slots[name] = (self.skip(), self.table(name))

    def skip(self) -> int:
        """Leave the next place without a name; returns the place."""
        self._width += 1
        return self._width - 1

    def constant(self, term: Term, table: Symbols, where: tuple[int, int]) -> int:
        """The place of a constant; all must be known before a variable is bound."""
        key = (id(table), table[term])
        if key not in self._known:
            self._known[key] = self.skip()
            self.constants.append(where)
        return self._known[key]

    def keep(self, names: Sequence[str]) -> tuple[int, ...]:
        """Move to a binding of the constants and these variables only.

        Returns:
            the old places of what is kept, in the new order.
        """
        constants = len(self.constants)
        places = (*range(constants), *(self.slot(name) for name in names))
        self.slots = {
            name: (constants + place, self.table(name))
            for place, name in enumerate(names)
        }
        self._width = len(places)
        return places
