"""Additions of one line, written as Turtle from a name and what it is."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.engine.teach.layer import TURTLE, Part, slug

if TYPE_CHECKING:
    from abluent.engine.base.store import Base

PREFIXES = "".join(
    f"@prefix {name}: <https://abluent.example/{path}> .\n"
    for name, path in (
        ("abl", "ns#"),
        ("claim", "claim/"),
        ("ing", "ingredient/"),
        ("src", "source/"),
    )
)
"""What every text of an addition begins with."""


def synonym_of(name: str, known: str, base: Base) -> Part:
    """Return the addition that one name means the same as a known one.

    Raises:
        CommandError: the base does not know the second name, or knows the first.
    """
    symbol = base.lookup(known)
    if symbol is None:
        what = f'"{known}" is no ingredient of the base'
        raise CommandError(Problem(what, hint="choose one of those offered"))
    if base.lookup(name) is not None:
        raise CommandError(Problem(f'"{name}" is a name that the base knows already'))
    # The escapes of JSON mean the same in Turtle.
    quoted = json.dumps(" ".join(name.split()), ensure_ascii=False)
    text = f"{PREFIXES}\ning:{symbol}\n  abl:synonym {quoted} .\n"
    return Part(slug(name), TURTLE, text)
