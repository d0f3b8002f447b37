"""A noun phrase, what stands about it, and which of them can be one list."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import Record
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

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
    listed: tuple[Noun, ...] = ()
    """The members of a list."""

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
    if piece.words[0] in words_in("within"):
        # `is P both A and B`
        return False
    return piece.does(*JOINTS) or piece.words in _BETWEEN


def is_apart(pieces: Sequence[Piece], members: Sequence[Noun]) -> bool:
    """`it needs a solvent, shampoo …`: two things of two sorts, and only a comma."""
    one, other = members[0], members[-1]
    joint = pieces[one.last + 1 : other.first]
    comma = [piece.words for piece in joint] == [(",",)]
    return len(members) == 2 and comma and one.has("kind") != other.has("kind")


def is_aside(pieces: Sequence[Piece], one: Noun, joint: int, after: int) -> bool:
    """Whether a comma leads to what the first may be: `X, a silicone`."""
    if pieces[joint].words != (",",) or after >= len(pieces) or after > joint + 1:
        return False
    return pieces[after].words in (("a",), ("an",)) and pieces[one.first].words not in (
        ("a",),
        ("an",),
    )


def are_alike(one: Noun, other: Noun) -> bool:
    """Whether two can stand in one list."""
    if one.has("product") and other.has("product"):
        return True
    if one.has("product") != other.has("product") and (one.general or other.general):
        # `A or B, wash …`: products by name, and a kind of them.
        return not (one.has("kind") or other.has("kind"))
    if one.has("value") != other.has("value"):
        # `X, water soluble`: what it is.
        return False
    if one.has("kind") and other.has("kind") and one.has("wash") != other.has("wash"):
        # `in a pomade, co-washing …`: what is put on, and what washes.
        return False
    for kind in ("film", "agent", "ingredient", "class", "kind"):
        if one.has(kind) and other.has(kind):
            return True
    return False
