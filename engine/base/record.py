"""What the base records of one subject, words included."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from abluent.engine.logic.facts import Basis
from abluent.engine.logic.terms import Number


class RecordPart(NamedTuple):
    """What one file says of a subject, and on what basis.

    Each value stands with the local name of its property, such as `inci`. `grounds`
    has the facts that rest on something else than the whole, by property and, for a
    link, its value.
    """

    file: str
    basis: Basis
    links: tuple[tuple[str, str], ...]
    texts: tuple[tuple[str, str], ...]
    numbers: tuple[tuple[str, Number], ...]
    truths: tuple[str, ...]
    grounds: Mapping[tuple[str, str], Basis] = {}


class Record(NamedTuple):
    """All that the base says of a subject.

    Args:
        symbol: its local name.
        space: the prefix of its namespace: `abl`, `ing`, `claim` or `src`.
        parts: what each file says of it, the shipped base first.
    """

    symbol: str
    space: str
    parts: tuple[RecordPart, ...]

    @property
    def basis(self) -> Basis:
        """The basis of the first file that describes it."""
        return self.parts[0].basis

    def basis_of(self, name: str, value: str = "") -> Basis | None:
        """What one fact rests on; none if it is not stated.

        Args:
            name: its property.
            value: of a link, what it links to.
        """
        for part in self.parts:
            if (name, value) in part.grounds:
                return part.grounds[name, value]
            numbers = [(key, "") for key, _ in part.numbers]
            stated = [*part.links, *numbers, *((key, "") for key in part.truths)]
            if (name, value) in stated:
                return part.basis
        return None

    def links(self, name: str) -> list[str]:
        """The symbols that a property links it to."""
        return list(self._of("links", name))

    def link(self, name: str) -> str | None:
        """The first of `links`, if there is one."""
        return next(self._of("links", name), None)

    def texts(self, name: str) -> list[str]:
        """The texts of a property."""
        return list(self._of("texts", name))

    def text(self, name: str) -> str | None:
        """The first of `texts`, if there is one."""
        return next(self._of("texts", name), None)

    def number(self, name: str) -> Number | None:
        """The number of a property, exact, in the unit its comment states."""
        return next(
            (v for part in self.parts for key, v in part.numbers if key == name), None
        )

    def truth(self, name: str) -> bool:
        """Whether a property is stated to be true."""
        return any(name in part.truths for part in self.parts)

    def _of(self, kind: str, name: str) -> Iterator[str]:
        for part in self.parts:
            pairs: tuple[tuple[str, str], ...] = getattr(part, kind)
            for key, value in pairs:
                if key == name:
                    yield value
