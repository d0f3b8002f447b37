"""Why something does not follow, and what the least change would be.

The rules are gone through backwards from the goal. At every condition that fails,
either what is missing is assumed or what stands against it is named; ways with fewer
changes are followed first. Every repair that can be tried is tried before it is
given, so that one which sets off a further exception is not proposed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from abluent.engine.errors import EngineError
from abluent.engine.logic.slices import Pattern
from abluent.engine.proof.backward import BackwardSearch
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.mending import mended
from abluent.engine.proof.obstacles import Repair, WhyNot

Names = Collection[str]
_SHORT = 300
# Steps of a search for what makes up for a removal.


class Holds(EngineError):
    """It was asked why something does not follow, and it does."""


def why_not(
    knowledge: Knowledge,
    goal: Pattern,
    most: int = 5,
    assume: Names | None = None,
    single: Names | None = None,
) -> WhyNot:
    """The repairs that would make a goal hold, the smallest changes first.

    Args:
        knowledge: the rules and facts.
        goal: what does not follow, `None` being any term.
        most: how many repairs to give.
        assume: the predicates of which facts may be assumed or removed, such as what
            a label says; by default all may be removed, and all be assumed that no
            rule concludes or that are asserted.
        single: the predicates that have one last term for the same first terms, so
            that a new fact contradicts an old one; if it is not given, those of
            which that is so of three facts or more.

    Raises:
        Holds: the goal follows.
    """
    if knowledge.holds(goal):
        raise Holds(f"`{goal[0]}` holds of that, so there is nothing to repair")
    trial = _Trial(knowledge, goal, assume, single)
    search = trial.search()
    repairs: list[Repair] = []
    for way in search.ways():
        repair = mended(knowledge, goal, way, single)
        found = list(trial.continued(repair)) if repair.verified is False else [repair]
        repairs += [r for r in found if not any(_within(each, r) for each in repairs)]
        if len(repairs) >= most:
            return WhyNot(goal, tuple(repairs[:most]), False)
    return WhyNot(goal, tuple(repairs), search.complete)


@dataclass(frozen=True)
class _Trial:
    """One question of why something does not hold, as it was put."""

    knowledge: Knowledge
    goal: Pattern
    assume: Names | None
    single: Names | None

    def search(self, steps: int = 4_000) -> BackwardSearch:
        return BackwardSearch(self.knowledge, self.goal, self.assume, steps)

    def continued(self, repair: Repair) -> Iterator[Repair]:
        """A removal that takes too much with it, with what makes up for that."""
        if repair.added or not repair.removed:
            return
        without = replace(self, knowledge=self.knowledge.but(removed=repair.removed))
        for way in without.search(_SHORT).ways():
            rest = mended(without.knowledge, self.goal, way, self.single)
            back = set(rest.added) & set(repair.removed)
            useful = rest.added and not rest.removed and not back
            if useful and rest.verified is not False:
                obstacles = (*repair.obstacles, *rest.obstacles)
                yield replace(rest, obstacles=obstacles, removed=repair.removed)
                return


def _within(small: Repair, large: Repair) -> bool:
    """Whether one repair does nothing that the other does not do as well."""
    return (
        set(small.added) <= set(large.added)
        and set(small.removed) <= set(large.removed)
        and set(small.obstacles) <= set(large.obstacles)
    )
