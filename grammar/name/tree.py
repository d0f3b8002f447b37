"""Ingredient names, cut into parts, and what names of a shape stand for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

Stretch: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of spelling that means the same in many names.

    Args:
        symbol: what the base calls it.
        terminal: its kind in `names.lark`.
        spellings: how it is written; a hyphen stands where the word goes on, a star
            for any beginning.
        says: what it tells, in words.
        chain: the carbon number it stands for.
        classes: the kinds of ingredient it points to where it decides.
    """

    symbol: str
    terminal: str
    spellings: tuple[str, ...]
    says: str = ""
    chain: int | None = None
    classes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A way in which parts make up a name, and what such names stand for.

    Args:
        symbol: what the base calls it.
        patterns: the rows of wholes that have it; see `shapes`.
        says: what it tells, in words.
        classes: the kinds of ingredient, if they are the same for every name.
        charge: a kind of charge, if it is the same for every name.
        water: the solubility in water, if it is the same for every name.
        decided_by: kinds of part of which one decides the classes.
        precedence: of two shapes that fit, the higher counts.
    """

    symbol: str
    patterns: tuple[str, ...]
    says: str = ""
    classes: tuple[str, ...] = ()
    charge: str | None = None
    water: str | None = None
    decided_by: frozenset[str] = frozenset()
    precedence: int = 5


@dataclass(frozen=True, slots=True, eq=False)
class PartBook:
    """All that names are read with: parts, shapes, and groups that patterns use."""

    parts: tuple[Part, ...]
    shapes: tuple[Shape, ...]
    groups: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a printed name: its kind, and the part that spells it, if any."""

    terminal: str
    span: Stretch
    text: str
    part: Part | None = None


@dataclass(frozen=True, slots=True)
class NameReading:
    """A name read from its parts.

    Args:
        shape: the shape it has.
        pieces: its parts in order.
        classes: the kinds of ingredient it stands for.
        deciding: the part that tells the kind more than the others, if one does.
        exact: every word was read, and none of them only passed by.
    """

    shape: Shape
    pieces: tuple[Piece, ...]
    classes: tuple[str, ...] = ()
    deciding: Part | None = None
    exact: bool = False

    @property
    def chain(self) -> int | None:
        """The carbon number of the chain, if the name fixes one."""
        found = {p.part.chain for p in self.pieces if p.part and p.terminal in _CHAINED}
        return found.pop() if len(found) == 1 else None

    @property
    def ethoxylation(self) -> int | None:
        """The moles of ethylene oxide, if the name gives them."""
        before = ""
        for piece in self.pieces:
            if piece.terminal == "NUMBER" and before in _ETHOXYLATED:
                return int(piece.text)
            before = piece.terminal
        return None


_CHAINED = frozenset({"ROOT", "ETHER"})
_ETHOXYLATED = frozenset({"ETH", "ETHER", "PEG"})
