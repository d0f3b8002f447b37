"""Where sources part: the chains of both sides of a dispute, and their crux.

Two conclusions are the sides of a dispute where one step of its proof needs both,
and they say two things of the very same terms.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from abluent.engine.logic.instances import Premise
from abluent.engine.proof.crux import crux
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.about.supports import content, in_words
from abluent.engine.questions.answers.answer import Finding
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence


class Side(NamedTuple):
    """One side of a dispute.

    Args:
        chain: what it concludes, explained.
        apart: the asserted facts that it rests on and the other side does not.
    """

    chain: Explained
    apart: tuple[Ground, ...]


class Parting(NamedTuple):
    """A dispute: its sides, and the least in which they differ.

    Args:
        sides: both, in the order of what they conclude.
        shared: the asserted facts that both rest on.
        complete: whether all their supports were compared.
    """

    sides: tuple[Side, Side]
    shared: tuple[Ground, ...]
    complete: bool


def partings(row: Verdict) -> list[Parting]:
    """Every dispute that a verdict hangs on; none if it is not disputed."""
    pairs = dict.fromkeys(
        pair for each in row.disputes for pair in _pairs(row, each.goal)
    )
    return [_parting(row, *pair) for pair in sorted(pairs, key=repr)]


def _parting(row: Verdict, first: Ground, second: Ground) -> Parting:
    found = crux(row.case.prover, first, second)
    one, other = (Explained(row.case, goal) for goal in (first, second))
    sides = (Side(one, found.first), Side(other, found.second))
    return Parting(sides, found.shared, found.complete)


def _pairs(row: Verdict, goal: Ground) -> Iterator[tuple[Ground, Ground]]:
    """The conclusions that stand against each other in any proof of a dispute."""
    for reading in row.case.prover.cone.below([goal]).values():
        for instance in reading.instances:
            needed = [each for each in instance.supports if isinstance(each, Premise)]
            for one, other in combinations(needed, 2):
                if _stand_apart(one, other):
                    first, second = sorted([one, other], key=repr)
                    yield (first.predicate, first.args), (second.predicate, second.args)


def _stand_apart(one: Premise, other: Premise) -> bool:
    """Whether two premises say different things of the very same."""
    return (
        one.predicate != other.predicate
        and len(one.args) > 1
        and one.args == other.args
    )


def parted(row: Verdict, *, whole: bool = False) -> Iterator[Finding]:
    """The sides of every dispute that a verdict hangs on, and where they part.

    Disputes that are one, but for what they are about, are told once.

    Args:
        row: the verdict.
        whole: whether what both sides rest on is told too.
    """
    alike: dict[tuple[object, ...], list[Parting]] = {}
    for each in partings(row):
        alike.setdefault(tuple(side.apart for side in each.sides), []).append(each)
    for first, *others in alike.values():
        yield from _told(first, whole)
        if others:
            told = tuple(_against(each) for each in others)
            yield Finding("alike", "They disagree in the same way on", told)


def _told(parting: Parting, whole: bool) -> Iterator[Finding]:
    one, other = (side.chain.reasons for side in parting.sides)
    both = [text for text in one if text in other]
    if whole:
        case = parting.sides[0].chain.case
        facts = in_words(case, content(case, parting.shared))
        told = tuple(dict.fromkeys([*both, *facts]))
        if told:
            yield Finding("shared", "Both sides rest on", told)
    for side, head in zip(parting.sides, ("One side", "The other side"), strict=True):
        own = [text for text in side.chain.reasons if text not in both]
        said = _apart(side.chain.case, side) or as_sentence(conclusion(side))
        yield Finding("side", head, (*own, said))
    yield _crux(parting, whole)


def conclusion(side: Side) -> str:
    """What one side says, as a clause."""
    return side.chain.case.world.known.sentences.claim(*side.chain.goal)


def _against(parting: Parting) -> str:
    one, other = map(conclusion, parting.sides)
    return as_sentence(f"{one}; against that, {other}")


_FIRST = {"one": "Of the one side", "other": "Of the other"}


def _crux(parting: Parting, whole: bool) -> Finding:
    """In what two sides differ: by what each claim is to be read with, if told whole.

    What each claim says stands with its side then.
    """
    case = parting.sides[0].chain.case
    items = [_apart(case, side) for side in parting.sides]
    doubts = [_doubts(case, side) for side in parting.sides]
    if whole and any(doubts):
        items = [
            f"{_FIRST[which]}: {told}"
            for which, told in zip(("one", "other"), doubts, strict=True)
            if told
        ]
    cut = "" if parting.complete else " (not all ways were compared)"
    return Finding("crux", f"They disagree in{cut}", tuple(items), parting.complete)


def _doubts(case: Case, side: Side) -> str:
    """What the base says beside the claims of one side: what they are worth, of what
    they were said."""
    base = case.world.base
    symbols = dict.fromkeys(str(args[0]) for _, args in side.apart if args)
    told = (base.record(s).text("caveat") for s in symbols if s in base)
    return " ".join(as_sentence(each) for each in told if each)


def _apart(case: Case, side: Side) -> str:
    """What one side has for itself: its claims, how they stand, and who says so."""
    base = case.world.base
    facts = [f for ground in side.apart for f in case.model.asserted(*ground)]
    works = dict.fromkeys(name for fact in facts for name in fact.basis.sources)
    stands = dict.fromkeys(base.label(f.basis.standing) for f in facts)
    cited = [*stands, *(base.label(name).rstrip(".") for name in works)]
    told = " ".join(in_words(case, side.apart))
    return f"{told} ({'; '.join(filter(None, cited))})" if any(cited) else told
