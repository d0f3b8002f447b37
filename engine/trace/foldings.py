"""The foldings of some rows as a part of their trace, for the checker to try."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from abluent.engine.base.contract import ISA, LINE
from abluent.engine.base.store import Base
from abluent.engine.logic.terms import Term
from abluent.engine.proof.encode import Json
from abluent.engine.proof.trace import NOTHING_FOLDED, Folded
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.described import Term as Named
from abluent.engine.questions.answers.folding import (
    Folding,
    Members,
    film_of,
    folded,
    wash_key,
    whole_among,
)
from abluent.engine.questions.answers.verdicts import Verdict


def folded_part(rows: Sequence[Row]) -> Folded:
    """What the rows of a trace come to; nothing of one row.

    Args:
        rows: the rows, in the order in which the trace shows them.
    """
    verdicts = [row for row in rows if isinstance(row, Verdict)]
    if len(verdicts) < 2 or len(verdicts) < len(rows):
        return NOTHING_FOLDED
    found, base = folded(verdicts), verdicts[0].case.world.base
    agents = {row.goal[1][0]: wash_key(row) for row in verdicts}
    alone = {a: str(w) for w, a in agents.items() if a in base and w != a}
    things = sorted({*agents.values(), *(row.film for row in verdicts)})
    holds = verdicts[0].case.model.holds
    held = {
        name: [each for each in things if holds(ISA, (each, name))]
        for name in sorted(set(_classes(found)))
    }
    whole = _whole(base, held, things)
    numbers = {id(row): number for number, row in enumerate(rows)}
    content: Json = {
        "held": held,
        "whole": whole,
        "alone": dict(sorted(alone.items())),
        "said": [_said(each, numbers, alone) for each in found],
    }
    return Folded(content, tuple(_asks(held, whole, things, alone.values())))


def _whole(
    base: Base, held: Mapping[str, Sequence[str]], things: Sequence[str]
) -> list[str]:
    """The classes of which the base knows no other member."""
    stated, members = Members(), Members()
    for each in things:
        stated.add(base.classes_of(each) if each in base else (), each)
        members.add((name for name in held if each in held[name]), each)
    return sorted(whole_among(base, stated, members) & held.keys())


def _asks(
    held: Iterable[str],
    whole: Sequence[str],
    things: Iterable[str],
    washes: Iterable[str],
) -> Iterator[tuple[str, tuple[Term | None, ...]]]:
    """What the checker will ask."""
    for name in held:
        yield from ((ISA, (each, name)) for each in things)
    yield from ((ISA, (None, name)) for name in whole)
    yield from ((LINE, (wash, None, None)) for wash in washes)


def _classes(found: Iterable[Folding]) -> Iterator[str]:
    waiting = [t for each in found for s in (each.washes, each.films) for t in s.terms]
    while waiting:
        term = waiting.pop()
        if term.whole:
            yield term.symbol
        waiting += term.but


def _said(each: Folding, numbers: dict[int, int], alone: dict[str, str]) -> Json:
    term = each.first.case.world.base.term
    return {
        "verdict": each.first.value,
        "contested": [term(effect) for effect in each.first.contested],
        "washes": [_wash(each, t, alone) for t in each.washes.terms],
        "films": [_film(each, t) for t in each.films.terms],
        "rows": sorted(numbers[id(row)] for row in each.members),
    }


def _wash(each: Folding, term: Named, alone: dict[str, str]) -> Json:
    if term.whole:
        but = [_wash(each, inner, alone) for inner in term.but]
        return {"class": term.symbol, "but": but}
    known = alone.get(term.symbol)
    return {"thing": [known or each.first.case.world.symbol(term.symbol)]}


def _film(each: Folding, term: Named) -> Json:
    if term.whole:
        return {"class": term.symbol, "but": [_film(each, inner) for inner in term.but]}
    film, source = film_of(term.symbol)
    known = each.first.case.world
    return {
        "thing": [film, known.symbol(source) if source else known.known.any_product]
    }
