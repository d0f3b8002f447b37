"""Saving a shelf in another form: JSON Lines, CSV, or a folder of text files."""

from __future__ import annotations

import re
from pathlib import Path

from abluent.engine.disk import write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.shelf.shelf import Shelf

_HINT = "name another file, or add --overwrite to replace it"
_UNFIT = re.compile(r"[^\w .()-]+")


def save_shelf(shelf: Shelf, path: Path, *, overwrite: bool = False) -> None:
    """Write a shelf, in the form that the ending of `path` names.

    Raises:
        CommandError: the ending names no form, or a file is there already.
        DataError: the system refused to write.
    """
    if not path.suffix:
        _save_folder(shelf, path, overwrite)
        return
    text = printed(shelf, path.suffix)
    if text is None:
        raise CommandError(
            Problem(
                f'"{path}" does not end like a shelf',
                hint="write to a .jsonl or .csv file, or to a folder",
            )
        )
    write_file(path, text, overwrite=overwrite, hint=_HINT)


def printed(shelf: Shelf, ending: str) -> str | None:
    """Return a shelf as the text of a file that ends so; nothing if none does."""
    ending = ending.casefold()
    if ending in {".jsonl", ".ndjson"}:
        from abluent.shell.shelf.as_jsonl import print_jsonl

        return print_jsonl(shelf)
    if ending == ".csv":
        from abluent.shell.shelf.as_csv import print_csv

        return print_csv(shelf)
    return None


def _save_folder(shelf: Shelf, folder: Path, overwrite: bool) -> None:
    from abluent.shell.shelf.as_text import print_label

    try:
        folder.mkdir(exist_ok=overwrite)
    except FileExistsError:
        what = f'"{folder}" is there already and was left as it is'
        raise CommandError(Problem(what, hint=_HINT)) from None
    except OSError as error:
        what = f'"{folder}" could not be made: {error.strerror or error}'
        raise DataError(Problem(what)) from error
    for number, label in enumerate(shelf.labels, start=1):
        # Numbered, so that no two names can fall together and the order is kept.
        name = f"{number:04} {_UNFIT.sub('_', label.product)[:80]}.txt"
        write_file(folder / name, print_label(label), overwrite=overwrite, hint=_HINT)
