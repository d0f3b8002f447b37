"""The fewest sources whose withdrawal would turn an answer round.

Withdrawing a source takes away every fact and rule that cites nothing else. An
answer can go because its support goes, and it can appear because what stood against
it goes; both are found, by trying.

The search branches over the sources that can touch the current proof. Any set that
turns the answer must contain one of them, so the first size at which an answer turns
is the smallest there is.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.slices import Pattern
from abluent.engine.proof.touching import touching

Sources = frozenset[str]


class Withdrawal(NamedTuple):
    """Which sources an answer hangs on.

    Args:
        goal: what was asked, `None` being any term.
        held: whether it holds while nothing is withdrawn.
        sets: the smallest sets that turn it round, each sorted; empty if none does.
        exact: whether all sets up to that size were tried; else there may be
            smaller ones, or more.
    """

    goal: Pattern
    held: bool
    sets: tuple[tuple[str, ...], ...]
    exact: bool


def fewest_sources(
    knowledge: Knowledge,
    goal: Pattern,
    spared: Collection[str] = (),
    trials: int = 100,
) -> Withdrawal:
    """The smallest sets of sources without which the answer is the opposite.

    Args:
        knowledge: the rules and facts.
        goal: what was asked.
        spared: sources that are never withdrawn, such as conventions.
        trials: how many sets to try; when they are used up the result is not
            `exact`.
    """
    held = knowledge.holds(goal)
    found: list[Sources] = []
    level: dict[Sources, None] = {frozenset(): None}
    while level:
        standing: list[tuple[Sources, Knowledge]] = []
        for gone in level:
            if not trials:
                return _result(goal, held, found, exact=False)
            trials -= 1
            left = knowledge.without_sources(gone) if gone else knowledge
            if left.holds(goal) != held:
                found.append(gone)
            else:
                standing.append((gone, left))
        # Wider sets are of no use, and dear to find, once some of a size will do.
        level = {} if found else _wider(standing, goal, spared)
    return _result(goal, held, found, exact=True)


def _wider(
    standing: list[tuple[Sources, Knowledge]], goal: Pattern, spared: Collection[str]
) -> dict[Sources, None]:
    """The sets with one more source each that can touch what still stands."""
    made: dict[Sources, None] = {}
    for gone, left in standing:
        for name in sorted(touching(left, left.proof(goal)) - gone - set(spared)):
            made[gone | {name}] = None
    return made


def _result(goal: Pattern, held: bool, found: list[Sources], exact: bool) -> Withdrawal:
    sets = sorted(tuple(sorted(each)) for each in found)
    return Withdrawal(goal, held, tuple(sets), exact)
