"""Words that a reading must say, and does not: quantities, steps, contrasts, denials.

Small words are read with the clause they stand in, and so count as taken. One that
carries the sense must show in the question too; where it does not, it is marked as left
aside, and nothing is answered without asking.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.grammar.common.record import Record, records
from abluent.grammar.frames.clause import rounds_of
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.likely import anywhere

_CONTRASTS = (
    *(q.Outdoes, q.Differs, q.Resists, q.Shifts, q.Compare, q.Rank, q.HowMuch),
    *(q.Level, q.Resembles, q.Conflicts, q.Suffices, q.Amount),
)
_STATED = (q.Claim, q.Whether, q.Argue)
_SORTS = (
    *((_CONTRASTS, "contrast"), (_STATED, "stated"), (q.Precedes, "contrast")),
    *((q.Unlike, "why"), (q.Task, "why"), (q.Unlike, "not"), (q.Shelf, "shelf")),
)


def dropped(pieces: Sequence[Piece], query: q.Query) -> frozenset[int]:
    """The places of words that carry the sense of a text and not of a question."""
    weighty = [at for at, piece in enumerate(pieces) if _is_weighty(piece)]
    unsupposed = _unsupposed(pieces, query) | _unheld(pieces, query)
    if not weighty:
        return unsupposed
    said = frozenset(_said(query))
    lost = frozenset(at for at in weighty if _is_dropped(pieces, at, said))
    if "only" not in said:
        lost |= frozenset(at for at in range(len(pieces)) if _is_sole(pieces, at))
    return lost | unsupposed


def _unsupposed(pieces: Sequence[Piece], query: q.Query) -> frozenset[int]:
    """`would it still be so without X` supposes another label."""
    would = next((at for at, e in enumerate(pieces) if _WOULD & {*e.words}), None)
    if would is None or isinstance(query, q.Suppose):
        return frozenset()
    later = range(would + 1, len(pieces))
    return frozenset(at for at in later if pieces[at].role == "small:without")


def _unheld(pieces: Sequence[Piece], query: q.Query) -> frozenset[int]:
    """`the silicones that I have`: a question of all silicones leaves that aside.

    Of products it need not be said, for those asked about are on the shelf.
    """
    if "shelf" in _said(query):
        return frozenset()
    pairs = enumerate(pairwise(pieces), 1)
    return frozenset(
        at
        for at, (before, piece) in pairs
        if piece.role == "small:my_shelf" and _is_substance(before)
    )


def _is_substance(piece: Piece) -> bool:
    """Whether a piece names an ingredient or a class, and no product."""
    kinds = piece.sense.kinds if piece.sense else frozenset[str]()
    return bool(kinds & {"ingredient", "class"})


_SAYING = {
    "quantity:only": {"only", "needs", "count"},
    "small:everything": {"every", "which", "not", "no"},
    "quantity:some": {"some", "which", "counted"},
    "quantity:not_every": {"some", "every", "counted"},
    "quantity:share": set[str](),
    "small:itself": set[str](),
    "small:unless": {"not"},
    "ask:how_mild": {"contrast", "order"},
    "ask:how_strong": {"contrast", "order"},
    "ask:why": {"why"},
    "small:no": {"not", "no", "needs", "stays", "ease"},
}
"""Words, and what of a question says each; a share and `on itself` none does."""
_WOULD = words_in("would")
_STEPS = frozenset({"small:so", "small:because"})
_MINE = words_in("owners")
_BOTH = frozenset((word,) for word in words_in("within"))


def _is_weighty(piece: Piece) -> bool:
    """Whether a word carries the sense, though it is small."""
    known = piece.role in _SAYING or piece.role in _STEPS
    contrast = piece.entry.section == "contrast" or piece.role == "quantity:every"
    known = known or piece.role == "ask:which"
    single = piece.words in _BOTH or _MINE.issuperset(piece.words)
    return known or contrast or rounds_of(piece) > 1 or single


def _is_dropped(pieces: Sequence[Piece], at: int, said: frozenset[str]) -> bool:
    piece = pieces[at]
    if rounds_of(piece) > 1:
        return f"rounds {rounds_of(piece)}" not in said
    if piece.words in _BOTH:
        # `both are …` stands for two that were named before.
        return any(map(_is_verbal, pieces[at + 1 : at + 2]))
    if piece.role == "ask:which" or _MINE.issuperset(piece.words):
        return "stated" in said and _is_narrower(pieces, at)
    if piece.role in _STEPS or piece.role == "quantity:every":
        step = piece.role in _STEPS
        told = "follows" in said if step else "stated" in said
        return not told and (_is_step if step else _opens)(pieces, at)
    if piece.role == "small:no" and "contrast" in said:
        # `B is not as mild as A` says that A is milder.
        alike = any(each.role == "contrast:same" for each in pieces[at:])
        return not alike and said.isdisjoint(_SAYING[piece.role])
    said_by = _SAYING.get(piece.role)
    return _is_lost(piece, said) if said_by is None else said.isdisjoint(said_by)


_ALONE = ("alone",)


def _is_sole(pieces: Sequence[Piece], at: int) -> bool:
    """`I alone in a wash`: nothing else in it cleans, which no question says."""
    of = pieces[at - 1].sense if at and pieces[at].words == _ALONE else None
    within = any(each.does("small:in", "small:with") for each in pieces[at + 1 :])
    return of is not None and within and bool(of.kinds & {"ingredient", "class"})


def _is_narrower(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a claim of a whole kind is not what is spoken of.

    It does not tell which of them do, nor of the one that somebody has.
    """
    if pieces[at].role == "ask:which":
        return _opens(pieces, at)
    return _tells_of_one(pieces[at + 1 : at + 3])


