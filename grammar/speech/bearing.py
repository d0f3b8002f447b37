"""How much of a line tells that it speaks of washing hair, labels or evidence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.speech.book import near_words
from abluent.grammar.speech.pieces import Piece, Token

_TELLING = (
    *("verb:clear", "verb:stay", "verb:need", "turned:clear", "turned:rinse"),
    *("ask:evidence", "ask:how_often", "ask:advise", "ask:compare", "ask:plan"),
    *("contrast:milder", "contrast:stronger", "contrast:harder", "contrast:easier"),
    *("contrast:mild", "contrast:harsh", "ask:how_mild", "ask:how_strong"),
    *("ask:define", "ask:rank"),
    *("small:before", "small:after", "small:without", "small:free"),
)
_ASKING = ("ask:whether", "ask:which", "ask:why", "small:question", "quantity:no")
GENERAL = frozenset({"washes", "water", "ingredients", "products"})
"""Names that a reading may say in other words: `needs no wash`, `which …`."""


def weight(pieces: Sequence[Piece], words: Sequence[Token], named: set[str]) -> float:
    """How much of a line tells that it speaks of this: names, verbs, near words."""
    telling = sum(any(each.does(role) for each in pieces) for role in _TELLING)
    asked = any(each.does(*_ASKING) for each in pieces)
    near = len({*_near(words)})
    strange = sum(each.entry.section == "unknown" for each in pieces)
    names = len(named - GENERAL) + 0.5 * bool(named & GENERAL)
    return names + telling + near + 0.5 * asked - 0.15 * max(0, strange - near)


def _near(words: Sequence[Token]) -> Iterator[tuple[str, ...]]:
    texts = tuple(word.text for word in words)
    known = near_words()
    for at in range(len(texts)):
        for length in (1, 2):
            phrase = texts[at : at + length]
            if len(phrase) == length and phrase in known:
                yield phrase
