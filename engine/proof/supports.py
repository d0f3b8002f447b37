"""All ways a fact is supported: every smallest set of assertions that yields it.

A support is a set of asserted facts from which the goal follows, and no part of
which is enough. What the proofs take to be absent is taken as given; `withdrawal`
asks what happens when that changes.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import combinations, product
from typing import NamedTuple

from abluent.engine.logic.terms import Term
from abluent.engine.proof.cone import Membership, Point, Reading, required
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.proofs import Prover

_MOST_WORK = 50_000
# Sets made before the search becomes sparing; about a second.


class Supports(NamedTuple):
    """The supports of a fact, the smallest first.

    Args:
        sets: each in the order of its facts' texts.
        complete: whether these are all; otherwise there are more.
    """

    goal: Ground
    sets: tuple[tuple[Ground, ...], ...]
    complete: bool

    def __str__(self) -> str:
        shown = len(self.sets)
        return f"all {shown}" if self.complete else f"{shown} and more"


def supports(
    prover: Prover, predicate: str, args: Sequence[Term], most: int = 100
) -> Supports:
    """The minimal supports of a fact that holds.

    Args:
        prover: of the model.
        predicate: the predicate of the goal.
        args: its terms.
        most: how many to give; if there are more, the result is not `complete`.

    Raises:
        NotProven: the fact does not hold.
    """
    prover.prove(predicate, args)
    search = _Search(prover, (predicate, tuple(args)), most)
    search.run()
    return search.result()


def load_bearing(
    prover: Prover, predicate: str, args: Sequence[Term]
) -> tuple[Ground, ...]:
    """The asserted facts that are in every support of a fact.

    Without any one of them the goal does not follow, absences being as they are.

    Raises:
        NotProven: the fact does not hold.
    """
    goal = (predicate, tuple(args))
    used = {(f.predicate, f.args) for f in prover.prove(*goal).facts}
    horn = Horn(prover.cone.below([goal]))
    everything = (1 << len(horn.facts)) - 1
    return tuple(
        fact
        for place, fact in enumerate(horn.facts)
        if fact in used and not horn.yields(goal, everything & ~(1 << place))
    )


def fewest_works(
    prover: Prover,
    predicate: str,
    args: Sequence[Term],
    spared: Collection[str] = (),
    most: int = 2,
) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of sources without which a fact no longer follows.

    A source takes along what cites nothing else; absences are as they are, so that
    what would rise in the place of what goes is not looked for.

    Args:
        prover: of the model.
        predicate: the predicate of the fact.
        args: its terms.
        spared: sources that are never taken away.
        most: how many are taken away together.

    Returns:
        Those of the smallest size of which there are any; none, if so many do not do.
    """
    goal = (predicate, tuple(args))
    readings = prover.cone.below([goal])
    names = {name for r in readings.values() for name in _cited(r)}
    for size in range(1, most + 1):
        found = [
            some
            for some in combinations(sorted(names - set(spared)), size)
            if not _follows(goal, readings, frozenset(some))
        ]
        if found:
            return tuple(found)
    return ()


def _cited(reading: Reading) -> Iterator[str]:
    for fact in reading.facts:
        yield from fact.basis.sources
    for instance in reading.instances:
        yield from instance.rule.sources


def _follows(
    goal: Ground, readings: Mapping[Point, Reading], gone: frozenset[str]
) -> bool:
    """Whether a goal follows without what cites none but some sources."""
    kept = {
        point: reading._replace(
            facts=tuple(f for f in reading.facts if _stays(f.basis.sources, gone)),
            instances=tuple(
                i for i in reading.instances if _stays(i.rule.sources, gone)
            ),
        )
        for point, reading in readings.items()
    }
    horn = Horn(kept)
    return horn.yields(goal, (1 << len(horn.facts)) - 1)


def _stays(sources: Sequence[str], gone: frozenset[str]) -> bool:
    return not sources or not gone.issuperset(sources)


