"""What leads a wash, and which claims set one wash above another, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

from abluent.engine.base.contract import (
    LINE,
    MAY_LEAD,
    MILDER,
    PLACED_AS,
    TOLD_OF,
)
from abluent.engine.base.phrases import with_article
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import WHAT_IT_DOES, advice_on
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence

_Place: TypeAlias = tuple[str, bool]
"""A claim of the order, and whether it counts a class among the milder."""
ALSO_DECIDES = (
    "How much of each is in a wash, how acid it is and what stands beside it decide "
    "too; a label tells only the last."
)
"""What mildness turns on besides what leads a wash."""
_NAMED = 3
"""So many things that may lead a wash are named."""


def leads(case: Case, wash: str) -> list[str]:
    """What leads a wash or may, by symbol, as its label lists it.

    Args:
        case: a case in which the wash was asked about.
        wash: the symbol of the wash.
    """
    places: dict[str, int] = {}
    for _, place, agent in case.model.match(LINE, (wash, None, None)):
        if isinstance(place, int):
            places[str(agent)] = min(place, places.get(str(agent), place))
    found = {str(row[1]) for row in case.model.match(MAY_LEAD, (wash, None))}
    return sorted(found, key=lambda agent: (places.get(agent, 0), agent))


def kind_of(base: Base, symbol: str) -> str:
    """The narrowest class of a thing in words; empty if it has none."""
    kinds = base.classes_of(symbol) if symbol in base else []
    return base.label(kinds[0]) if kinds else ""


def led_by(case: Case, wash: str) -> str:
    """What leads a wash, with its class where it is one thing; empty if nothing is."""
    found, base = leads(case, wash), case.world.base
    if len(found) == 1:
        kind = kind_of(base, found[0])
        return base.label(found[0]) + (f", {with_article(kind)}" if kind else "")
    if len(found) > _NAMED:
        return f"any of {len(found)} cleansers, as its label puts them in no order"
    some = " or ".join(map(base.label, found))
    return f"{some}, as its label puts them in no order" if found else ""


def lead_does(case: Case, wash: str) -> str:
    """What the one thing does that leads a wash, in a sentence; empty if none does."""
    found = leads(case, wash)
    if len(found) != 1:
        return ""
    told = advice_on(case.world.base, WHAT_IT_DOES, found[0])
    if told is None:
        return ""
    article = told.text.startswith(("A ", "An "))
    return f"That is {told.text[:1].lower()}{told.text[1:]}" if article else told.text


def why_milder(
    case: Case, milder: str, harsher: str, *, joint: bool = False, trade: bool = False
) -> list[str]:
    """The claim that sets what leads one wash above what leads another, as a sentence.

    One that speaks of both, the order of the trade first and, if it must be of the
    `trade`, alone; else, where several join them, one that speaks of the milder,
    unless it must be `joint`.
    """
    base = case.world.base
    both = [
        claim
        for claim in _speaking(case, milder, trade=trade)
        if _among(case, milder, base.record(claim).links("milder"))
        and _among(case, harsher, base.record(claim).links("harsher"))
    ]
    if both or joint:
        return [said(base, claim) for claim in both[:1]]
    placed = [str(row[2]) for row in case.model.match(PLACED_AS, (milder, None, None))]
    return [said(base, claim) for claim in dict.fromkeys(sorted(placed))][:1]


def why_stronger(
    case: Case, stronger: str, weaker: str, claims: Iterable[str]
) -> list[str]:
    """The claim, of some, that sets what leads one wash above what leads another."""
    base = case.world.base
    return [
        said(base, claim)
        for claim in claims
        if _among(case, stronger, base.record(claim).links("stronger"))
        and _among(case, weaker, base.record(claim).links("weaker"))
    ][:1]


def steps_of_degree(row: Explained) -> list[str]:
    """Why one wash is set above another, in the order of thought.

    What leads each, the claim that sets the one above the other, and the rule that
    joins them.
    """
    case, (predicate, args) = row.case, row.goal
    one, other = str(args[0]), str(args[1])
    told = [
        as_sentence(f"{case.world.name(wash)} is built on {main}")
        for wash in (one, other)
        if (main := led_by(case, wash))
    ]
    if predicate == MILDER:
        told += why_milder(case, one, other)
    else:
        told += why_stronger(case, one, other, row.claims)
    return [*told, *row.reasons[-1:]]


def _speaking(case: Case, wash: str, *, trade: bool) -> Iterator[str]:
    """The claims of mildness on what is in a wash, the order of the trade first."""
    for predicate in (PLACED_AS,) if trade else (PLACED_AS, TOLD_OF):
        rows = case.model.match(predicate, (wash, None, None))
        yield from sorted({str(row[2]) for row in rows})


def _among(case: Case, wash: str, kinds: Iterable[str]) -> bool:
    """Whether all that may lead a wash is of some of these kinds, or one of them."""
    wanted, base = set(kinds), case.world.base
    found = leads(case, wash)
    return bool(found) and all(wanted & {e, *base.classes_of(e)} for e in found)


def alike(names: Sequence[str]) -> str:
    """That two washes stand on one rung, as the end of a sentence."""
    return (
        f"the order of the trade sets {listed(names)} on one rung of mildness to skin, "
        "and no test known here settles which is milder."
    )


def shared_rung(case: Case, one: str, other: str) -> str:
    """The widest claim of the order that sets two washes alike, as a sentence.

    Empty unless every claim that places what may lead the one places what may lead the
    other on the same side.

    Args:
        case: a case in which both were asked about.
        one: the symbol of a wash.
        other: the symbol of another.
    """
    found = {places for wash in (one, other) for places in _places(case, wash)}
    if len(found) != 1 or not (places := found.pop()):
        return ""
    base = case.world.base

    def speaks_of(claim: str) -> int:
        return sum(
            len(base.record(claim).links(side)) for side in ("milder", "harsher")
        )

    claims = sorted({claim for claim, _ in places})
    return said(base, max(claims, key=speaks_of))


def _places(case: Case, wash: str) -> set[frozenset[_Place]]:
    """Where the order sets each thing that may lead a wash."""
    return {_placed(case, wash, agent) for agent in leads(case, wash)}


def _placed(case: Case, wash: str, agent: str) -> frozenset[_Place]:
    base = case.world.base
    kinds = {agent, *base.classes_of(agent)}
    claims = [str(row[2]) for row in case.model.match(PLACED_AS, (wash, agent, None))]
    return frozenset(
        (claim, bool(kinds & set(base.record(claim).links("milder"))))
        for claim in claims
    )


def said(base: Base, claim: str) -> str:
    """What a claim says, as a sentence."""
    return as_sentence(base.record(claim).text("statement") or base.label(claim))


def widest(base: Base, families: Sequence[str]) -> str:
    """Families in words; one within another of them is not named beside it."""
    some = [
        each
        for each in families
        if not any(o != each and o in base.ancestors(each) for o in families)
    ]
    return listed([base.plural(each) for each in some], len(some))
