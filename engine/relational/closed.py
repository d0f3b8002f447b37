"""What is known beforehand: a model, or a snapshot of as much of it as is asked for.

A snapshot is plain data that can be kept from run to run, as what follows from a base
alone takes longer to work out than many a catalogue to be judged.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, Protocol, TypeAlias

from abluent.engine.logic.program import Program
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.logic.terms import Term
from abluent.engine.relational.translate import depending

Row: TypeAlias = tuple[Term, ...]


class Closed(Protocol):
    """What is known beforehand, such as a `Model`."""

    def predicates(self) -> Collection[str]:
        """Every predicate of which something may be known."""

    def match(
        self, predicate: str, pattern: Sequence[Term | None] | None = None
    ) -> Iterator[Row]:
        """The facts that agree with a pattern; all of them if it is left out."""

    def asserted(self, predicate: str, args: Sequence[Term]) -> Any:
        """Something, if a fact is asserted; nothing, if it only follows."""


class Snapshot:
    """Facts of some predicates, and which of these are asserted.

    Args:
        rows: the facts, by predicate.
        asserted: of predicates that rules conclude, the facts that are asserted.
    """

    def __init__(
        self, rows: Mapping[str, Collection[Row]], asserted: Mapping[str, set[Row]]
    ) -> None:
        self._rows, self._asserted = rows, asserted

    @classmethod
    def of(
        cls,
        closed: Closed,
        program: Program,
        goals: Iterable[str],
        varying: Collection[str],
    ) -> Snapshot:
        """As much of a model as working out some goals in bulk asks for."""
        known = {name for name in varying if next(iter(closed.match(name)), None)}
        _, needed = depending(program, goals, varying, known)
        there = {*closed.predicates()}
        names = sorted(there & (needed | {*varying}))
        rows = {name: list(closed.match(name)) for name in names}
        asserted = {
            name: {row for row in rows[name] if closed.asserted(name, row)}
            for name in names
            if program.concluding(name) and name in varying
        }
        return cls(rows, asserted)

    def plain(self) -> Any:
        """The snapshot as tuples, texts and numbers."""
        parts = (self._rows, self._asserted)
        return [{n: [*map(to_plain, rows)] for n, rows in p.items()} for p in parts]

    @classmethod
    def of_plain(cls, plain: Any) -> Snapshot:
        """The snapshot that `plain` gave."""
        rows, asserted = plain
        return cls(
            {name: [*map(from_plain, each)] for name, each in rows.items()},
            {name: {*map(from_plain, each)} for name, each in asserted.items()},
        )

    def predicates(self) -> Collection[str]:
        """Every predicate of which something may be known."""
        return self._rows.keys()

    def match(
        self, predicate: str, pattern: Sequence[Term | None] | None = None
    ) -> Iterator[Row]:
        """The facts that agree with a pattern; all of them if it is left out."""
        rows = self._rows.get(predicate, ())
        asked = [(at, t) for at, t in enumerate(pattern or ()) if t is not None]
        if not asked:
            return iter(rows)
        return (row for row in rows if all(row[at] == term for at, term in asked))

    def asserted(self, predicate: str, args: Sequence[Term]) -> bool:
        """Whether a fact is asserted."""
        if predicate in self._asserted:
            return tuple(args) in self._asserted[predicate]
        return tuple(args) in self._rows.get(predicate, ())
