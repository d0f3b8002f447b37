"""A plain question to the exact one, where every word of it is accounted for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Lexicon, Piece, is_of_its_name
from abluent.grammar.phrase.reading import LONGEST, Reading, printed
from abluent.grammar.plain.line import Line
from abluent.grammar.plain.match import Matcher
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in


def read_plain(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """Read a plain question; nothing is left aside, or nothing is read.

    Args:
        text: as typed.
        lexicon: the names that can be meant.

    Returns:
        The one reading, or all that are to be offered, or those that are asked
        together, which are sure; empty if there is none.
    """
    if len(text) > LONGEST:
        return ()
    whole = _read_whole(text, lexicon)
    return whole or _read_in_turn(text, lexicon)


def _read_whole(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """What a text asks by one way of asking."""
    for spelt in _spellings(text):
        line = Line(spelt, lexicon)
        asked = Matcher(line).asked()
        if asked is None:
            continue
        made = [_reading(line, each, sole=not asked.open) for each in asked.meanings]
        readings = tuple(each for each in made if each is not None)
        if readings and (asked.open or len(readings) == len(made)):
            return readings
    return ()


def _read_in_turn(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """What each of several questions asks, where all are read and none is in doubt."""
    parts = questions_in(text)
    if len(parts) < 2:
        return ()
    found: list[Reading] = []
    for part in parts:
        named = _named(part, found[-1].query) if found else part
        readings = _read_whole(part, lexicon)
        if not readings and named:
            readings = _read_whole(named, lexicon) or _exact(named)
        if not readings or not all(each.sure for each in readings):
            return ()
        found += readings
    return tuple({each.question: each for each in found}.values())


def _exact(text: str) -> tuple[Reading, ...]:
    """A question that the language takes as it stands."""
    query = query_in(text)
    question = "" if query is None else printed(query)
    if query is None or not question:
        return ()
    return (Reading(query, question, (), (), 1.0, sure=True),)


_ENDS = re.compile(
    r"(?<=[?!])\s+(?=\S)|,?\s+and\s+(?=(?:which|what|why|how|who|where|does|do|is|are|can|"
    r"will)\b)",
    re.IGNORECASE,
)


def questions_in(text: str) -> list[str]:
    """The questions that follow on each other in a text."""
    return [each.strip() for each in _ENDS.split(text) if each.strip()]


def _named(text: str, before: q.Query) -> str:
    """A question with names for the words that point back to the one before it.

    After `is A a B`, `it` is A and `one` a B; nothing comes of a word that can mean
    several things.
    """
    match before:
        case q.Whether(statement=q.Statement(subject=one, predicate=q.Is(object=kind))):
            names = {"it": one, "one": kind}
        case _:
            names = {}
    for word, term in names.items():
        if isinstance(term, q.Name):
            text = re.sub(rf"(?i)\b{word}\b(?!')", f'"{term.text}"', text)
    words = set(re.findall(r"\w+", text.casefold()))
    return "" if words & _POINTING else text


_POINTING = frozenset(
    "it its they them their that this these those one ones he she".split()
)


_OWNING = re.compile(r"(?<=\w)['\u2019]s\b")


def _spellings(text: str) -> Iterator[str]:
    """The text as it is, and with each `'s` left out that may tell who has a thing.

    What stands after it stays in its place.
    """
    yield text
    for found in _OWNING.finditer(text):
        yield text[: found.start()] + "  " + text[found.end() :]


def _reading(line: Line, meaning: str, *, sole: bool) -> Reading | None:
    """What a meaning asks, with the nouns in their places."""
    made = query_in(meaning)
    if made is None:
        return None
    nouns = {mark: each.noun for mark, each in line.taken.items() if mark in meaning}
    query = _with_nouns(made, nouns)
    question = printed(query)
    if not question:
        return None
    mended = tuple(_slips(line, nouns.values()))
    shown = tuple(_sorts(line.pieces, nouns.values()))
    sure = sole and not mended and not shown
    return Reading(query, question, (), mended, 1.0, sure, shown)


def _with_nouns(node: Any, nouns: Mapping[str, Noun]) -> Any:
    """A tree with nouns in the place of their marks."""
    match node:
        case q.Name(text=text, article=article) if text in nouns:
            noun = nouns[text]
            return noun.single_term or noun.term if article else noun.term
        case q.Such(term=term, conditions=conditions):
            held = _with_nouns(conditions, nouns)
            return q.narrowed(_with_nouns(term, nouns), *held, span=node.span)
        case tuple():
            return tuple(_with_nouns(each, nouns) for each in node)
        case Record():
            fields = zip(node._fields, node._values(), strict=True)
            return replace(node, **{key: _with_nouns(e, nouns) for key, e in fields})
    return node


def _within(pieces: Sequence[Piece], noun: Noun) -> Sequence[Piece]:
    return pieces[noun.first : noun.last + 1]


def _slips(line: Line, nouns: Iterable[Noun]) -> Iterator[Span]:
    """Where a name was mended, or read as something wider.

    A word of the name of one product is none where it is no name of anything else, as
    every word besides is read too.
    """
    pieces = line.pieces
    for noun in nouns:
        slipped = [each for each in _within(pieces, noun) if each.slip]
        whole = bool(slipped) and all(
            is_of_its_name(each, line.lexicon) for each in slipped
        )
        if noun.slip and not whole:
            yield Span(pieces[noun.first].start, pieces[noun.last].end)


def _sorts(pieces: Sequence[Piece], nouns: Any) -> Iterator[tuple[str, str]]:
    """Words such as `clarifying` that stand for what a label shows."""
    for noun in nouns:
        for piece in _within(pieces, noun):
            if piece.sense is not None and "sort" in piece.sense.kinds:
                yield " ".join(piece.words), piece.sense.text
