"""The built-in shelf: invented products of an invented evening class.

A label-reading class in a harbour town keeps these bottles on one shelf and washes
in the town's hard water. Every way a label can surprise its reader is on it.
"""

from __future__ import annotations

from functools import cache

from abluent.shell.shelf import Shelf
from abluent.shell.shelf_jsonl import parse_jsonl


def demo_text() -> str:
    """Return the demo shelf as it is written, in JSON Lines."""
    # Imported here: a question about one's own shelf has no use for it.
    from importlib.resources import files

    path = files("abluent.shell") / "demo" / "shelf.jsonl"
    return path.read_text(encoding="utf-8")


@cache
def demo_shelf() -> Shelf:
    """Return the demo shelf."""
    return parse_jsonl(demo_text(), "demo", "demo shelf")
