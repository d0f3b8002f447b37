"""What nothing here can settle, by `topics.toml`, and what can be asked instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.errors import GrammarError
from abluent.grammar.common.record import Record
from abluent.grammar.phrase.book import Topic, general_asks, topic_phrases, topics
from abluent.grammar.phrase.pieces import (
    NUMBER_WORDS,
    Lexicon,
    Piece,
    Token,
    mended,
    tokens,
)
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.parting import is_name

_SAID = 2
"""How many matters are spoken of at most."""
_CHANCES = 2
"""How many words that may stand there by chance tell a matter together."""


class Matter(Record):
    """A matter that a text speaks of, and the places of the pieces that tell it.

    `weak` tells that it counts only where little else was read; `cover` is how many
    letters of the text tell it.
    """

    topic: Topic
    places: frozenset[int]
    weak: bool = False
    cover: int = 0


def matters_of(text: str, pieces: Sequence[Piece], lexicon: Lexicon) -> list[Matter]:
    """The matters that a text speaks of, those first that most of it tells."""
    spans: dict[int, dict[str, set[tuple[int, int]]]] = {}
    whole = [(e.start, e.end) for e in pieces if _is_full_name(e)]
    for at, key, span in _spoken(mended(tokens(text), lexicon)):
        if any(start <= span[0] and span[1] <= end for start, end in whole):
            # The copper of a product called so is no copper.
            continue
        spans.setdefault(at, {}).setdefault(key, set()).add(span)
    known = topics()
    told_by_role = [
        Matter(topic, places, False, len(places))
        for topic in known
        if topic.roles and (places := _doing(pieces, topic.roles))
    ]
    found = told_by_role + [
        _matter(known[at], pieces, spans[at])
        for at in sorted(spans)
        if "unless" not in spans[at]
    ]
    return sorted(found, key=lambda each: (each.weak, -each.cover))


def _is_full_name(piece: Piece) -> bool:
    """Whether a piece is a product by a name of several words."""
    named = piece.sense is not None and "product" in piece.sense.kinds
    return named and len(piece.words) > 1 and not piece.slip


def _doing(pieces: Sequence[Piece], roles: Sequence[str]) -> frozenset[int]:
    """The places of pieces that do one of some things and nothing else."""
    return frozenset(at for at, each in enumerate(pieces) if each.role in roles)


def _matter(
    topic: Topic, pieces: Sequence[Piece], spans: dict[str, set[tuple[int, int]]]
) -> Matter:
    own, chance = spans.get("own", set()), spans.get("chance", set())
    every = own | chance
    places = frozenset(
        at
        for at, piece in enumerate(pieces)
        if any(piece.start < end and start < piece.end for start, end in every)
    )
    weak = topic.weak or (not own and len(chance) < _CHANCES)
    cover = {at for start, end in every for at in range(start, end)}
    return Matter(topic, places, weak, len(cover))


def _spoken(words: Sequence[Token]) -> Iterator[tuple[int, str, tuple[int, int]]]:
    """Where a phrase of a topic stands: the topic, the list of it, and the stretch."""
    known = topic_phrases()
    texts = [word.text for word in words]
    for at, text in enumerate(texts):
        ways = (text, text[:1] + "*", *(_numbered(text)))
        for phrase, topic, key in (row for way in ways for row in known.get(way, ())):
            said = texts[at : at + len(phrase)]
            if len(said) == len(phrase) and all(map(_fits, phrase, said)):
                span = words[at].start, words[at + len(phrase) - 1].end
                yield topic, key, span


def _fits(word: str, said: str) -> bool:
    """Whether a word is one of a phrase, goes on where that may, or is a number."""
    if word in _NUMBERS:
        return word in _numbered(said)
    return said == word or (word.endswith("*") and said.startswith(word[:-1]))


_NUMBERS = ("#", "#x")


def _numbered(text: str) -> tuple[str, ...]:
    """What a number is listed as: `#`, or `#x` for `3x`."""
    if text.replace(".", "", 1).isdigit() or text in NUMBER_WORDS:
        return ("#",)
    return ("#x",) if text[:-1].isdigit() and text[-1:] == "x" else ()


def told(matters: Sequence[Matter]) -> str:
    """What is to be said of some matters."""
    says = dict.fromkeys(matter.topic.says for matter in matters)
    return " ".join([*says][:_SAID])


def instead(
    pieces: Sequence[Piece], matters: Sequence[Matter], *, only: bool = False
) -> Iterator[Offer]:
    """What can be asked of the things named, where what was asked cannot be settled.

    `only` leaves out what can be asked instead of anything.
    """
    slots = _slots(pieces)
    asks = [ask for matter in matters for ask in matter.topic.ask]
    more = () if only else general_asks()
    for rank, ask in enumerate(dict.fromkeys([*asks, *more])):
        named = [slot for slot in slots if f"{{{slot}}}" in ask]
        text = ask
        for slot in named:
            text = text.replace(f"{{{slot}}}", print_term(slots[slot][0]))
        if "{" in text or (not named and ask not in asks):
            continue
        names = [slots[slot][0] for slot in named]
        if len(set(names)) < len(names) or any(f'"{each}"' in ask for each in names):
            continue
        used = frozenset(slots[slot][1] for slot in named)
        try:
            yield Offer(parse_query(text), used, 5.0 + rank)
        except GrammarError:
            # A template is for one form of name, and this is another.
            continue


def print_term(name: str) -> str:
    """A name as a question has it."""
    return print_query(q.Define(q.Name(name))).partition(" ")[2].partition(" ")[2]


def _slots(pieces: Sequence[Piece]) -> dict[str, tuple[str, int]]:
    """The first name of each kind, and where it stands."""
    found: dict[str, tuple[str, int]] = {}
    for at, piece in enumerate(pieces):
        if not is_name(piece) or piece.sense is None or "value" in piece.sense.kinds:
            continue
        for slot, kinds in _KINDS:
            if kinds <= piece.sense.kinds:
                found.setdefault(slot, (piece.sense.text, at))
        if "product" in piece.sense.kinds and "wash" not in piece.sense.kinds:
            left = found.get("product")
            if left is not None and left == found.get("wash"):
                # What is left is asked of a product that is no wash, if one is named.
                found["product"] = piece.sense.text, at
    return found


_KINDS = tuple(
    (slot, frozenset(kinds.split()))
    for slot, kinds in (
        ("wash", "product wash"),
        ("product", "product"),
        ("film", "film"),
        ("agent", "agent"),
        ("ingredient", "ingredient"),
        ("class", "class"),
    )
)
