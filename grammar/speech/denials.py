"""Whether a reading turns the sense of a text round: a denial lost, or one added.

`No styler` is no styler to be cleared, and `free of build-up` does not build up. A
reading in which a denied thing stands undenied says the opposite of what was meant, and
so does one that denies where nothing in the text does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.grammar.common.record import Record, records
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_BEFORE_WHAT = ("quantity:no", "small:without")
"""Words that deny what stands right after them."""
DENYING = (
    *_BEFORE_WHAT,
    *("small:no", "small:nothing", "small:free", "small:except", "small:all_but"),
    *("small:unless", "verb:lack", "quantity:not_every", "quantity:fewer"),
    *("quantity:only", "quantity:share", "verb:go", "contrast:less", "verb:exclude"),
)
"""Words with which a text may deny something."""
_HELD = ("verb:stay", "verb:leave", "small:anything")
"""What can be denied by a word right before it, and is no name."""


def turns_round(pieces: Sequence[Piece], query: q.Query, used: frozenset[int]) -> bool:
    """Whether a question says the opposite of a text, by what it denies."""
    found = [*denials(query)]
    if _is_only_class(query) and not any(e.does("verb:be") for e in pieces):
        return True
    if not found and _is_hard(pieces) and _is_stated(query):
        return True
    if _means_only(pieces) and any(map(_is_nothing, records(query))):
        return True
    if any(_is_strict(each) for each in found) and _adds(pieces, query):
        return True
    roles = {each.role for each in pieces}
    undone = not found and roles.issuperset(_BEFORE_WHAT)
    if undone or _only_asks(query):
        # `no cream without lye`: the one undoes the other.
        return False
    lost = [at for at in _denied(pieces) if at in used]
    held = any(pieces[at].does("verb:stay") for at in lost)
    said = [each for each in found if not (held and isinstance(each, q.Stays))]
    return len(lost) > len(said)


_HARD = words_in("hard to do")


def _is_hard(pieces: Sequence[Piece]) -> bool:
    """`hard to wash out`: that a wash takes it off is not what is said."""
    pairs = pairwise(pieces)
    out = ("turned:clear", "verb:clear", "turned:rinse")
    return any(e.words[-1] in _HARD and after.does(*out) for e, after in pairs)


def _is_stated(query: q.Query) -> bool:
    """Whether it is said, or asked, that something takes something off."""
    said = [each for each in records(query) if isinstance(each, q.Statement)]
    return any(isinstance(each.predicate, q.Clears) for each in said)


def _is_only_class(query: q.Query) -> bool:
    """Whether it is said that only one thing is a wax, say."""
    for each in records(query):
        if isinstance(each, q.Statement) and isinstance(each.predicate, q.Is):
            of = each.subject
            return isinstance(of, q.Quantified) and of.quantity is q.Quantity.ONLY
    return False


def _means_only(pieces: Sequence[Piece]) -> bool:
    """Whether it is said that nothing else does something."""
    pairs = pairwise(pieces)
    return any(e.does("small:nothing") and "else" in after.words for e, after in pairs)


def _is_nothing(node: Record) -> bool:
    none = isinstance(node, q.Quantified) and node.quantity is q.Quantity.NO
    return none and node == q.Quantified(q.Quantity.NO, q.Thing())


def _only_asks(query: q.Query) -> bool:
    """Whether it is asked what takes something off, and nothing is said of it."""
    match query:
        case q.Which(predicate=q.Clears(source=None)):
            return True
        case _:
            return False


def _adds(pieces: Sequence[Piece], query: q.Query) -> bool:
    """Whether a question denies what nothing in the text does.

    What is left behind is not taken off, if it is told what that is.
    """
    if not any(isinstance(each, q.Statement) for each in records(query)):
        return False
    if any(each.does(*DENYING) or _is_sort(each) for each in pieces):
        return False
    leaves = any(each.role == "verb:leave" for each in pieces)
    if leaves:
        return any(map(_clears_nothing_named, records(query)))
    return not any(each.role in _MAY_DENY for each in pieces)


_MAY_DENY = (
    *("verb:stay", "verb:be", "ask:change", "turned:rinse", "verb:rinse"),
    *("verb:need", "small:by"),
)
"""Words that are no denial, and can be read as one: `clings to it whatever I use`."""


def _is_sort(piece: Piece) -> bool:
    """Whether a word stands for a wash without something: `clarifying`."""
    return piece.sense is not None and "without" in piece.sense.text


def _clears_nothing_named(node: Record) -> bool:
    """Whether it is denied that things are taken off, of nothing in particular."""
    if not isinstance(node, q.Not) or not isinstance(node.part, q.Clears):
        return False
    return node.part.object == q.Thing() and node.part.source is None


def _denied(pieces: Sequence[Piece]) -> Iterator[int]:
    """The places of what is denied by a word right before it."""
    for at, piece in enumerate(pieces):
        if piece.role not in (*_BEFORE_WHAT, "small:no"):
            continue
        after = range(at + 1, len(pieces))
        first = next((n for n in after if not _is_light(pieces[n])), None)
        if piece.role == "small:no":
            # What a verb does is denied by the frames; `not a build-up problem` here.
            stays = first is not None and pieces[first].role == "verb:stay"
            first = first if stays else None
        if first is not None and (pieces[first].sense or pieces[first].does(*_HELD)):
            yield first


def _is_light(piece: Piece) -> bool:
    return piece.role in ("idle:words", "small:article")


def denials(query: q.Query) -> Iterator[Record]:
    """What a question denies, or says so that a denial shows in it."""
    kinds = (q.Except, q.Without, q.Needs, q.Stays, q.Unlike)
    return (e for e in records(query) if _is_strict(e) or isinstance(e, kinds))


def _is_strict(node: Record) -> bool:
    match node:
        case q.Quantified(quantity=quantity):
            return quantity is q.Quantity.NO
        case q.About(negative=negative):
            return negative
        case _:
            return isinstance(node, q.Not)
