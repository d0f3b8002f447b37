"""What other conditions would make of a verdict, found by judging under them.

A claim that holds only under a condition says nothing where that is not stated. Here
such claims are looked for, their conditions are supposed, and the verdict is judged
again; none is guessed. Claims of degree turn no verdict, so they are only told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from abluent.engine.base.conditions import aspect_of, laid_over
from abluent.engine.base.contract import HINGES, HINGES_LEFT, PRESENT
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Finding
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict, films_left, verdicts
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence


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
                items.append(f"{head}: {base.label(degree)}. {said}")
    if not items:
        return None
    return Finding("conditions", "Under other conditions", tuple(items))


def turning_notes(rows: Sequence[Verdict]) -> Iterator[str]:
    """The conditions, of those that nobody stated, that would turn some verdicts.

    A condition of an aspect that the question, the shelf or the routine speaks of is
    left out: it was said to be otherwise. So are conditions under which hardly anybody
    washes, and those that make a verdict no more than open.
    """
    for row in rows:
        base, present = row.case.world.base, _present(row.case)
        found: dict[str, list[tuple[str, ...]]] = {}
        for supposed in sorted(_supposable(row), key=len):
            seldom = any(base.record(each).truth("seldom") for each in supposed)
            if _unspoken(base, supposed, present) and not seldom:
                other = _turned(row, supposed)
                if other is not None and other.role is not Role.OPEN:
                    known = found.setdefault(row_phrase(row.case.world, other), [])
                    if not any({*supposed} > {*each} for each in known):
                        known.append(supposed)
        if found:
            yield _in_one(base, row, found)


def _in_one(
    base: Base, row: Verdict, found: Mapping[str, Sequence[tuple[str, ...]]]
) -> str:
    """On what a verdict depends, in a sentence."""
    told = []
    for verdict, every in found.items():
        plain = [" ".join(map(base.label, each)) for each in every]
        when = _capital(listed(plain).replace(" and ", " or "))
        told.append(f"{when}: {verdict}")
    first, *rest = told
    rest = [
        f"{each[:1].lower()}{each[1:].replace(f': {row.wash} ', ': it ', 1)}"
        for each in rest
    ]
    return f"{'; '.join([first, *rest])}."


def leaving_notes(case: Case, product: str) -> Iterator[str]:
    """The conditions that nobody spoke of under which a product leaves more films."""
    world, base, present = case.world, case.world.base, _present(case)
    hinging = case.model.match(HINGES_LEFT, (world.symbol(product), None))
    known = {left.film for left in films_left(case, product)}
    for lacking in sorted({_lacking(base, str(c), present) for _, c in hinging}):
        if _unspoken(base, lacking, present):
            stated = laid_over(base, present, lacking)
            after = films_left(
                Case.of(world, sources=[product], stated=stated), product
            )
            more = [base.label(left.film) for left in after if left.film not in known]
            if more:
                yield f"{_phrase(base, lacking)}: {product} leaves {listed(more)} too."


def _supposable(row: Verdict) -> dict[tuple[str, ...], list[str]]:
    """The conditions that claims about a wash and a film ask for and nobody stated."""
    model, base = row.case.model, row.case.world.base
    wash = row.goal[1][0]
    present = _present(row.case)
    found: dict[tuple[str, ...], list[str]] = {}
    hinging = {
        str(claim)
        for grade in row.grades
        for _, _, claim in model.match(HINGES, (wash, grade, None))
    }
    for claim in sorted(hinging):
        found.setdefault(_lacking(base, claim, present), []).append(claim)
    return found


def _turned(row: Verdict, supposed: Sequence[str]) -> Verdict | None:
    """The verdict under some conditions, if it is another."""
    world = row.case.world
    stated = laid_over(world.base, _present(row.case), supposed)
    sources = [row.source] if row.source else []
    films = [] if sources else [row.film]
    for other in verdicts(Case.of(world, [row.wash], films, sources, stated=stated)):
        if (other.film, other.source) == (row.film, row.source):
            same = (other.value, other.disputed) == (row.value, row.disputed)
            return None if same else other
    return None


def _present(case: Case) -> tuple[str, ...]:
    return tuple(str(each) for (each,) in sorted(case.model.match(PRESENT, (None,))))


def _lacking(base: Base, claim: str, present: Collection[str]) -> tuple[str, ...]:
    """The conditions of a claim that are not stated."""
    asked = base.record(claim).links("when")
    return tuple(each for each in sorted(asked) if each not in present)


def _unspoken(base: Base, conditions: Sequence[str], present: Sequence[str]) -> bool:
    """Whether nothing was said of what some conditions are about."""
    spoken = {aspect_of(base, each)[0] for each in present}
    return spoken.isdisjoint(aspect_of(base, each)[0] for each in conditions)


def _phrase(base: Base, conditions: Sequence[str]) -> str:
    return _capital(" ".join(base.label(each) for each in conditions))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
