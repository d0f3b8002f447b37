"""What holds under a condition alone: `only in warm water`, `unless the water is hard`.

The language has no one word for it. It is two statements, judged apart: what is said,
and that it is not so under the opposite, or under what is excepted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, states
from abluent.grammar.phrase.pieces import Piece, Sense
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer

_BETWEEN = (
    *("small:if", "small:article", "small:in", "small:with", "idle:words"),
    *("small:pronoun", "verb:be", "verb:contain"),
)
_LIMITED = 0.1
"""What speaks for a statement with its limit."""


def limited(pieces: Sequence[Piece], offered: Sequence[Offer]) -> Iterator[Offer]:
    """The offers, each that is to hold `only if` with what that says before it."""
    only = [*_only(pieces)]
    for each in offered:
        for at, place in only:
            made = _limited(pieces, each, at, place)
            if made is not None:
                yield made
        yield each


def _only(pieces: Sequence[Piece]) -> Iterator[tuple[int, int]]:
    """Where `only` stands, and the condition or the name that it is said of."""
    for at, piece in enumerate(pieces):
        if not piece.does("quantity:only"):
            continue
        led = at + 1 < len(pieces) and pieces[at + 1].does("small:if", "small:in")
        ahead = range(at + 1, len(pieces))
        place = next((n for n in ahead if not pieces[n].does(*_BETWEEN)), None)
        if place is not None and states(pieces, pieces[place]):
            yield at, place
        elif place is not None and led and _is_held(pieces[place].sense):
            yield at, place
        elif at and states(pieces, pieces[at - 1]):
            # `in warm water only`
            yield at, at - 1


def _is_held(sense: Sense | None) -> bool:
    """Whether a name is of what stands on a label."""
    return sense is not None and bool(sense.kinds & {"ingredient", "class"})


def _limited(
    pieces: Sequence[Piece], offer: Offer, at: int, place: int
) -> Offer | None:
    """A statement with its limit, if it speaks of what limits it."""
    query, sense = offer.query, pieces[place].sense
    if not isinstance(query, q.Claim | q.Whether) or sense is None:
        return None
    doubt, used = offer.doubt - _LIMITED, offer.used | {at, place}
    if not states(pieces, pieces[place]):
        subject = _only_with(query.statement.subject, sense.text)
        if subject is None:
            return None
        claim = q.Claim(replace(query.statement, subject=subject))
        return Offer(claim, used, doubt, offer.guess)
    other = _elsewhere(query.statement, sense)
    if other is None:
        return None
    return Offer(q.Argue((query.statement, other)), used, doubt, offer.guess)


def _only_with(subject: q.Term, held: str) -> q.Term | None:
    """Washes with something, as only such washes."""
    bare = q.unquantified(subject)
    if not isinstance(bare, q.Such) or bare.term != WASHES:
        return None
    if q.Contains(q.Name(held)) not in bare.conditions:
        return None
    return q.Quantified(q.Quantity.ONLY, bare)


def _elsewhere(said: q.Statement, sense: Sense) -> q.Statement | None:
    """That it is not so under the opposite of a condition."""
    denied = isinstance(said.predicate, q.Not)
    core = q.asked_act(said.predicate)
    if not sense.one or not isinstance(core, q.Clears | q.Leaves | q.Stays):
        return None
    if sense.text not in core.circumstances:
        return None
    there = (sense.one if e == sense.text else e for e in core.circumstances)
    acts: q.Predicate = replace(core, circumstances=tuple(there))
    return replace(said, predicate=acts if denied else q.Not(acts))
