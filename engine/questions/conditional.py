"""What other conditions would make of a verdict, found by judging under them.

A claim that holds only under a condition says nothing where that is not stated. Here
such claims are looked for, their conditions are supposed, and the verdict is judged
again; none is guessed. Claims of degree turn no verdict, so they are only told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.conditions import aspect_of, laid_over
from abluent.engine.base.contract import HINGES, PRESENT, READING
from abluent.engine.base.store import Base
from abluent.engine.questions.answers import Finding
from abluent.engine.questions.explained import as_sentence
from abluent.engine.questions.verdicts import Verdict, verdicts
from abluent.engine.questions.wording import row_phrase


def under_conditions(row: Verdict) -> Finding | None:
    """What each condition that some claim asks for would make of a verdict."""
    base = row.case.world.base
    items = []
    for supposed, claims in _supposable(row).items():
        head = _phrase(base, supposed)
        other = _turned(row, supposed)
        if other is not None:
            items.append(f"{head}: {row_phrase(row.case.world, other)}.")
        for claim in claims:
            degree = base.record(claim).link("degree")
            if degree:
                said = as_sentence(base.label(claim))
                items.append(f"{head}: the same, but {base.label(degree)}. {said}")
    if not items:
        return None
    phrase = row_phrase(row.case.world, row)
    return Finding("conditions", f"{phrase}; under other conditions", tuple(items))


def turning_notes(rows: Sequence[Verdict]) -> Iterator[str]:
    """The conditions, of those that nobody stated, that would turn some verdicts.

    A condition of an aspect that the question, the shelf or the routine speaks of is
    left out: it was said to be otherwise.
    """
    for row in rows:
        base, spoken = row.case.world.base, set(_aspects(row))
        for supposed in _supposable(row):
            if spoken.isdisjoint(aspect_of(base, each)[0] for each in supposed):
                other = _turned(row, supposed)
                if other is not None:
                    told = row_phrase(row.case.world, other)
                    yield f"{_phrase(base, supposed)}: {told}."


def _supposable(row: Verdict) -> dict[tuple[str, ...], list[str]]:
    """The conditions that claims about a wash and a film ask for and nobody stated."""
    model, base = row.case.model, row.case.world.base
    _, (wash, film, product, _) = row.goal
    present = _present(row)
    found: dict[tuple[str, ...], list[str]] = {}
    grades = {grade for _, _, grade in model.match(READING, (film, product, None))}
    hinging = {
        str(claim)
        for grade in grades
        for _, _, claim in model.match(HINGES, (wash, grade, None))
    }
    for claim in sorted(hinging):
        asked = base.record(claim).links("when")
        lacking = tuple(each for each in sorted(asked) if each not in present)
        found.setdefault(lacking, []).append(claim)
    return found


def _turned(row: Verdict, supposed: Sequence[str]) -> Verdict | None:
    """The verdict under some conditions, if it is another."""
    world = row.case.world
    stated = laid_over(world.base, _present(row), supposed)
    sources = [row.source] if row.source else []
    case = world.judge(
        [row.wash], [] if sources else [row.film], sources, stated=stated
    )
    for other in verdicts(case):
        if (other.film, other.source) == (row.film, row.source):
            same = (other.value, other.disputed) == (row.value, row.disputed)
            return None if same else other
    return None


def _present(row: Verdict) -> tuple[str, ...]:
    return tuple(
        str(each) for (each,) in sorted(row.case.model.match(PRESENT, (None,)))
    )


def _aspects(row: Verdict) -> Iterator[str]:
    for each in _present(row):
        yield aspect_of(row.case.world.base, each)[0]


def _phrase(base: Base, conditions: Sequence[str]) -> str:
    told = " ".join(base.label(each) for each in conditions)
    return told[:1].upper() + told[1:]
