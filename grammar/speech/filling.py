"""What a reading lacks, from the rest of the text: conditions, rounds, which wash.

`On bleached hair, with hard water. Does W get F out?` has the question in one sentence
and what it depends on in another. Each reading is offered filled as well: with every
condition, round, wash, film and source that is named elsewhere, where its own place for
that is empty. What is filled so is never taken without asking.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any

from abluent.grammar.common.record import Record, replace
from abluent.grammar.frames.clause import REPEATED, WASHES, Clause, rounds_of
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.roles import only_said

_DOUBT = 0.05
"""What speaks against a filled reading: that it was put together."""
_MILD = ("contrast:mild", "contrast:mildest", "contrast:milder")
_STRONG = ("contrast:strongest", "contrast:best")
_THING = q.Thing()


class _Core(Record):
    """The subject and the predicate of a question, and the places it is from."""

    subject: q.Term
    said: Any
    used: frozenset[int]


def filled(pieces: Sequence[Piece], offered: Sequence[Offer]) -> Iterator[Offer]:
    """The offers, and each of them filled from the rest of the text."""
    clause = Clause(pieces, range(len(pieces)))
    for offer in offered:
        more = _filled(clause, offer)
        if more is not None:
            yield more
            yield from _otherwise(clause, more)
        yield offer
        yield from _otherwise(clause, offer)


def _filled(clause: Clause, offer: Offer) -> Offer | None:
    if isinstance(offer.query, q.Argue):
        return _argued(clause, offer, offer.query)
    if isinstance(offer.query, q.Compare):
        return _compared(clause, offer, offer.query)
    eased = _eased(clause, offer)
    if eased is not None:
        return eased
    core = _core(offer.query)
    if core is None:
        return None
    before = _Core(*core, offer.used)
    each = before
    for step in _STEPS:
        each = step(clause, each)
    query = offer.query
    if (each.subject, each.said) != (before.subject, before.said):
        query = _with_core(query, each.subject, each.said)
    ordered = _ordered(clause, query, each.used)
    query, used = ordered
    if query == offer.query:
        return None
    return replace(offer, query=query, used=used, doubt=max(offer.doubt, 0.0) + _DOUBT)


def _otherwise(clause: Clause, offer: Offer) -> Iterator[Offer]:
    """The same after each other number of rounds: `after 3, after 10`."""
    core = _core(offer.query)
    acts = q.asked_act(core[1]) if core is not None else None
    if core is None or not isinstance(acts, q.Clears) or acts.rounds < 2:
        return
    counts = dict.fromkeys(map(rounds_of, clause.pieces))
    for rounds in [each for each in counts if each not in (1, acts.rounds)]:
        said = _within(core[1], partial(replace, rounds=rounds))
        own = {
            clause.places[at]
            for at, piece in enumerate(clause.pieces)
            if rounds_of(piece) == rounds
        }
        used = (offer.used - clause.counting()) | own
        doubt = max(offer.doubt, 0.0) + 2 * _DOUBT
        query = _with_core(offer.query, core[0], said)
        yield replace(offer, query=query, used=used, doubt=doubt)


def _compared(clause: Clause, offer: Offer, query: q.Compare) -> Offer | None:
    """`A or B for F in hard water`: which of them take it off there."""
    wanted = tuple(each for each in clause.circumstances() if each != REPEATED)
    rounds = clause.rounds()
    if query.film is None or not (wanted or rounds > 1):
        return None
    acts = q.Clears(query.film, circumstances=wanted, rounds=rounds)
    used = offer.used | (clause.counting() if rounds > 1 else frozenset())
    used |= clause.stating() if wanted else frozenset()
    doubt = max(offer.doubt, 0.0) + _DOUBT
    return replace(offer, query=q.Which(query.things, acts), used=used, doubt=doubt)


def _eased(clause: Clause, offer: Offer) -> Offer | None:
    """`which is harder to shift with a mild wash`: under such washes."""
    core = _Core(_THING, None, offer.used)
    washes = [n for n in _free(clause, core, "wash") if not n.has("film")]
    washes = [n for n in washes if n.term != WASHES and n.quantity is not _NO]
    washes = [n for n in washes if n.before not in ("in", "from", "than")]
    if not washes:
        return None
    query = _under_washes(offer.query, washes[0].term)
    if query is None:
        return None
    used = _taking(clause, core, washes[0])
    # `W only`: by no other wash.
    only = (at for at, e in enumerate(clause.pieces) if e.does("quantity:only"))
    used |= frozenset(clause.places[at] for at in only)
    doubt = max(offer.doubt, 0.0) + _DOUBT
    return replace(offer, query=query, used=used, doubt=doubt)


_NO = q.Quantity.NO


def _under_washes(query: Any, washes: q.Term) -> Any:
    """A question of how films go, asked under some washes; None if it is no such."""
    match query:
        case q.Which(order=order, under=None) if order in q.EASES:
            return replace(query, under=washes)
        case q.Claim(statement=said) | q.Whether(statement=said):
            if isinstance(said.predicate, q.Resists) and said.predicate.under is None:
                predicate = replace(said.predicate, under=washes)
                return replace(query, statement=replace(said, predicate=predicate))
        case q.About(matter=q.Claim() | q.Whether() as matter):
            made = _under_washes(matter, washes)
            return None if made is None else replace(query, matter=made)
    return None


def _argued(clause: Clause, offer: Offer, query: q.Argue) -> Offer | None:
    """Several statements, each under the conditions that the text states."""
    wanted = clause.circumstances()
    if any(piece.does("small:unless") for piece in clause.pieces):
        # The one holds elsewhere than the other.
        return None
    made = tuple(_under(each, wanted) for each in query.statements)
    if made == query.statements:
        return None
    used = offer.used | clause.stating()
    doubt = max(offer.doubt, 0.0) + _DOUBT
    return replace(offer, query=q.Argue(made, query.follows), used=used, doubt=doubt)


def _under(said: q.Statement, wanted: tuple[str, ...]) -> q.Statement:
    acts = q.asked_act(said.predicate)
    if not isinstance(acts, q.Clears | q.Leaves | q.Stays) or acts.circumstances:
        return said
    held = tuple(e for e in wanted if e != REPEATED or not isinstance(acts, q.Clears))
    made = _within(said.predicate, lambda each: replace(each, circumstances=held))
    return replace(said, predicate=made)


def _core(query: q.Query) -> tuple[q.Term, Any] | None:
    """The subject and the predicate of a question that has one of each."""
    match query:
        case q.Claim(statement=said) | q.Whether(statement=said):
            return said.subject, said.predicate
        case q.Which(subject=subject, predicate=acts) if acts is not None:
            return subject, acts
        case q.What(subject=subject, predicate=acts):
            return subject, acts
        case q.About(matter=q.Claim() | q.Whether() as matter):
            return _core(matter)
        case _:
            return None


def _with_core(query: Any, subject: q.Term, said: Any) -> Any:
    """The same question of another subject and predicate."""
    match query:
        case q.Claim() | q.Whether():
            return replace(query, statement=q.Statement(subject, said))
        case q.Which() | q.What():
            return replace(query, subject=subject, predicate=said)
        case q.About():
            return replace(query, matter=_with_core(query.matter, subject, said))
    return query


def _within(said: Any, change: Callable[[Any], Any]) -> Any:
    """What is said, changed beneath its denial."""
    if isinstance(said, q.Not):
        return q.Not(_within(said.part, change))
    return change(said)


def _free(clause: Clause, core: _Core, *kinds: str) -> list[Noun]:
    """The nouns of some kinds that a reading has not taken."""
    return [
        noun
        for noun in clause.nouns
        if noun.has(*kinds)
        and not noun.has("thing")
        and noun.first >= 0
        and not any(clause.places[at] in core.used for at in _places(noun))
    ]


def _places(noun: Noun) -> list[int]:
    return [at for at in range(noun.first, noun.last + 1) if at not in noun.loose]


def _taking(clause: Clause, core: _Core, *nouns: Noun) -> frozenset[int]:
    return core.used.union(clause.places[at] for n in nouns for at in _places(n))


def _conditioned(clause: Clause, core: _Core) -> _Core:
    """With the conditions that stand anywhere in the text."""
    acts, wanted = q.asked_act(core.said), clause.circumstances()
    if not isinstance(acts, q.Clears | q.Leaves | q.Stays) or not wanted:
        return core
    if isinstance(acts, q.Clears) and not isinstance(core.said, q.Not):
        wanted = tuple(each for each in wanted if each != REPEATED)
    held = tuple(dict.fromkeys((*acts.circumstances, *wanted)))
    said = _within(core.said, lambda each: replace(each, circumstances=held))
    return replace(core, said=said, used=core.used | clause.stating())


def _in_rounds(clause: Clause, core: _Core) -> _Core:
    """After so many rounds as the text says."""
    acts, rounds = q.asked_act(core.said), clause.rounds()
    if not isinstance(acts, q.Clears) or rounds < 2 or acts.rounds > 1:
        return core
    said = _within(core.said, lambda each: replace(each, rounds=rounds))
    return replace(core, said=said, used=core.used | clause.counting())


def _from_products(clause: Clause, core: _Core) -> _Core:
    """Of what the products left that are named and no wash."""
    acts = q.asked_act(core.said)
    if not isinstance(acts, q.Clears) or acts.source is not None:
        return core
    free = [n for n in _free(clause, core, "product") if not n.has("wash")]
    # What is rinsed out may do something as well, and is what is left if it does not.
    tools = ("with", "by")
    free = [n for n in free if not (n.has("agent") and n.before in tools)]
    if not free:
        return core
    terms = tuple(dict.fromkeys(n.term for n in free))
    source = terms[0] if len(terms) == 1 else q.And(terms)
    said = _within(core.said, lambda each: replace(each, source=source))
    return replace(core, said=said, used=_taking(clause, core, *free))


def _of_film(clause: Clause, core: _Core) -> _Core:
    """Of the film that is named, where the reading has only something or all."""
    acts = q.asked_act(core.said)
    if not isinstance(acts, q.Clears | q.Leaves):
        return core
    object_ = acts.object
    loose = isinstance(object_, q.Quantified) and object_.term == _THING
    if not loose or (isinstance(acts, q.Clears) and acts.source is not None):
        return core
    free = [n for n in _free(clause, core, "film") if not n.has("wash", "product")]
    if not free:
        return core
    film = free[0].term
    said = _within(core.said, lambda each: replace(each, object=film))
    return replace(core, said=said, used=_taking(clause, core, free[0]))


def _by_wash(clause: Clause, core: _Core) -> _Core:
    """By the wash that is named, where the reading has only some wash."""
    acts, subject = q.asked_act(core.said), core.subject
    base = q.unquantified(subject)
    quantity = subject.quantity if isinstance(subject, q.Quantified) else None
    if not isinstance(acts, q.Clears) or base != WASHES:
        return core
    lacking = [
        n
        for n in bans(clause)
        if not any(clause.places[at] in core.used for at in _places(n))
    ]
    named = [n for n in _free(clause, core, "product") if n.has("wash")]
    if named and quantity in (None, q.Quantity.SOME):
        used = _taking(clause, core, named[0])
        return replace(core, subject=named[0].term, used=used)
    # What is only told of is no wash to be asked for: `porous from bleach`.
    told = only_said(clause.pieces)
    held = [
        n
        for n in _free(clause, core, "agent")
        if not n.has("film", "wash", "kind", "water")
        and told.isdisjoint(_places(n))
        and n not in lacking
        and not isinstance(n.term, q.And | q.Or)
    ]
    made: q.Term = base
    if held:
        made = q.Such(WASHES, (q.Contains(held[0].term),))
    made = without(made, lacking)
    if made == base:
        return core
    if quantity not in (None, q.Quantity.SOME):
        made = replace(subject, term=made)
    return replace(core, subject=made, used=_taking(clause, core, *held[:1], *lacking))


def _by_the_one(clause: Clause, core: _Core) -> _Core:
    """`R after W, will the acid take F off`: R does, which has it."""
    acts = q.asked_act(core.said)
    meant = [n for n in clause.nouns if n.term == core.subject and n.has("class")]
    if not isinstance(acts, q.Clears) or not meant or meant[0].has("wash", "film"):
        return core
    first = clause.pieces[meant[0].first]
    free = [n for n in _free(clause, core, "product") if n.has("agent")]
    if first.words != ("the",) or not free or free[0].first > meant[0].first:
        return core
    used = _taking(clause, core, free[0])
    return replace(core, subject=free[0].term, used=used)


_STEPS = (_conditioned, _in_rounds, _by_wash, _by_the_one, _from_products, _of_film)


def _ordered(
    clause: Clause, query: Any, used: frozenset[int]
) -> tuple[Any, frozenset[int]]:
    """The mildest first, where a mild wash is asked about; else the strongest."""
    asked = _as_which(query)
    if asked is None:
        return query, used
    for roles, order in ((_MILD, q.Order.MILDEST), (_STRONG, q.Order.STRONGEST)):
        places = [
            clause.places[at]
            for at, piece in enumerate(clause.pieces)
            if piece.does(*roles) and clause.places[at] not in used
        ]
        if places:
            return replace(asked, order=order), used.union(places)
    return query, used


def _as_which(query: Any) -> q.Which | None:
    """Which washes take it off, where no wash in particular is asked about."""
    match query:
        case q.Which(order=None, predicate=q.Clears()):
            return query
        case q.Claim(statement=said) | q.Whether(statement=said):
            subject = said.subject
            base = subject
            if isinstance(subject, q.Quantified):
                if subject.quantity not in (q.Quantity.SOME, q.Quantity.NO):
                    return None
                base = subject.term
            bare = base.term if isinstance(base, q.Such) else base
            if bare == WASHES and isinstance(said.predicate, q.Clears):
                return q.Which(base, said.predicate)
    return None
