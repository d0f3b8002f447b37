"""What a picture lists or draws: names alike, a small table, a list of ingredients."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from abluent.shell.ground.strand import Strand


class Group(NamedTuple):
    """Names of which the same is so.

    Args:
        mark: the strand; None where no verdict is told.
        word: what is so; may be empty.
        names: the names.
        many: how many things they stand for.
        why: why that is so, in a sentence; may be empty.
    """

    mark: Strand | None
    word: str
    names: tuple[str, ...]
    many: int
    why: str = ""


class Cell(NamedTuple):
    """One verdict in a table; words alone where it has no mark."""

    mark: Strand | None
    word: str


class Table(NamedTuple):
    """Washes side by side, over what they are to take off.

    Args:
        columns: what stands above each column.
        rows: what stands before each row, with its cells.
        key: what the marks of cells without words mean; empty where they have some.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Cell | None, ...]], ...]
    key: str = ""


class Zone(Enum):
    """What the place of a name on a list tells of its amount."""

    BY_AMOUNT = "by amount"
    EITHER = "by amount, or already in the zone of little"
    ANY_ORDER = "little, in any order"


class Rung(NamedTuple):
    """One name of a list of ingredients.

    Args:
        name: what it is called aloud.
        zone: what its place tells.
        asked: whether it is what is asked about.
        named: whether it is told by name where there is no room for all.
        said: what is said of it, in a few words; may be empty.
    """

    name: str
    zone: Zone
    asked: bool = False
    named: bool = False
    said: str = ""


class Ladder(NamedTuple):
    """A list of ingredients, the first on top.

    Args:
        title: whose list it is; empty where the claim says that.
        rungs: its names in order.
        either: what is said of those whose place may tell no more than that.
        zone: what is said of those that stand in any order.
    """

    title: str
    rungs: tuple[Rung, ...]
    either: str = ""
    zone: str = ""


class Step(NamedTuple):
    """One of the stages of what happens on a strand.

    Args:
        shapes: what is drawn, in the words of the base for shapes.
        title: what happens, in a few words.
        text: a sentence more; may be empty.
    """

    shapes: tuple[str, ...]
    title: str
    text: str = ""
