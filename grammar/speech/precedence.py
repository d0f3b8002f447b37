"""Which of several readings comes first, where the share that they take misleads.

A claim is offered as it stands before it is offered with its ground; where it is asked
what has been measured or published, the question for that comes first. A share, `half
the washes`, has no form: how many there are is offered, and the share left aside.
Beside a statement that is not sure stands the one that differs as it could be wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, Clause
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.likely import Kinds, anywhere
from abluent.grammar.speech.parting import is_name

_GROUNDS = (q.Is, q.Contains)
"""What a ground says that only tells what something is."""
_AHEAD = 0.5
"""How much the question for evidence is put before another."""
_COUNT_AHEAD = 0.5
"""How much the count is put before the statement about all of them."""
_ANYTHING = q.Quantified(q.Quantity.SOME, q.Thing())
_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())


def plain_first(
    queries: Sequence[q.Query],
    sure: Sequence[bool],
    whole: Sequence[bool],
    lost: Sequence[int],
) -> list[int]:
    """The order of some questions in which a claim stands before it with its ground.

    What a question leaves aside stays marked: only the order is another. One that is
    `sure` keeps its place, and so do two statements that leave nothing aside, if the
    first is no ground: they are the `whole` of the text. So does a step whose ground
    names what the claim alone leaves aside; `lost` is how many names each does.
    """
    plain = {
        anywhere(each.statement): at
        for at, each in reversed([*enumerate(queries)])
        if isinstance(each, q.Claim | q.Whether)
    }
    asked = frozenset(each.statement for each in queries if isinstance(each, q.Whether))
    order: list[int] = []
    for at, each in enumerate(queries):
        welded = isinstance(each, q.Argue) and not sure[at]
        apart = frozenset() if whole[at] else asked
        core = _core(each, apart) if welded else None
        first = plain.get(anywhere(core)) if core is not None else None
        follows = isinstance(each, q.Argue) and each.follows
        if first is not None and not (
            follows and (whole[at] or lost[first] > lost[at])
        ):
            order.append(first)
        order.append(at)
    return [*dict.fromkeys(order)]


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
    grounds = all(isinstance(_bare(each), _GROUNDS) for each in [*others[1:], last])
    return first if first in asked and grounds else None


def _bare(said: q.Statement) -> q.Predicate:
    return q.asked_act(said.predicate)


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


def why_first(pieces: Sequence[Piece], offered: Sequence[Offer]) -> list[Offer]:
    """The offers; where it is asked why, what does not ask that is put back.

    `why does A take it off but B not` asks for what sets the two apart.
    """
    if not any(each.role == "ask:why" for each in pieces):
        return [*offered]
    found: list[Offer] = []
    for each in offered:
        unlike = _unlike(each.query)
        if unlike is not None:
            found.append(replace(each, query=unlike, doubt=each.doubt - _AHEAD))
        found.append(each)
    asks = any(_asks_why(each.query) for each in found)
    return [
        each
        if not asks or _asks_why(each.query)
        else replace(each, doubt=max(each.doubt, 0.0) + _WHY_LOST)
        for each in found
    ]


_WHY_LOST = 4.0
"""What speaks against a reading that does not ask why, where one does."""


def _asks_why(query: q.Query) -> bool:
    why = isinstance(query, q.About) and query.aspect is q.Aspect.WHY
    ranked = isinstance(query, q.Which) and query.order in q.EASES
    return why or ranked or isinstance(query, q.Unlike | q.Task)


def _unlike(query: q.Query) -> q.Unlike | None:
    """Why the first of two things does what the other does not."""
    match query:
        case q.Argue(statements=(one, other), follows=False):
            if other.predicate == q.Not(one.predicate):
                return q.Unlike(q.Whether(one), other.subject)
    return None


_WHICH = ("ask:which", "ask:advise")


def asked_first(pieces: Sequence[Piece], offered: Sequence[Offer]) -> list[Offer]:
    """The offers; where it is asked which, a claim of a whole kind is put back."""
    which = any(each.role in _WHICH for each in pieces)
    advised = any(each.role == "ask:advise" for each in pieces)
    asked = [each.query for each in offered if isinstance(each.query, q.Which)]
    cores = {(q.unquantified(e.subject), e.predicate) for e in asked}
    if not which or not cores:
        return [*offered]
    of_wash = any(isinstance(each.predicate, q.Clears) for each in asked)
    return [
        replace(each, doubt=max(each.doubt, 0.0) + _CLAIMED * (1 + advised))
        if _is_claimed(each.query, cores)
        or (advised and _is_of_washes(each.query))
        or (of_wash and _is_ground(each.query))
        else each
        for each in offered
    ]


def _is_ground(query: q.Query) -> bool:
    """Whether a statement only tells what is on a label: `P has F, which wash …`."""
    if not isinstance(query, q.Claim | q.Whether):
        return False
    return isinstance(_bare(query.statement), q.Contains)


_CLAIMED = 1.5
"""What speaks against a claim of a kind where it is asked which of it are so."""


def _is_of_washes(query: q.Query) -> bool:
    """Whether a claim is made of washes, where one to use is asked for."""
    if not isinstance(query, q.Claim):
        return False
    subject = q.unquantified(query.statement.subject)
    return (subject.term if isinstance(subject, q.Such) else subject) == WASHES


def _is_claimed(query: q.Query, cores: set[Any]) -> bool:
    """Whether a claim says of a kind what is asked of its members."""
    if not isinstance(query, q.Claim):
        return False
    said = query.statement
    return (q.unquantified(said.subject), said.predicate) in cores


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


def counted(pieces: Sequence[Piece], offered: Sequence[Offer]) -> Iterator[Offer]:
    """The offers, each with how many there are before it, where a share is named."""
    shared = [*_shared(pieces)]
    for each in offered:
        for name in shared:
            asked = _count(each.query, name)
            if asked is not None:
                yield replace(each, query=asked, doubt=each.doubt - _COUNT_AHEAD)
        yield each


def _shared(pieces: Sequence[Piece]) -> Iterator[str]:
    """What a share is named of: the name after it."""
    for at, piece in enumerate(pieces):
        if piece.role == "quantity:share":
            later = (each.sense for each in pieces[at + 1 :] if is_name(each))
            sense = next(later, None)
            if sense is not None and sense.kinds & {"class", "kind"}:
                yield sense.text


def _count(query: q.Query, name: str) -> q.HowMany | None:
    """How many of a name a statement is true of."""
    if not isinstance(query, q.Claim | q.Whether):
        return None
    subject, said = query.statement.subject, query.statement.predicate
    if _is_of(subject, name):
        return q.HowMany(q.Which(q.unquantified(subject), said))
    core = q.asked_act(said)
    if isinstance(core, q.Clears | q.Leaves | q.Contains) and _is_of(core.object, name):
        acts = replace(core, object=q.unquantified(core.object))
        made = q.Not(acts) if isinstance(said, q.Not) else acts
        return q.HowMany(q.What(q.unquantified(subject), made))
    return None


def _is_of(term: q.Term, name: str) -> bool:
    """Whether a term is of so many of a name."""
    bare = q.unquantified(term)
    base = bare.term if isinstance(bare, q.Such) else bare
    return base == q.Name(name)


def otherwise(pieces: Sequence[Piece], offer: Offer, kinds: Kinds) -> Iterator[Offer]:
    """A statement as it could be meant too: of some, of all, without its conditions."""
    query = offer.query
    if not isinstance(query, q.Claim | q.Whether):
        return
    said = query.statement
    for other in _of_others(said, kinds):
        yield replace(offer, query=q.Claim(other), doubt=max(offer.doubt, 0.0) + 1.0)
    core = _bare(said)
    if isinstance(core, q.Clears | q.Leaves | q.Stays) and core.circumstances:
        bare: q.Predicate = replace(core, circumstances=())
        bare = q.Not(bare) if isinstance(said.predicate, q.Not) else bare
        stating = Clause(pieces, range(len(pieces))).stating()
        made = replace(query, statement=replace(said, predicate=bare))
        yield Offer(made, offer.used - stating, max(offer.doubt, 0.0) + 1.5)


def _of_others(said: q.Statement, kinds: Kinds) -> Iterator[q.Statement]:
    """A statement of every member as one of some, of none as one of not all."""
    subject, denied = said.subject, isinstance(said.predicate, q.Not)
    bare = q.unquantified(subject)
    base = bare.term if isinstance(bare, q.Such) else bare
    general = isinstance(base, q.Name) and (
        base == WASHES or bool(kinds.get(base.text, frozenset()) & _GENERAL)
    )
    if not general or isinstance(said.predicate, q.Needs):
        return
    quantity = subject.quantity if isinstance(subject, q.Quantified) else None
    some = q.Quantified(q.Quantity.SOME, bare)
    if quantity in (None, q.Quantity.EVERY):
        yield replace(said, subject=some)
    elif quantity is q.Quantity.SOME and not denied:
        yield replace(said, subject=bare)
    elif quantity is q.Quantity.SOME:
        none = q.Quantified(q.Quantity.NO, bare)
        yield q.Statement(none, _bare(said))
    elif quantity is q.Quantity.NO and not denied:
        yield q.Statement(some, q.Not(said.predicate))


_GENERAL = frozenset({"class", "kind", "value"})
