"""The rows of an answer in words, for every face of the shell alike."""

from __future__ import annotations

from abluent.engine.answers import Row
from abluent.engine.explained import Explained
from abluent.engine.verdicts import Left, Verdict
from abluent.shell.trace_steps import in_words


def named(row: Explained, symbol: str) -> str:
    """Return what a reader is shown for a symbol of the base."""
    return row.case.world.base.label(symbol)


def title(row: Row) -> str:
    """Return a row in a few words: what it is about, and the verdict if it has one."""
    if isinstance(row, Verdict):
        source = f" from {row.source}" if row.source else ""
        return f"{row.wash}, {named(row, row.film)}{source}: {verdict(row)}"
    if isinstance(row, Left):
        return named(row, row.film)
    key = row.item.key
    return named(row, key) if key in row.case.world.base else key


def verdict(row: Verdict) -> str:
    """Return a verdict in the words of the machine-readable face."""
    return in_words(row.value)


def standing(row: Explained) -> str:
    """Return how a row stands, in words; empty if nothing in it has a standing."""
    words = in_words(row.standing)
    return f"{words}, from memory" if words and row.from_memory else words


def cited(row: Explained) -> list[str]:
    """Return the works a row rests on, in words."""
    return [named(row, source) for source in row.sources]
