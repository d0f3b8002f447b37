"""Sayings of the base: what people say of a matter, and what is known of it."""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.base.store import Base


class Saying(NamedTuple):
    """Something that people say.

    Args:
        symbol: what the base calls it.
        said: what is said.
        answer: what is so.
        why: why it is so.
        heard: the words by which it is known in free speech.
        asks: what can be asked after it.
    """

    symbol: str
    said: str
    answer: str
    why: str
    heard: tuple[str, ...]
    asks: tuple[str, ...]


def sayings(base: Base) -> tuple[Saying, ...]:
    """Every saying of a base, in order."""
    return base.once(_sayings)


def _sayings(base: Base) -> tuple[Saying, ...]:
    return tuple(_saying(base, each) for each in base.instances("Saying"))


def _saying(base: Base, symbol: str) -> Saying:
    record = base.record(symbol)
    return Saying(
        symbol,
        record.text("said") or base.label(symbol),
        record.text("statement") or "",
        record.text("because") or "",
        tuple(record.texts("heard")),
        tuple(record.texts("leadsTo")),
    )
