"""Which shelf a word means: the demo shelf, a file or folder, or one's own shelf."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.disk import data_place
from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.record import replace
from abluent.shell.shelf.by_path import open_shelf
from abluent.shell.shelf.demo import demo_shelf
from abluent.shell.shelf.shelf import Shelf, joined

if TYPE_CHECKING:
    from abluent.shell.shelf.own import OwnShelf

DEMO = "demo"


def shelves_named(
    words: Sequence[str], conditions: Mapping[str, str] | None = None
) -> Shelf:
    """Return one shelf of all that are named; of none, the demo shelf.

    `conditions`, where given, stand in place of what the shelves say.

    Raises:
        CommandError: no shelf is called so.
        DataError: one cannot be read at all.
    """
    shelf = joined(find_shelf(word)[0] for word in words or [DEMO])
    return replace(shelf, conditions={**shelf.conditions, **(conditions or {})})


def find_shelf(word: str) -> tuple[Shelf, OwnShelf | None]:
    """Return the shelf a word names, and its keeper if it is one of the user's.

    `demo` is the built-in one; a path is a file or folder; any other word is a
    shelf of the user's own, in the data folder.

    Raises:
        CommandError: no shelf is called so.
        DataError: it cannot be read at all.
    """
    if word == DEMO:
        return demo_shelf(), None
    from pathlib import Path

    path = Path(word).expanduser()
    if path.exists() or path.suffix or len(path.parts) > 1:
        return open_shelf(path), None
    own = own_named(word)
    if own is None:
        raise _no_shelf(word)
    return own.load(), own


def own_named(word: str) -> OwnShelf | None:
    """Return the shelf of the user's that a word names, if it was ever written."""
    # Looked for as text, and imported here: most questions have no use for it.
    if not os.path.exists(os.path.join(data_place(), "shelves", f"{word}.jsonl")):
        return None
    from abluent.shell.shelf.own import OwnShelf

    try:
        own = OwnShelf(word)
    except CommandError:
        return None
    return own if own.path.exists() else None


def _no_shelf(word: str) -> CommandError:
    from abluent.engine.disk import data_folder

    names = sorted(p.stem for p in (data_folder() / "shelves").glob("*.jsonl"))
    return CommandError(
        Problem(
            f'there is no file, folder or shelf of yours called "{word}"',
            hint=f"there are: {', '.join([*names, DEMO])}; or name a file",
        )
    )
