"""The fewest asserted facts whose removal makes some facts fail."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterable, Iterator
from itertools import islice

from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.proofs import Prover
from abluent.engine.proof.supports import supports

_MOST_SUPPORTS = 30
_MOST_TRIALS = 1_000
_MOST_SETS = 8


def fewest_removals(
    prover: Prover, rows: Iterable[Ground], among: Collection[str] | None = None
) -> list[tuple[Ground, ...]]:
    """The smallest sets of assertions that have a part in every support of every row.

    Only the smaller supports are looked at, so whoever relies on a set tries it.

    Args:
        prover: of the model in which the rows hold.
        rows: the facts that are to fail.
        among: the predicates of which facts may be removed; by default all.

    Returns:
        Some sets of the smallest size that will do; none if a row needs no fact that
        may be removed, or if no small set was found.
    """
    return list(islice(_hitting(_supports(prover, rows, among)), _MOST_SETS))


def _supports(
    prover: Prover, rows: Iterable[Ground], among: Collection[str] | None
) -> list[tuple[Ground, ...]]:
    return [
        tuple(fact for fact in each if among is None or fact[0] in among)
        for row in rows
        for each in supports(prover, *row, most=_MOST_SUPPORTS).sets
    ]


def _hitting(sets: list[tuple[Ground, ...]]) -> Iterator[tuple[Ground, ...]]:
    """The smallest sets that share a fact with each of some sets."""
    if not all(sets):
        return
    waiting: deque[tuple[Ground, ...]] = deque([()])
    size = None
    for _ in range(_MOST_TRIALS):
        if not waiting:
            return
        chosen = waiting.popleft()
        if size is not None and len(chosen) > size:
            return
        left = [each for each in sets if not set(each) & set(chosen)]
        if left:
            waiting.extend((*chosen, fact) for fact in min(left, key=len))
        else:
            size = len(chosen)
            yield chosen
