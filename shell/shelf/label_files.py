"""What `abluent read` is given: bare labels, whole shelves, or standard input."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from abluent.engine.disk import STDIN, decode, read_text
from abluent.shell.shelf.as_jsonl import parse_jsonl
from abluent.shell.shelf.as_text import parse_label, product_of
from abluent.shell.shelf.by_path import open_shelf
from abluent.shell.shelf.shelf import Shelf

_SHELF_ENDINGS = {".jsonl", ".ndjson", ".json", ".csv", ".tsv"}


def labels_in(word: str, given: Mapping[str, str]) -> Shelf:
    """Return the labels of a file or folder, or of standard input for `-`.

    Whatever does not end like a shelf is one label, word for word; `given` holds
    its product, kind and market where the command named them.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read at all.
    """
    if word == STDIN:
        return _typed(standard_input(), given)
    path = Path(word)
    if path.is_dir() or path.suffix.casefold() in _SHELF_ENDINGS:
        return open_shelf(path)
    return parse_label(read_text(path), product_of(path), word, given)


def standard_input() -> str:
    """Return all of standard input, line ends as they are.

    Raises:
        DataError: it is not UTF-8.
    """
    return decode(sys.stdin.buffer.read(), "standard input")


def lines_in(word: str) -> list[str]:
    """Return the lines of a file, or of standard input for `-`, without blank ones.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read at all.
    """
    text = standard_input() if word == STDIN else read_text(Path(word))
    return [line.strip() for line in text.splitlines() if line.strip()]


def _typed(text: str, given: Mapping[str, str]) -> Shelf:
    place = "standard input"
    if text.lstrip().startswith("{"):
        return parse_jsonl(text, place, place)
    return parse_label(text, "label", place, given)
