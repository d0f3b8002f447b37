"""A shelf read from a file or a folder, by what it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.record import replace
from abluent.shell.shelf.shelf import Shelf

if TYPE_CHECKING:
    from pathlib import Path


_OF_MANY = {".csv", ".tsv", ".jsonl", ".ndjson", ".parquet"}


def open_shelf(path: Path) -> Shelf:
    """Read a shelf from a file or a folder, by what it is.

    Raises:
        CommandError: there is nothing there, or its kind of file is not known.
        DataError: the file cannot be read at all.
    """
    reader = _reader(path)
    return reader(path)


def _reader(path: Path) -> Callable[[Path], Shelf]:
    # Imported here: a question over JSON Lines has no use for the CSV module.
    if path.is_dir() and _parts(path):
        return _read_parts
    if path.is_dir() or path.suffix.casefold() == ".txt":
        from abluent.shell.shelf.as_text import read_folder, read_label_file

        return read_folder if path.is_dir() else read_label_file
    if path.suffix.casefold() in {".csv", ".tsv"}:
        from abluent.shell.shelf.as_csv import read_csv

        return read_csv
    if path.suffix.casefold() in {".jsonl", ".ndjson", ".json"}:
        from abluent.shell.shelf.as_jsonl import read_jsonl

        return read_jsonl
    if path.suffix.casefold() == ".parquet":
        from abluent.shell.shelf.as_parquet import read_parquet

        return read_parquet
    if not path.exists():
        raise CommandError(
            Problem(f'there is no shelf "{path}"', hint="check the path")
        )
    raise CommandError(
        Problem(
            f'"{path}" does not end like a shelf',
            hint="a shelf is a .jsonl, .csv, .parquet or .txt file, or a folder",
        )
    )


def _parts(folder: Path) -> list[Path]:
    """The files of a folder that hold many labels each, in order of name.

    Folders in it called `name=value` are parts of one table, as databases write them.
    """
    found = []
    for path in sorted(folder.iterdir()):
        if path.is_dir() and "=" in path.name:
            found += _parts(path)
        elif path.suffix.casefold() in _OF_MANY:
            found.append(path)
    return found


def _read_parts(folder: Path) -> Shelf:
    """Read a folder of shelf files as one shelf."""
    from abluent.shell.shelf.shelf import joined

    read = (_part(path, folder) for path in _parts(folder))
    return replace(joined(read), name=folder.name)


def _part(path: Path, folder: Path) -> Shelf:
    """Read one file of a folder; what its own folders are called counts as columns."""
    if path.parent == folder or path.suffix.casefold() not in {".csv", ".parquet"}:
        return open_shelf(path)
    from abluent.shell.shelf.as_parquet import read_partition

    return read_partition(path)
