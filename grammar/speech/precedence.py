"""Which of several readings comes first, where the share that they take misleads.

A claim is offered as it stands before it is offered with its ground; where it is asked
what has been measured or published, the question for that comes first.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.speech.joining import Offer
from abluent.grammar.speech.pieces import Piece

_GROUNDS = (q.Is, q.Contains)
"""What a ground says that only tells what something is."""
_AHEAD = 0.5
"""How much the question for evidence is put before another."""
_ANYTHING = q.Quantified(q.Quantity.SOME, q.Thing())
_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())


def plain_first(queries: Sequence[q.Query], sure: Sequence[bool]) -> list[int]:
    """The order of some questions in which a claim stands before it with its ground.

    What a question leaves aside stays marked: only the order is another. One that is
    `sure` keeps its place.
    """
    plain = {
        _anywhere(each.statement): at
        for at, each in reversed([*enumerate(queries)])
        if isinstance(each, q.Claim | q.Whether)
    }
    asked = frozenset(each.statement for each in queries if isinstance(each, q.Whether))
    order: list[int] = []
    for at, each in enumerate(queries):
        welded = isinstance(each, q.Argue) and not sure[at]
        core = _core(each, asked) if welded else None
        if core is not None and _anywhere(core) in plain:
            order.append(plain[_anywhere(core)])
        order.append(at)
    return [*dict.fromkeys(order)]


def _anywhere(said: q.Statement) -> q.Statement:
    """A statement without the conditions it is under, as a key."""
    core = _bare(said)
    if not isinstance(core, q.Clears | q.Leaves | q.Stays):
        return said
    bare: q.Predicate = replace(core, circumstances=())
    denied = isinstance(said.predicate, q.Not)
    return replace(said, predicate=q.Not(bare) if denied else bare)


def _core(argued: q.Query, asked: frozenset[q.Statement]) -> q.Statement | None:
    """The statement that a welded one is about, if the others only ground it."""
    assert isinstance(argued, q.Argue)
    *others, last = argued.statements
    if argued.follows:
        grounds = all(isinstance(_bare(each), _GROUNDS) for each in others)
        return last if grounds else None
    first = argued.statements[0]
    whole = [each for each in argued.statements if _takes_everything(each)]
    if whole and len(argued.statements) - len(whole) == 1:
        return next(each for each in argued.statements if each not in whole)
    return first if first in asked else None


def _bare(said: q.Statement) -> q.Predicate:
    return said.predicate.part if isinstance(said.predicate, q.Not) else said.predicate


def _takes_everything(said: q.Statement) -> bool:
    core = _bare(said)
    return isinstance(core, q.Clears) and core.object == _EVERYTHING


def evidence_first(pieces: Sequence[Piece], offered: Sequence[Offer]) -> list[Offer]:
    """The offers, each with the question for its evidence, if that is asked for."""
    if not any(each.does("ask:evidence") for each in pieces):
        return [*offered]
    found: list[Offer] = []
    for each in offered:
        said = _said(each.query)
        if said is not None:
            asked = q.About(q.Aspect.SOURCES, q.Claim(said))
            found.append(Offer(asked, each.used, each.doubt - _AHEAD, each.guess))
        found.append(each)
    return found


def _said(query: q.Query) -> q.Statement | None:
    """The statement whose evidence a question can be asked for."""
    match query:
        case q.Claim(statement=said) | q.Whether(statement=said):
            return said
        case q.Which(subject=subject, predicate=q.Clears() as acts):
            return q.Statement(subject, acts)
        case q.What(subject=subject, predicate=q.Clears(object=q.Thing()) as acts):
            return q.Statement(subject, replace(acts, object=_ANYTHING))
        case q.Compare(film=film, things=q.And(terms=(one, other))) if film is not None:
            return q.Statement(one, q.Outdoes(film, other))
        case _:
            return None
