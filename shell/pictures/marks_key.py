"""What the pieces of a mark mean, in the words that stand beside it."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.shell.ground.strand import Half, Strand

_MEANS = {
    Half.GONE: "Bare: comes off.",
    Half.NOBODY_KNOWS: "Dotted: may stay or go.",
    Half.STAYS: "Solid: stays.",
}
_RISES = "Bare: it goes by itself."


def key_of(marks: Sequence[Strand]) -> list[str]:
    """Return what the pieces of some marks mean, in one line."""
    halves = {half for mark in marks for half in (mark.first, mark.second)}
    if marks and all(mark.rises for mark in marks):
        return [_RISES]
    return [" ".join(text for half, text in _MEANS.items() if half in halves)]
