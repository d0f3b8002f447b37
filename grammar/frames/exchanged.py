"""One wash in the place of another: `I swap A for B, what stops coming off`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_TELLING = ("verb:clear", "verb:stay", "verb:leave", "turned:clear", "heads:turned")


def exchanging(clause: Clause) -> Iterator[Said]:
    """What the one takes off and the other does not, or what each of them does."""
    swap = next((at for at, part in enumerate(clause.parts) if _swaps(part)), None)
    if swap is None:
        return
    washes = [
        part
        for part in clause.parts[swap + 1 :]
        if isinstance(part, Noun) and part.has("wash", "agent") and not part.has("film")
    ]
    if len(washes) < 2 or washes[0].term == washes[1].term:
        return
    old, new = washes[:2]
    verbs = [swap, *clause.where(*_TELLING)]
    used = clause.used(old, new, verbs=verbs)
    used |= frozenset(clause.places[at] for at in _stopping(clause))
    films = [n for n in clause.nouns if n.has("film") and n not in (old, new)]
    films = [n for n in films if not n.has("thing", "wash", "product")]
    if films:
        asked: q.Plain = q.Compare(q.And((old.term, new.term)), films[0].term)
        used |= clause.used(films[0])
        yield Said(asked=asked, used=used, slot="subject", doubt=-0.8)
        return
    taken = q.Undergoes(q.Passive.CLEARED, old.term)
    kept = q.Not(q.Undergoes(q.Passive.CLEARED, new.term))
    asked = q.Which(q.Thing(), q.Both((taken, kept)))
    yield Said(asked=asked, used=used, slot="object", doubt=-0.8)


def _swaps(part: Piece | Noun) -> bool:
    """Whether a part says that one thing takes the place of another."""
    return isinstance(part, Piece) and bool({*part.words} & words_in("swaps"))


def _stopping(clause: Clause) -> Iterator[int]:
    """The places of words that say that something is no longer done."""
    for at, piece in enumerate(clause.pieces):
        if {*piece.words} & words_in("stops"):
            yield at
