"""Whether what a claim says speaks of what stands on the labels, and how else it bears.

A claim bounds a class. Its sentence may speak of one thing of the class that was
tested, or of a class that is only joined to this one by an order; then the step says
so, as a reader would look for that thing on the label in vain.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from abluent.engine.base.contract import ISA, LISTED
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import EFFECTS, Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import Verdict

_WORD = re.compile(r"[\w-]+")
_LONGEST = 4
"""So many words of a sentence are looked up as one name."""
_MEASURED = "measured"
"""How a claim stands that tells of a study."""
_STRONGER = "Stronger cleansers do no better"
_WEAKER = "Weaker cleansers do as much"
_EASIER = "A film that goes more easily goes no further"
_HARDER = "A film that holds as hard goes as far"
"""What an order carries over, as the upper end or the lower."""


def sets(base: Base, claim: str, effect: Role, *, upper: bool) -> bool | None:
    """Whether a claim sets an end of a verdict by itself; None if it sets no end.

    Args:
        base: what is known.
        claim: the claim, by symbol.
        effect: what the end says is taken.
        upper: whether it is the upper end.
    """
    record = base.record(claim)
    said = record.link("atMost" if upper else "atLeast")
    if said is None:
        shared = record.number("shareHigh" if upper else "shareLow") is not None
        return True if shared else None
    return said in {base.term(each) for each in EFFECTS} and said == base.term(effect)


def speaks_of(base: Base, claim: str, acting: Iterable[set[str]]) -> bool:
    """Whether a claim speaks of one of some agents, or of a wash of such agents.

    Args:
        base: what is known.
        claim: the claim, by symbol.
        acting: of each agent in the wash, itself and its classes.
    """
    record, kinds = base.record(claim), list(acting)
    if agents := set(record.links("agent")):
        return any(agents & each for each in kinds)
    for wash in record.links("ofWash"):
        only = set(base.record(wash).links("actsOnlyBy"))
        return not only or all(only & each for each in kinds)
    return True


def bears_how(row: Verdict, claim: str, agents: Iterable[str], *, upper: bool) -> str:
    """How a claim bears on a verdict whose labels it does not speak of; else empty.

    Args:
        row: the verdict.
        claim: the claim, by symbol.
        agents: what acts in the wash, by symbol.
        upper: whether it bounds from above.
    """
    base = row.case.world.base
    record = base.record(claim)
    kinds = set(record.links("agent"))
    if sets(base, claim, Role.NONE_OF_IT, upper=upper) is None:
        return ""
    match = row.case.model.match
    acting = [*agents, row.case.world.known.water_symbol]
    mine = [
        agent
        for agent in acting
        if kinds & {agent, *(str(kind) for _, kind in match(ISA, (agent, None)))}
    ]
    if kinds and not mine:
        return _STRONGER if upper else _WEAKER
    if not _on_this_film(row, record.links("film")):
        return _EASIER if upper else _HARDER
    tested = things_in(base, record.text("statement") or "")
    listed = {str(each) for _, each in match(LISTED, (row.goal[1][0], None))}
    told = []
    if mine and tested and not tested & listed:
        told.append(f"{base.label(mine[0])} is {_as_one(base, mine[0])}")
    wider = [each for each in record.links("film") if base.is_class(each)]
    if record.link("standing") == _MEASURED and wider and tested:
        own = base.classes_of(row.film) if row.film in base else []
        if own and own[0] not in wider:
            counts = with_article(base.label(wider[0]))
            told.append(f"{base.label(row.film)} counts as {counts}")
    return f"By class, as {' and '.join(told)}" if told else ""


def _on_this_film(row: Verdict, films: Iterable[str]) -> bool:
    """Whether a claim on some films speaks of the film of a verdict."""
    match = row.case.model.match
    names = {row.film, *row.grades}
    names |= {str(kind) for each in [*names] for _, kind in match(ISA, (each, None))}
    wanted = set(films)
    return not wanted or bool(wanted & names)


def _as_one(base: Base, symbol: str) -> str:
    kinds = base.classes_of(symbol)
    return with_article(base.label(kinds[0])) if kinds else "of that kind"


def things_in(base: Base, text: str) -> set[str]:
    """The surfactants that a sentence names, by symbol."""
    words = _WORD.findall(text)
    top = base.term(Role.CLEANSER)
    found = set()
    for length in range(2, _LONGEST + 1):
        for start in range(len(words) - length + 1):
            name = fold(" ".join(words[start : start + length]))
            known = base.names.get(name)
            if known and top in _kinds(base, known[0]):
                found.add(known[0])
    return found


def _kinds(base: Base, symbol: str) -> set[str]:
    return set(base.classes_of(symbol)) if symbol in base else set()


def plainly(base: Base, kinds: Iterable[str]) -> str:
    """How the nearest of some classes, or of those above them, is told plainly."""
    own = list(kinds)
    above = {up for kind in own for up in (kind, *base.ancestors(kind))}
    for each in sorted(above, key=lambda kind: (-len(base.ancestors(kind)), kind)):
        told = base.record(each).text("plainly") if each in base else None
        if told:
            head, _, rest = told.partition(", ")
            bare = fold(head.partition(" ")[2] or head)
            same = any(bare in fold(base.label(kind)) for kind in own)
            return rest if same else told
    return ""
