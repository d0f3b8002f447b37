"""What an edited copy of the base says otherwise, and what would move by it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from abluent.engine.owl.comparison import Stated
from abluent.engine.owl.plain import told_of
from abluent.grammar.common.text import wrapped

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.owl.comparison import Difference
    from abluent.engine.teach.effects import Effects
    from abluent.shell.shelf.shelf import Shelf

_SHOWN = 40


def difference_page(found: Difference, before: Base, after: Base, width: int) -> str:
    """Return a difference as lines of text, in plain words."""
    if not any(found):
        return "The edited copy says what the base says."
    lines = [
        *_listed("Added", [_said(each, after) for each in found.added], width),
        *_listed("Taken out", [_said(each, before) for each in found.removed], width),
        *_listed(
            "Changed", [_turn(pair, before, after) for pair in found.changed], width
        ),
    ]
    return "\n".join(lines)


def moves_page(found: Effects, shelf: Shelf, width: int) -> str:
    """Return what would follow otherwise on a shelf."""
    from abluent.shell.pages.addition import effect_lines

    return "\n".join(effect_lines(found, shelf, width))


def difference_json(found: Difference, base: Base) -> dict[str, Any]:
    """Return a difference as data."""
    return {
        "added": [_said(each, base) for each in found.added],
        "removed": [_said(each, base) for each in found.removed],
        "changed": [
            {"was": _said(old, base), "is": _said(new, base)}
            for old, new in found.changed
        ],
    }


def _said(each: Stated, base: Base) -> str:
    return told_of(each.triples, base)


def _turn(pair: tuple[Stated, Stated], before: Base, after: Base) -> str:
    old, new = pair
    return f"{_said(new, after)} (it was: {_said(old, before)})"


def _listed(head: str, told: Sequence[str], width: int) -> Iterator[str]:
    if told:
        yield f"{head}: {len(told)}"
    for text in sorted(told)[:_SHOWN]:
        yield wrapped(text, width, "  - ", "    ")
    if len(told) > _SHOWN:
        yield f"  … and {len(told) - _SHOWN} more; --json lists all"
