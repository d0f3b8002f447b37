"""Which shelf a word means: the demo shelf, a file or folder, or a kept one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from abluent.shell.demo_shelf import demo_shelf
from abluent.shell.errors import CommandError, Problem
from abluent.shell.shelf import Shelf, joined, open_shelf

DEMO = "demo"


def shelf_named(word: str) -> Shelf:
    """Return the shelf a word names.

    `demo` is the built-in one; a path is a file or folder; any other word is a
    shelf kept in the user's data folder.

    Raises:
        CommandError: no shelf is called so.
        DataError: it cannot be read at all.
    """
    if word == DEMO:
        return demo_shelf()
    path = Path(word)
    if path.exists() or path.suffix or len(path.parts) > 1:
        return open_shelf(path)
    return _kept(word)


def _kept(word: str) -> Shelf:
    # Imported here: a question over a file has no use for it.
    from abluent.shell.kept import KeptShelf, data_folder

    try:
        shelf = KeptShelf(word)
        if shelf.path.exists():
            return shelf.load()
    except CommandError:
        pass  # A word that cannot name a kept shelf names none.
    names = sorted(p.stem for p in (data_folder() / "shelves").glob("*.jsonl"))
    raise CommandError(
        Problem(
            f'there is no file, folder or shelf of yours called "{word}"',
            hint=f"there are {', '.join([*names, DEMO])}, or name a file",
        )
    )


def shelves_named(words: Sequence[str], water: str | None = None) -> Shelf:
    """Return one shelf of all that are named; of none, the demo shelf.

    `water`, where given, is the water in place of what the shelves say.

    Raises:
        CommandError: no shelf is called so.
        DataError: one cannot be read at all.
    """
    shelf = joined(map(shelf_named, words or [DEMO]))
    return replace(shelf, water=water) if water else shelf
