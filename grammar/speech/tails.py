"""The second half of `does A take F off, or …`: what it adds to the question.

`or do I need something stronger`, `or does some stay` and `or not` ask for the other
answer, and add nothing; `or only B` sets another wash beside the first; `or just the
wax` asks the same of another film. Such a half is no clause of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer

OTHER, RIVAL, FILM = "other", "rival", "film"
_CLEARS = ("verb:clear", "turned:clear", "heads:clear", "heads:turned", "turned:rinse")
_STAYS = ("verb:stay", "verb:leave")
_NEEDS = ("verb:need", "ask:advise")
_STRONGER = ("contrast:stronger", "contrast:strongest", "contrast:harsh")
_JOINTS = ("small:and", "small:but", "small:so", "small:because", "small:if")
_ENDS = frozenset(".?!;:")
_WASHES = q.Name("washes")


class Tail(Record):
    """Where the second half of a question stands, what it adds, and of what."""

    places: frozenset[int]
    kind: str
    name: str = ""
    stronger: bool = False


def tails(pieces: Sequence[Piece]) -> list[Tail]:
    """The halves after `or` of questions what takes something off."""
    return [
        tail
        for at, piece in enumerate(pieces)
        if piece.does("small:or") and (tail := _tail(pieces, at)) is not None
    ]


def within_tails(pieces: Sequence[Piece]) -> frozenset[int]:
    """The places that belong to such a half."""
    return frozenset[int]().union(*(each.places for each in tails(pieces)))


def _tail(pieces: Sequence[Piece], at: int) -> Tail | None:
    begun = max((n + 1 for n in range(at) if _ends(pieces[n])), default=0)
    end = next((n for n in range(at + 1, len(pieces)) if _closes(pieces, n)), None)
    end = len(pieces) if end is None else end
    head, rest = pieces[begun:at], pieces[at + 1 : end]
    if not any(map(_takes_off, head)) or not rest:
        return None
    first = at - 1 if at and pieces[at - 1].words == (",",) else at
    places = frozenset(range(first, end))
    named = [each for each in rest if _is_named(each)]
    if any(each.does(*_CLEARS) and not each.sense for each in rest) and named:
        return None
    if not named:
        stronger = any(each.does(*_STRONGER) for each in rest)
        adds_none = stronger or any(each.does(*_STAYS, *_NEEDS) for each in rest)
        return Tail(places, OTHER, stronger=stronger) if adds_none else None
    return _of_name(head, rest, named, places)


def _takes_off(piece: Piece) -> bool:
    """Whether a piece says that something is taken off, and not only that it cleans."""
    return piece.does(*_CLEARS) and not {*piece.words} & words_in("without object")


def _of_name(
    head: Sequence[Piece],
    rest: Sequence[Piece],
    named: Sequence[Piece],
    places: frozenset[int],
) -> Tail | None:
    """What one name after `or` adds: another wash, or another film."""
    sense = named[0].sense
    if len(named) > 1 or sense is None:
        return None
    verbal = any(each.entry.section in ("verb", "turned", "heads") for each in rest)
    needs = any(each.does("verb:need") for each in rest)
    washes = [each for each in head if _is_wash(each)]
    if _is_wash(named[0]) and washes and (needs or not verbal):
        return Tail(places, RIVAL, sense.text)
    just = any({*each.words} & words_in("no more than") for each in rest)
    film = "film" in sense.kinds and not sense.kinds & {"product", "kind"}
    return Tail(places, FILM, sense.text) if film and just and not verbal else None


def _is_named(piece: Piece) -> bool:
    """Whether a piece names something, and not washes in general."""
    sense = piece.sense
    if sense is None or sense.kinds == {"condition"}:
        return False
    return not (sense.kinds >= {"wash", "kind"} or sense.text == "washes")


def _is_wash(piece: Piece) -> bool:
    return piece.sense is not None and piece.sense.kinds >= {"product", "wash"}


def _ends(piece: Piece) -> bool:
    return piece.words[0] in _ENDS


def _closes(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a half ends there: with its sentence, or before another clause."""
    return _ends(pieces[at]) or pieces[at].does(*_JOINTS) or pieces[at].words == (",",)


def with_tails(pieces: Sequence[Piece], offered: Sequence[Offer]) -> Iterator[Offer]:
    """The offers, each with what the second half of the question adds to it."""
    found = tails(pieces)
    for offer in offered:
        if not found:
            yield offer
            continue
        yield from _with(found[0], offer)


def _with(tail: Tail, offer: Offer) -> Iterator[Offer]:
    query, used = offer.query, offer.used | tail.places
    said = query.statement if isinstance(query, q.Claim | q.Whether) else None
    acts = q.asked_act(said.predicate) if said is not None else None
    if said is None or not isinstance(acts, q.Clears):
        yield offer
        return
    if tail.kind == OTHER:
        yield replace(offer, used=used)
    elif tail.kind == RIVAL and isinstance(said.subject, q.Name):
        both = q.And((said.subject, q.Name(tail.name)))
        doubt = max(offer.doubt, 0.0)
        yield Offer(q.Which(both, acts), used, doubt + 0.05, offer.guess)
        yield offer
    elif tail.kind == FILM and not isinstance(acts.object, q.Quantified):
        both = q.And((*q.members(acts.object), q.Name(tail.name)))
        asked = q.What(said.subject, replace(acts, object=both))
        yield Offer(asked, used, offer.doubt - 0.1, offer.guess)
        yield offer
    else:
        yield offer
