"""The fewest asserted facts whose removal makes some facts fail."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from abluent.engine.nodes import Ground
from abluent.engine.proofs import Prover
from abluent.engine.supports import supports

_MOST_SUPPORTS = 30
_MOST_TRIALS = 2_000


def fewest_removals(prover: Prover, rows: Iterable[Ground]) -> tuple[Ground, ...]:
    """The fewest asserted facts that have a part in every support of every row.

    Empty if a row needs no asserted fact, or if no small enough set was found. Only
    the smaller supports are looked at, so whoever relies on it tries it.
    """
    sets = [
        each
        for row in rows
        for each in supports(prover, *row, most=_MOST_SUPPORTS).sets
    ]
    if not all(sets):
        return ()
    waiting: deque[tuple[Ground, ...]] = deque([()])
    for _ in range(_MOST_TRIALS):
        if not waiting:
            break
        chosen = waiting.popleft()
        left = [each for each in sets if not set(each) & set(chosen)]
        if not left:
            return chosen
        waiting.extend((*chosen, fact) for fact in min(left, key=len))
    return ()
