"""Which of some things a reader is likeliest to have met."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.store import Base

_MET_OFTEN = 1000
"""More names than anything has."""


def best_known(base: Base, symbols: Sequence[str]) -> str:
    """The thing that is known best; of a tie the first."""
    return max(symbols, key=lambda symbol: how_well_known(base, symbol))


def how_well_known(base: Base, symbol: str) -> int:
    """The greater the better a thing is known; nothing for a product.

    What ordinary labels often list comes first, as the base says of it. Then the names
    count: a thing that people speak of has trade names, short names and names in other
    languages.
    """
    if symbol not in base:
        return 0
    record = base.record(symbol)
    names = sum(len(part.texts) for part in record.parts)
    return names + _MET_OFTEN * record.truth("metOften")
