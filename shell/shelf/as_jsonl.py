"""Shelves as JSON Lines: `{"product", "kind", "market", "text"}`, one a line.

A line with no product and no text speaks of the shelf, and of how hair is washed:
`{"shelf": …, "water": …, "hair": …}`.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from abluent.engine.disk import read_text
from abluent.engine.faults import Problem
from abluent.shell.shelf.shelf import Shelf, ShelfBuilder, as_fields

if TYPE_CHECKING:
    from pathlib import Path


def read_jsonl(path: Path) -> Shelf:
    """Read a shelf file.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or is not UTF-8.
    """
    return parse_jsonl(read_text(path), path.stem, str(path))


def parse_jsonl(text: str, name: str, place: str) -> Shelf:
    """Read a shelf from text; `place` is what messages call it."""
    builder = ShelfBuilder(name)
    # Not splitlines(): a label may hold other line ends inside its JSON text.
    for number, line in enumerate(text.split("\n"), start=1):
        if line.strip():
            _read_line(builder, line, f"{place}:{number}")
    return builder.build()


def _read_line(builder: ShelfBuilder, line: str, place: str) -> None:
    try:
        value = json.loads(line)
    except ValueError as error:
        builder.fault(_broken(line, place, error))
        return
    except RecursionError:
        builder.fault(Problem("this line is nested too deeply to be a label", place))
        return
    if not isinstance(value, dict):
        what = "this line is not a label"
        hint = 'write {"product": …, "kind": …, "market": …, "text": …}'
        builder.fault(Problem(what, place, hint, line, (0, len(line))))
    elif "shelf" in value or (value and value.keys() <= builder.words.aspects.keys()):
        builder.conditions(value, place)
        if isinstance(value.get("shelf"), str):
            builder.name = value["shelf"]
    else:
        builder.add(value, place)


def _broken(line: str, place: str, error: ValueError) -> Problem:
    at = error.pos if isinstance(error, json.JSONDecodeError) else 0
    said = error.msg if isinstance(error, json.JSONDecodeError) else str(error)
    return Problem(
        f"this line is not JSON: {said[:1].lower()}{said[1:]}",
        f"{place}:{at + 1}",
        "mend the line or take it out; the others were read",
        line,
        (at, at + 1),
    )


def print_jsonl(shelf: Shelf) -> str:
    """Return a shelf as JSON Lines, which read back to the same shelf."""
    head: dict[str, object] = {"shelf": shelf.name, **shelf.conditions}
    rows = [head, *({**as_fields(x), **x.extra} for x in shelf.labels)]
    return "".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows)
