"""The built-in shelf: invented products of an invented evening class.

A label-reading class in a harbour town keeps these bottles on one shelf and washes
in the town's hard water. Every way a label can surprise its reader is on it.
"""

from __future__ import annotations

from functools import cache

import abluent.shell.shelf
from abluent.grammar.common.packaged import packaged_text
from abluent.shell.shelf.as_jsonl import parse_jsonl
from abluent.shell.shelf.shelf import Shelf


def demo_text() -> str:
    """Return the demo shelf as it is written, in JSON Lines."""
    return packaged_text(abluent.shell.shelf, "demo.jsonl")


@cache
def demo_shelf() -> Shelf:
    """Return the demo shelf."""
    return parse_jsonl(demo_text(), "demo", "demo shelf")
