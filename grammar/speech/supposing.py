"""Another label supposed: `what if P had no I`, `without I, would P …`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.frames.clause import Said
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer, as_query, statement_of
from abluent.grammar.speech.parting import Part


def supposing(
    pieces: Sequence[Piece], found: Sequence[tuple[Part, list[Said]]]
) -> Iterator[Offer]:
    """`what would happen if P had no I`, `suppose P had I, would it …`."""
    for _, read in found:
        yield from _lacking(pieces, read)
    plain = any(map(_supposes, pieces))
    for at, (part, read) in enumerate(found):
        supposed = part.link == "if" or plain
        changes = [each for each in map(_change, read) if each is not None]
        if not changes or not supposed:
            continue
        change = changes[0]
        rest = [each for n, (_, said_) in enumerate(found) if n != at for each in said_]
        asked: q.Query | None = None
        used = read[0].used
        for each in rest[:1]:
            local = frozenset({"question"}) if each.single else frozenset()
            asked, used = as_query(each, local), used | each.used
        if asked is None:
            asked = q.What(change.product, q.Leaves(q.Thing()))
        if isinstance(asked, q.Whether | q.Claim | q.Which | q.What | q.HowMany):
            doubt = max(each.doubt for each in (read[0], *rest[:1]))
            yield Offer(q.Suppose((change,), asked), used, doubt - 0.8 * plain + 0.2)


def _lacking(pieces: Sequence[Piece], read: Sequence[Said]) -> Iterator[Offer]:
    """`without X, does P …`: as if P had no X."""
    products = {e.sense.text for e in pieces if e.sense and "product" in e.sense.kinds}
    lacks = [
        at + 1
        for at, piece in enumerate(pieces[:-1])
        if piece.role == "small:without" and _is_held(pieces[at + 1])
    ]
    for each in read[:1]:
        subject = each.subject
        if not lacks or not isinstance(subject, q.Name) or each.predicate is None:
            continue
        sense = pieces[lacks[0]].sense
        if subject.text not in products or sense is None or lacks[0] in each.used:
            continue
        change = q.Without(subject, q.Name(sense.text))
        asked = q.Whether(statement_of(each))
        used = each.used | {lacks[0] - 1, lacks[0]}
        yield Offer(q.Suppose((change,), asked), used, each.doubt + 0.1)


def _is_held(piece: Piece) -> bool:
    """Whether a piece names what may stand on a label."""
    kinds = piece.sense.kinds if piece.sense is not None else frozenset[str]()
    return bool(kinds & {"ingredient", "class"}) and "kind" not in kinds


def _supposes(piece: Piece) -> bool:
    """Whether a piece is `suppose`, or `what would happen`."""
    what = piece.words[0] == "what" and piece.entry.section == "idle"
    return piece.words[0] in _SUPPOSE or (what and len(piece.words) > 1)


_SUPPOSE = words_in("suppose")


def _change(each: Said) -> q.With | q.Without | None:
    """What a statement about a label would change of it."""
    if not isinstance(each.subject, q.Name) or each.predicate is None or each.general:
        return None
    denied = isinstance(each.predicate, q.Not)
    core = q.asked_act(each.predicate)
    if not isinstance(core, q.Contains):
        return None
    thing = core.object
    if isinstance(thing, q.Quantified):
        denied = denied or thing.quantity is q.Quantity.NO
        thing = thing.term
    if denied:
        return q.Without(each.subject, thing)
    return q.With(each.subject, thing, core.level, core.place)