def _tells_of_one(after: Sequence[Piece]) -> bool:
    """Whether one product of a kind is told of, as in `my conditioner has X`."""
    match [piece.sense for piece in after]:
        case [of, None] if of and "kind" in of.kinds:
            return after[1].role == "verb:contain"
        case _:
            return False


def _is_lost(piece: Piece, said: frozenset[str]) -> bool:
    """Whether a comparison is read as none."""
    alone = ("contrast:mild", "contrast:harsh", "contrast:less")
    return piece.role not in alone and not said & {"contrast", "order"}


def _opens(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a quantity begins a statement: no word before it asks, or names."""
    before = pieces[:at]
    return not any(each.sense or each.entry.section == "ask" for each in before)


def _is_step(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a word leads from one statement to the next."""
    sides = pieces[:at], pieces[at + 1 :]
    if pieces[at].role == "small:because" and at == 0:
        sides = pieces[at + 1 :], pieces[at + 1 :]
    return all(any(map(_is_verbal, side)) for side in sides)


def _is_verbal(piece: Piece) -> bool:
    return piece.entry.section in ("verb", "turned", "heads", "contrast")


def _said(query: q.Query) -> Iterator[str]:
    """What a question says of quantity, denial, contrast and the like."""
    for each in records(query):
        yield from _said_by(each)


def _are_opposite(one: q.Statement, other: q.Statement) -> bool:
    """Whether the same is said and denied, each under its own condition."""
    first, second = anywhere(one), anywhere(other)
    denials = (
        {q.Not(first.predicate), second.predicate},
        {first.predicate, q.Not(second.predicate)},
    )
    return one.subject == other.subject and any(len(each) == 1 for each in denials)


def _said_of_order(node: q.Which | q.What) -> Iterator[str]:
    """What a question which, or what, says by its order and its list.

    Which of some films goes is asked of each by itself; what makes one film go less
    than another is told with it.
    """
    yield "which"
    yield from ("order",) if node.order is not None else ()
    yield from ("why",) if node.order in q.EASES else ()
    acts = q.asked_act(node.predicate) if node.predicate is not None else None
    listed = isinstance(node, q.What) and isinstance(acts, q.Clears)
    listed = listed and isinstance(getattr(acts, "object", None), q.And | q.Or)
    yield from ("only",) if listed or node.under is not None else ()


def _said_by(node: Record) -> Iterator[str]:
    yield from (word for kinds, word in _SORTS if isinstance(node, kinds))
    match node:
        case q.Quantified(quantity=quantity):
            yield "counted" if quantity in q.COUNTED else quantity.value
        case q.Argue(follows=True) | q.Suppose():
            yield "follows"
        case q.Argue(statements=(one, other)) if _are_opposite(one, other):
            # `only in warm water`: and not in cold water.
            yield "only"
        case q.About(aspect=q.Aspect.WHY, negative=negative):
            yield from ("why", "not") if negative else ("why",)
        case q.Not() | q.About(negative=True) | q.Except() | q.Without():
            yield "not"
        case q.Needs():
            yield "needs"
        case q.Stays():
            yield "stays"
        case q.Resists():
            yield "ease"
        case q.HowMany() | q.Rounds():
            yield from ("count", "counted", "which")
        case q.Which() | q.What():
            yield from _said_of_order(node)
        case q.Clears(rounds=rounds):
            yield f"rounds {rounds}"
