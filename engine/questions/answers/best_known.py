"""Which of some things a reader is likeliest to have met: that with the most names."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.store import Base


def best_known(base: Base, symbols: Sequence[str]) -> str:
    """The thing of which the base has the most names; of a tie the first.

    A thing that people speak of has trade names, short names and names in other
    languages, so that the number of its names tells how well it is known.
    """
    return max(symbols, key=lambda symbol: names_of(base, symbol))


def names_of(base: Base, symbol: str) -> int:
    """How many names and words the base has of a thing; none of a product."""
    if symbol not in base:
        return 0
    return sum(len(part.texts) for part in base.record(symbol).parts)
