"""The built-in shelf: invented products of an invented evening class.

A label-reading class in a harbour town keeps these bottles on one shelf and washes
in the town's hard water. Every way a label can surprise its reader is on it.
"""

from __future__ import annotations

from functools import cache
from pkgutil import get_data

from abluent.shell.shelf import Shelf
from abluent.shell.shelf_jsonl import parse_jsonl


def demo_text() -> str:
    """Return the demo shelf as it is written, in JSON Lines."""
    # Not by importlib.resources, which takes longer to import than to read with.
    data = get_data("abluent.shell", "demo/shelf.jsonl")
    if data is None:
        raise FileNotFoundError("demo/shelf.jsonl")
    return data.decode("utf-8")


@cache
def demo_shelf() -> Shelf:
    """Return the demo shelf."""
    return parse_jsonl(demo_text(), "demo", "demo shelf")
