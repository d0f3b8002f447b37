"""What changed between two states of the tables, and the reasons given for it.

A reason file has one `[[reason]]` for each cause:

    [[reason]]
    cells = "verdicts: * | Dimethicone | *"    # or a list; `*` is any letters
    column = "verdict"                         # else every column
    from = "open"                              # else whatever it was
    to = "at least partly clears"              # else whatever it is
    why = "what a weaker agent takes, a stronger one takes at least"
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

from .tables import PAGES, Row, Table

REASONS = Path(__file__).parent / "reasons"
TOLD = "told"
"""The folder of reasons whose changes are kept."""
_FIELDS = {"cells", "column", "from", "to", "why"}


class BadReason(Exception):
    """A reason file that cannot be used."""


@dataclass(frozen=True)
class Change:
    """One cell that is not what it was; an empty side was not there."""

    cell: str
    column: str
    old: str
    new: str


@dataclass(frozen=True)
class Reason:
    """Why some cells changed, and which; see the head of this module."""

    cells: tuple[str, ...]
    why: str
    file: Path
    column: str = "*"
    old: str = "*"
    new: str = "*"

    def covers(self, change: Change) -> bool:
        """Whether this is why that cell changed."""
        return (
            any(fnmatchcase(change.cell, cells) for cells in self.cells)
            and fnmatchcase(change.column, self.column)
            and fnmatchcase(change.old, self.old)
            and fnmatchcase(change.new, self.new)
        )


def changes(old: Sequence[Table], new: Sequence[Table]) -> Iterator[Change]:
    """Every cell that differs; both hold the same tables in the same order.

    A table or column that was not kept at all yet is no change, as there is nothing to
    compare it with; one that is no longer given is.
    """
    for before, after in zip(old, new, strict=True):
        if before.rows:
            yield from _changes(before, after)


def unkept(old: Sequence[Table], new: Sequence[Table]) -> list[str]:
    """The tables, and columns of the others, that were not kept yet."""
    return [
        f"{after.name}: {column}" if before.rows else after.name
        for before, after in zip(old, new, strict=True)
        for column in (after.columns if before.rows else [""])
        if column not in before.columns
    ]


def _changes(before: Table, after: Table) -> Iterator[Change]:
    columns = before.columns
    for key in sorted(before.rows.keys() | after.rows.keys()):
        name = f"{after.name}: {' | '.join(key)}"
        old, new = before.rows.get(key), after.rows.get(key)
        if old is None or new is None:
            yield Change(name, "", _whole(old, columns), _whole(new, after.columns))
            continue
        for column in columns:
            was, now = old.get(column, ""), new.get(column, "")
            if was != now:
                sides = _parted(was, now) if after.name == PAGES else (was, now)
                yield Change(name, column, *sides)


def _whole(row: Row | None, columns: Sequence[str]) -> str:
    if row is None:
        return ""
    cells = [row[name] for name in columns if row.get(name)]
    return "; ".join(cells).split("\n")[0] or "(empty)"


def _parted(was: str, now: str) -> tuple[str, str]:
    """The first lines in which two pages differ, after the number of all that do."""
    old, new = was.split("\n"), now.split("\n")
    gone, come = Counter(old) - Counter(new), Counter(new) - Counter(old)
    both = min(len(old), len(new))
    at = next((n for n in range(both) if old[n] != new[n]), both)
    return _line(old, at, gone), _line(new, at, come)


def _line(lines: Sequence[str], at: int, differing: Counter[str]) -> str:
    shown = lines[at].strip() if at < len(lines) else "(the end)"
    return f"line {at + 1}, {differing.total()} differ: {shown}"


def given(change: Change, reasons: Iterable[Reason]) -> Reason | None:
    """The first reason that covers a change."""
    return next((reason for reason in reasons if reason.covers(change)), None)


def load_reasons(files: Iterable[Path]) -> list[Reason]:
    """Read reason files.

    Raises:
        BadReason: a file is no TOML, or a reason lacks its cells or its why, names no
            table, or has a field that is none.
    """
    return [reason for file in files for reason in _reasons(file)]


def _reasons(file: Path) -> Iterator[Reason]:
    try:
        read = tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise BadReason(f"{file}: {error}") from error
    for number, each in enumerate(read.get("reason", ()), 1):
        yield _reason(each, file, number)


def _reason(each: dict[str, Any], file: Path, number: int) -> Reason:
    place = f"{file}: reason {number}"
    if unknown := each.keys() - _FIELDS:
        fields = ", ".join(sorted(_FIELDS))
        raise BadReason(f"{place} has `{min(unknown)}`; it may have {fields}")
    cells = each.get("cells", ())
    cells = (cells,) if isinstance(cells, str) else tuple(cells)
    if not cells or not all(name.partition(": ")[0].isidentifier() for name in cells):
        raise BadReason(f"{place}: `cells` must begin with a table, as `verdicts: *`")
    if not str(each.get("why", "")).strip():
        raise BadReason(f"{place} does not say `why`")
    return Reason(
        cells,
        each["why"],
        file,
        each.get("column", "*"),
        each.get("from", "*"),
        each.get("to", "*"),
    )