class Horn:
    """A cone as propositional rules over asserted facts, which are numbered."""

    def __init__(self, readings: Mapping[Point, Reading]) -> None:
        asserted = [
            p for p, r in readings.items() if r.facts and not isinstance(p, Membership)
        ]
        self.facts: tuple[Ground, ...] = tuple(sorted(asserted, key=repr))
        self.bits = {fact: 1 << place for place, fact in enumerate(self.facts)}
        self.ways: list[tuple[Point, tuple[Point, ...]]] = []
        self.users: dict[Point, list[int]] = {}
        for point, reading in readings.items():
            for instance in reading.instances:
                premises = tuple(dict.fromkeys(required(instance)))
                for each in premises:
                    self.users.setdefault(each, []).append(len(self.ways))
                self.ways.append((point, premises))

    def yields(self, goal: Point, chosen: int) -> bool:
        """Whether a goal follows from the facts whose bits are chosen."""
        missing = [len(premises) for _, premises in self.ways]
        waiting: list[Point] = [f for f, bit in self.bits.items() if bit & chosen]
        waiting += [point for point, premises in self.ways if not premises]
        done: set[Point] = set()
        while waiting:
            point = waiting.pop()
            if point == goal:
                return True
            if point not in done:
                done.add(point)
                for way in self.users.get(point, ()):
                    missing[way] -= 1
                    if not missing[way]:
                        waiting.append(self.ways[way][0])
        return False

    def shrunk(self, goal: Point, chosen: int) -> int:
        """A smallest part of the chosen facts from which a goal still follows."""
        for bit in self.bits.values():
            if chosen & bit and self.yields(goal, chosen & ~bit):
                chosen &= ~bit
        return chosen


class _Search:
    """Sets are met in order of size, so a set that covers a known one is no news."""

    def __init__(self, prover: Prover, goal: Ground, most: int) -> None:
        self._goal, self._most = goal, most
        self._horn = Horn(prover.cone.below([goal]))
        self._found: dict[Point, list[int]] = {}
        self._heap: list[tuple[int, int, int, Point]] = []
        self._pushed = 0
        self._complete = True

    def run(self) -> None:
        """Meet every set until none is left or it is enough."""
        for fact, bit in self._horn.bits.items():
            self._push(fact, bit)
        for point, premises in self._horn.ways:
            if not premises:
                self._push(point, 0)
        while self._heap:
            _, chosen, _, point = heappop(self._heap)
            known = self._found.setdefault(point, [])
            if any(each & chosen == each for each in known):
                continue
            if len(known) >= self._most:
                self._complete = False
                if point == self._goal:
                    return
                continue
            known.append(chosen)
            for way in self._horn.users.get(point, ()):
                self._combine(point, chosen, *self._horn.ways[way])

    def _combine(
        self, point: Point, chosen: int, head: Point, premises: Iterable[Point]
    ) -> None:
        """Join a new set of one premise with the known sets of the others."""
        others = [self._found.get(each, []) for each in premises if each != point]
        for sets in product(*others):
            joined = chosen
            for each in sets:
                joined |= each
            self._push(head, joined)
            if self._pushed > _MOST_WORK:
                self._complete = False
                return

    def _push(self, point: Point, chosen: int) -> None:
        self._pushed += 1
        heappush(self._heap, (chosen.bit_count(), chosen, self._pushed, point))

    def result(self) -> Supports:
        """The supports of the goal; where sets were dropped, made minimal again."""
        sets = self._found.get(self._goal, [])
        if not self._complete:
            shrunk = (self._horn.shrunk(self._goal, each) for each in sets)
            sets = sorted(dict.fromkeys(shrunk), key=int.bit_count)
        shown = tuple(
            tuple(f for f, bit in self._horn.bits.items() if bit & each)
            for each in sets
        )
        return Supports(self._goal, shown, self._complete)
