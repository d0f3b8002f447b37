"""What a picture lists: names of which the same is so, or a small table."""

from __future__ import annotations

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
    """One verdict in a table."""

    mark: Strand
    word: str


class Table(NamedTuple):
    """Washes side by side, over what they are to take off."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Cell | None, ...]], ...]
