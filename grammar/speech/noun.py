"""A noun phrase, and what stands about it."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import Record
from abluent.grammar.query import tree as q
from abluent.grammar.speech.pieces import Piece

LEADING = {
    "quantity:every": q.Quantity.EVERY,
    "quantity:any": q.Quantity.SOME,
    "quantity:some": q.Quantity.SOME,
    "quantity:no": q.Quantity.NO,
    "quantity:only": q.Quantity.ONLY,
    "quantity:at_least": q.Quantity.AT_LEAST,
    "quantity:at_most": q.Quantity.AT_MOST,
    "quantity:fewer": q.Quantity.AT_MOST,
    "quantity:exactly": q.Quantity.EXACTLY,
}


class Noun(Record):
    """A noun phrase, and which pieces it is made of.

    `general` is true of a class or kind, which a claim without a quantity means all
    of; `before` is the preposition it follows, by its key; `loose` are the places of
    words within it that it does not say.
    """

    term: q.Term
    kinds: frozenset[str]
    first: int
    last: int
    quantity: q.Quantity | None = None
    count: int | None = None
    any: bool = False
    general: bool = False
    loose: frozenset[int] = frozenset()
    before: str = ""
    slip: bool = False
    single_term: q.Term | None = None
    """The term in the singular, where it is of a class."""

    def has(self, *kinds: str) -> bool:
        """Whether it can be taken for one of some kinds."""
        return not self.kinds.isdisjoint(kinds)

    @property
    def whole(self) -> q.Term:
        """The term with its quantity."""
        if self.quantity is None:
            return self.term
        return q.Quantified(self.quantity, self.term, self.count)


Part = Piece | Noun


def past_idle(pieces: Sequence[Piece], at: int) -> int:
    """The next place that is no idle word."""
    while at < len(pieces) and pieces[at].role == "idle:words":
        at += 1
    return at


def verb_after(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a verb follows somewhere after a place."""
    sections = ("verb", "turned", "heads", "contrast")
    return any(piece.entry.section in sections for piece in pieces[at + 1 :])


JOINTS = ("small:and", "small:or")


_BETWEEN = frozenset({(",",), ("/",), ("+",), ("&",), (">",)})


def is_joint(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a piece joins the members of a list."""
    piece = pieces[at]
    return piece.does(*JOINTS) or piece.words in _BETWEEN
