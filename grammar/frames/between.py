"""What one does and another does not: `what won't A take off that B will`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import Record
from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_TAKES = ("verb:clear", "turned:clear", "heads:clear")
_LEAVES = ("verb:leave", "verb:stay")


class _Side(Record):
    """Who does it, whether it takes something off or leaves it, and if denied."""

    doer: Noun
    takes: bool
    denied: bool

    @property
    def said(self) -> q.Predicate:
        """What is done to a film, as said of the film."""
        way = q.Passive.CLEARED if self.takes else q.Passive.LEFT
        done = q.Undergoes(way, self.doer.whole)
        return q.Not(done) if self.denied else done


def between(clause: Clause) -> Iterator[Said]:
    """Two sides with a clause that tells one from the other between them."""
    split = _split(clause)
    if split is None or not clause.asks("what", "which"):
        return
    one = _side(clause, range(split), None)
    other = _side(clause, range(split + 1, len(clause.parts)), one)
    if other is None or (one is None and not _kind(clause, split)):
        return
    films = [n for n in clause.nouns if n.has("film") and not n.has("wash", "product")]
    films = [n for n in films if other.doer is not n]
    verbs = [at for at, part in enumerate(clause.parts) if _tells(part)]
    kind = _kind(clause, split)
    if kind is not None:
        yield from _of_kind(clause, kind, films, other, verbs)
        return
    assert one is not None
    if one.doer.term == other.doer.term or (one.takes, one.denied) == (
        other.takes,
        other.denied,
    ):
        return
    named = [n for n in films if not n.has("thing") and n.general]
    subject = named[0].term if named else q.Thing()
    acts = q.Both((one.said, other.said))
    used = clause.used(one.doer, other.doer, *films, verbs=verbs) | _things(clause)
    yield Said(asked=q.Which(subject, acts), used=used, slot="subject", doubt=-0.8)


def _things(clause: Clause) -> frozenset[int]:
    """The places of `films` and the like, which name nothing."""
    return frozenset(
        clause.places[at]
        for at, piece in enumerate(clause.pieces)
        if piece.words[0] in words_in("things") and piece.sense is None
    )


def _of_kind(
    clause: Clause, kind: Noun, films: Sequence[Noun], other: _Side, verbs: list[int]
) -> Iterator[Said]:
    """`which leave-ins leave something that no co-wash takes off`."""
    if not clause.verbs("leave") or not other.takes:
        return
    named = [n for n in films if not n.has("thing")]
    base: q.Term = named[0].term if named else q.Thing()
    left = q.Leaves(q.Such(base, (other.said,)))
    used = clause.used(kind, other.doer, *films, verbs=verbs)
    yield Said(asked=q.Which(kind.term, left), used=used, slot="subject", doubt=-0.8)


def _tells(part: Piece | Noun) -> bool:
    return isinstance(part, Piece) and part.does(*_TAKES, *_LEAVES, "particles:words")


def _kind(clause: Clause, split: int) -> Noun | None:
    """The kind of product that is asked for, if that is what is asked."""
    places = [at for at in range(split) if isinstance(clause.parts[at], Noun)]
    asked = clause.where("ask:which")
    nearer = clause.parts[asked[0] + 1 : places[0]] if asked and places else []
    if any(isinstance(p, Piece) and p.entry.section == "unknown" for p in nearer):
        # `which films does W leave`: not which washes.
        return None
    nouns = [part for part in clause.parts[:split] if isinstance(part, Noun)]
    first = nouns[0] if nouns else None
    whole = first is not None and first.has("kind") and not first.has("product", "film")
    return first if whole and clause.asks("which") else None


def _split(clause: Clause) -> int | None:
    """Where the second side begins: at `that`, or after `something`."""
    for at, part in enumerate(clause.parts[1:-1], 1):
        if isinstance(part, Piece):
            relative = {*part.words} & words_in("relative") and part.sense is None
            if relative and not part.does("ask:which", "ask:what", "small:pronoun"):
                return at
    for at, part in enumerate(clause.parts[1:-1], 1):
        if isinstance(part, Noun) and part.has("thing") and part.has("film"):
            rest = clause.parts[at + 1]
            if isinstance(rest, Noun) and rest.has("wash", "agent"):
                return at
    return None


def _side(clause: Clause, places: range, one: _Side | None) -> _Side | None:
    """Who does what in some parts; a verb that lacks is that of the other side."""
    parts = [clause.parts[at] for at in places]
    nouns = [p for p in parts if isinstance(p, Noun) and not p.has("thing")]
    doers = [n for n in nouns if n.has("wash", "product", "agent", "water")]
    doers = [n for n in doers if n.has("wash", "product") or not n.has("film")]
    if len(doers) != 1:
        return None
    loose = [p for p in parts if isinstance(p, Piece)]
    takes = any(p.does(*_TAKES) for p in loose)
    leaves = any(p.does(*_LEAVES) for p in loose)
    denied = any(p.does("small:no") for p in loose)
    doer = doers[0]
    if not takes and not leaves:
        if one is None:
            # `what is in P that …`: what it leaves.
            held = doer.has("product") and not doer.has("wash")
            return _Side(doer, False, denied) if held else None
        return _Side(doer, True, denied)
    if leaves and not takes and doer.has("wash") and one is None:
        # What a wash leaves behind, and another takes, it does not take.
        return _Side(doer, True, not denied)
    return _Side(doer, takes, denied)
