"""Tables of cells, and the files they are kept in.

A table is kept as tab-separated lines in order, its key columns marked by a colon, so
that a difference between two versions is a difference between lines. The pages are
kept whole, as a file each.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

STATE = Path(__file__).parent / "state"
PAGES = "pages"
_LONG = 160

Key = tuple[str, ...]
Row = Mapping[str, str]
Read = Callable[[Path], str]


class Unreadable(Exception):
    """A kept file is not as `python -m tests.kept --keep` writes it."""


@dataclass(frozen=True)
class Table:
    """Cells by the key of their row and the name of their column."""

    name: str
    keys: tuple[str, ...]
    rows: Mapping[Key, Row]

    @property
    def columns(self) -> list[str]:
        """The columns that any row has, in the order in which they first come."""
        return list(dict.fromkeys(name for row in self.rows.values() for name in row))


def cell(value: object) -> str:
    """Return a value as it stands in a cell: one line, and not too long a one."""
    text = " ".join(str(value).encode("utf-8", "backslashreplace").decode().split())
    if len(text) <= _LONG:
        return text
    return f"{text[:_LONG]}… ({digest(text)})"


def digest(value: Any) -> str:
    """Return a few letters that differ when the value does."""
    text = json.dumps(value, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:10]


def print_table(table: Table) -> str:
    """Return a table as lines, in order."""
    columns = table.columns
    lines = ["\t".join([*(f"{key}:" for key in table.keys), *columns])]
    for key, row in sorted(table.rows.items()):
        lines.append("\t".join([*key, *(row.get(name, "") for name in columns)]))
    return "\n".join(lines) + "\n"


def parse_table(name: str, text: str) -> Table:
    """Read what `print_table` printed.

    Raises:
        Unreadable: a line has not as many cells as there are columns.
    """
    head, *lines = text.removesuffix("\n").split("\n")
    names = head.split("\t")
    keys = tuple(each[:-1] for each in names if each.endswith(":"))
    rows = {}
    for number, line in enumerate(lines, 2):
        cells = line.split("\t")
        if len(cells) != len(names):
            raise Unreadable(
                f"{name}.tsv:{number}: {len(cells)} cells for {len(names)} columns\n"
                f"  {line[:80]}\n"
                "  take one side of it whole (git checkout --ours FILE), then --keep"
            )
        key, values = tuple(cells[: len(keys)]), cells[len(keys) :]
        rows[key] = dict(zip(names[len(keys) :], values, strict=True))
    return Table(name, keys, rows)


def pages(texts: Mapping[str, str]) -> Table:
    """Return pages as a table of whole texts."""
    return Table(PAGES, ("page",), {(name,): {"text": t} for name, t in texts.items()})


def keep(tables: Iterable[Table], state: Path = STATE) -> None:
    """Write tables in the place of those kept."""
    for table in tables:
        if table.name != PAGES:
            _write(state / f"{table.name}.tsv", print_table(table))
            continue
        for old in (state / PAGES).glob("*"):
            old.unlink()
        listed: dict[Key, Row] = {}
        for (name,), row in table.rows.items():
            _write(state / PAGES / name, row["text"])
            listed[(name,)] = {"lines": str(row["text"].count("\n"))}
        _write(state / f"{PAGES}.tsv", print_table(Table(PAGES, table.keys, listed)))


def kept(names: Sequence[str], read: Read, state: Path = STATE) -> list[Table]:
    """Read the tables kept; one that is not there is empty.

    Args:
        names: which tables.
        read: returns the text of a file, or raises `FileNotFoundError`.
        state: the folder they are kept in.
    """
    return [_kept(name, read, state) for name in names]


def _kept(name: str, read: Read, state: Path) -> Table:
    try:
        if name == PAGES:
            listed = parse_table(name, read(state / f"{PAGES}.tsv")).rows
            return pages({page: read(state / PAGES / page) for (page,) in listed})
        return parse_table(name, read(state / f"{name}.tsv"))
    except FileNotFoundError:
        return Table(name, (), {})


def on_disk(path: Path) -> str:
    """Return the text of a file as it lies here."""
    return path.read_text(encoding="utf-8")


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
