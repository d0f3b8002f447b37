"""A plain question to the exact one, where every word of it is accounted for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, records, replace
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Lexicon, Piece, is_of_its_name
from abluent.grammar.phrase.reading import LONGEST, Reading, printed
from abluent.grammar.plain.beside import heeded
from abluent.grammar.plain.line import Line
from abluent.grammar.plain.match import Asked, Matcher
from abluent.grammar.plain.pointing import (
    conditions_said,
    films_asked,
    pointed,
    points,
    print_term,
    speaks_of_film,
    subjects_asked,
    things_said,
)
from abluent.grammar.plain.sentences import divisions, sentences
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
    """What a text asks by one way of asking.

    Each spelling is tried as it stands, and only then with something said besides.
    """
    lines = [Line(spelt, lexicon) for spelt in _spellings(text)]
    for freely in (False, True):
        for line in lines:
            readings = _asked(line, Matcher(line, freely=freely).asked())
            if readings:
                return readings
    return ()


def _asked(line: Line, asked: Asked | None) -> tuple[Reading, ...]:
    """The readings of what a line can mean, with what is said besides."""
    if asked is None:
        return ()
    made = [_reading(line, each, sole=not asked.open) for each in asked.meanings]
    readings = tuple(each for each in made if each is not None)
    if not readings or not (asked.open or len(readings) == len(made)):
        return ()
    for each in asked.besides:
        taken = line.taken.get(each.what.strip('"'))
        what = each.what if taken is None else taken.noun.term
        aside = each.deed == "aside"
        changed = () if aside else _with_remark(readings, each.deed, what)
        if not changed:
            first, *others = readings
            unused = (*first.unused, line.typed(each.first, each.after))
            readings = (replace(first, unused=unused), *others)
        readings = changed or readings
    return readings


def _read_in_turn(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """What each of several questions asks, where all are read and none is in doubt.

    What is only said before them is heeded, or told as not used.
    """
    said: list[str] = []
    found: list[Reading] = []
    for each in sentences(text):
        if not each.asks:
            said.append(each.text)
            continue
        readings = _read_next(each.text, said, found, lexicon)
        if not readings:
            return ()
        found += readings
        said = []
    many = len(found) > 1
    if not found or said or (many and not all(each.sure for each in found)):
        return ()
    return tuple({each.question: each for each in found}.values())


def _read_next(
    text: str, said: Sequence[str], found: Sequence[Reading], lexicon: Lexicon
) -> tuple[Reading, ...]:
    """What a question asks after what was said, and what was asked, before it."""
    for part in ([text], *divisions(text)):
        read: list[Reading] = []
        for number, each in enumerate(part):
            told = () if number else said
            readings = _read_one(each, told, [*found, *read], lexicon)
            if not readings or (len(part) > 1 and not all(r.sure for r in readings)):
                break
            read += readings
        else:
            return tuple(read)
    return ()


def _read_one(
    text: str, said: Sequence[str], found: Sequence[Reading], lexicon: Lexicon
) -> tuple[Reading, ...]:
    """What one question asks; what it points at was said or asked before."""
    if not points(text):
        readings = _read_whole(text, lexicon)
        if readings:
            return _heeding(readings, said, lexicon)
    for start in range(len(said)):
        readings = _read_whole(" ".join((*said[start:], text)), lexicon)
        if readings and all(each.sure for each in readings):
            return _heeding(readings, said[:start], lexicon)
    meant: dict[tuple[str, ...], tuple[Reading, ...]] = {}
    for named in pointed(text, _topics(text, said, found, lexicon)):
        readings = _read_whole(named, lexicon) or _exact(named)
        if readings and all(each.sure for each in readings):
            meant.setdefault(tuple(each.question for each in readings), readings)
            if speaks_of_film(text):
                break
    found_one = [*meant.values()] if len(meant) == 1 else []
    return _heeding(found_one[0], said, lexicon) if found_one else ()


def _topics(
    text: str, said: Sequence[str], found: Sequence[Reading], lexicon: Lexicon
) -> list[str]:
    """What can be meant by a word that points back, the likeliest first."""
    films: list[str] = []
    things: list[str] = []
    for each in reversed(found[-1:]):
        films += films_asked(each.query)
        things += subjects_asked(each.query)
    for sentence in reversed(said):
        for name, kinds in reversed([*things_said(sentence, lexicon)]):
            if "product" in kinds and "wash" not in kinds:
                films.append(name)
            elif "film" in kinds and not kinds & {"kind", "product"}:
                films.append(name)
            things.append(name)
    return [*dict.fromkeys((*films, *things))]


def _heeding(
    readings: tuple[Reading, ...], said: Sequence[str], lexicon: Lexicon
) -> tuple[Reading, ...]:
    """Readings under what was said before them; what bears on none is told."""
    for sentence in said:
        names = {print_term(e) for r in readings for e in _names(r.query)}
        things = [*things_said(sentence, lexicon)]
        heeds: list[tuple[str, q.Term | str]] = []
        heeds += [("when", each) for each in conditions_said(sentence, lexicon)]
        heeds += [
            ("worn", q.Name(name.strip('"')))
            for name, kinds in things
            if "product" in kinds
            and "wash" not in kinds
            and name not in names
            and name.count('"') == 2
        ]
        for deed, what in heeds:
            readings = _with_remark(readings, deed, what) or readings
        first, *others = readings
        unused = (*first.unused, sentence.rstrip("."))
        readings = (replace(first, unused=unused), *others)
    return readings


def _names(query: q.Query) -> Iterator[q.Name]:
    return (each for each in records(query) if isinstance(each, q.Name))


def _with_remark(
    readings: tuple[Reading, ...], deed: str, what: Any
) -> tuple[Reading, ...]:
    """Readings as a remark changes them; nothing if it bears on none."""
    made = heeded([each.query for each in readings], deed, what)
    texts = [printed(each) for each in made]
    if not made or not all(texts):
        return ()
    model = readings[-1]
    olds = [*readings, *[replace(model, unused=())] * (len(made) - len(readings))]
    pairs = zip(olds, made, texts, strict=True)
    return tuple(replace(old, query=e, question=text) for old, e, text in pairs)


def _exact(text: str) -> tuple[Reading, ...]:
    """A question that the language takes as it stands."""
    query = query_in(text)
    question = "" if query is None else printed(query)
    if query is None or not question:
        return ()
    return (Reading(query, question, (), (), 1.0, sure=True),)


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
