"""A plain question to the exact one, where every word of it is accounted for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, records, replace
from abluent.grammar.phrase.book import words_of
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Lexicon, Piece, is_of_its_name
from abluent.grammar.phrase.reading import Reading, printed
from abluent.grammar.plain.beside import FACTS, FILLING, Remark, heeded, premise
from abluent.grammar.plain.line import Line
from abluent.grammar.plain.match import Asked, Matcher
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in


def read_whole(
    text: str, lexicon: Lexicon, *, freely: bool = True
) -> tuple[Reading, ...]:
    """What a text asks by one way of asking.

    Each spelling is tried as it stands, and only then with something said besides.
    """
    lines = [Line(spelt, lexicon) for spelt in _spellings(text)]
    for each in (False, True) if freely else (False,):
        for line in lines:
            readings = _asked(line, Matcher(line, freely=each).asked())
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
    return _beside(line, readings, asked.besides)


def read_besides(
    text: str, before: tuple[Reading, ...], lexicon: Lexicon, *, only_said: bool = False
) -> tuple[Reading, ...]:
    """What was asked before, under a text that only says something besides.

    Nothing comes of any other text, nor of one that bears on nothing.
    """
    line = Line(text, lexicon)
    besides = Matcher(line, freely=True).besides()
    if besides is None or not before:
        return ()
    return _beside(line, before, besides, only_said=only_said)


def _beside(
    line: Line,
    readings: tuple[Reading, ...],
    besides: Sequence[Remark],
    *,
    only_said: bool = False,
) -> tuple[Reading, ...]:
    """Readings under what is said besides; what bears on none of them is told."""
    said: list[Reading] = []
    for each in sorted(besides, key=lambda each: each.deed not in FILLING):
        fact = _fact(line, readings, each)
        if fact is not None:
            said.append(fact)
            continue
        taken = line.taken.get(each.what.strip('"'))
        what = each.what if taken is None else taken.noun.term
        aside = each.deed in ("aside", *FACTS)
        changed = () if aside else with_remark(readings, each.deed, what)
        if not changed:
            text = line.typed(each.first, each.after)
            side = each.deed == "lacking" and all(
                isinstance(e.query, _BESIDE_A_LABEL) for e in readings
            )
            spared = only_said or side or each.deed in _SPARED
            changed = told_as_unused(readings, text, sure=spared)
        readings = changed
    return (*said, *readings)


def _fact(line: Line, readings: tuple[Reading, ...], said: Remark) -> Reading | None:
    """What is said of a label, as a question that was not asked."""
    if said.deed == "premise":
        made = _reading(line, said.what, sole=True)
        return None if made is None else replace(made, premise=True)
    taken = line.taken.get(said.what.strip('"'))
    if said.deed not in FACTS or taken is None:
        return None
    query = premise([e.query for e in readings], said.deed, taken.noun.term)
    question = "" if query is None else printed(query)
    if query is None or not question:
        return None
    return Reading(query, question, (), (), 1.0, sure=True, premise=True)


def facts_said(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """What a sentence says of labels, if it says nothing else."""
    for spelt in _spellings(text):
        line = Line(spelt, lexicon)
        besides = Matcher(line, freely=True).besides()
        if besides and all(each.deed in ("premise", "told") for each in besides):
            made = [_fact(line, (), e) for e in besides if e.deed == "premise"]
            return tuple(each for each in made if each is not None)
    return ()


_SPARED = frozenset(("aside", "told", "when", "why", "ordered", *FACTS))
"""What can be told as not used, with no harm to what is asked."""
_BESIDE_A_LABEL = (q.Unlike, q.About, q.Compare, q.HowMuch)
"""Questions beside which `without` something tells what a label shows."""


def told_as_unused(
    readings: tuple[Reading, ...], text: str, *, sure: bool = True
) -> tuple[Reading, ...]:
    """Readings of which the first tells what was said and is not used."""
    first, *others = readings
    unused = (*first.unused, text.strip(" ,.;:?!"))
    return (replace(first, unused=unused, sure=first.sure and sure), *others)


def with_remark(
    readings: tuple[Reading, ...], deed: str, what: Any
) -> tuple[Reading, ...]:
    """Readings as a remark changes them; nothing if it bears on none."""
    made = heeded([each.query for each in readings], deed, what)
    made = tuple({printed(each): each for each in made}.values())
    texts = [printed(each) for each in made]
    if not made or not all(texts):
        return ()
    filled = deed in FILLING and len(readings) == 1
    if filled and not (readings[0].mended or readings[0].taken):
        # What was open is now said.
        readings = (replace(readings[0], sure=True),)
    model = readings[-1]
    olds = [*readings, *[replace(model, unused=())] * (len(made) - len(readings))]
    pairs = zip(olds, made, texts, strict=True)
    return tuple(replace(old, query=e, question=text) for old, e, text in pairs)


_OF_THINGS = (q.Whether, q.Claim, q.Which, q.What, q.Compare, q.HowMuch, q.Define)
"""What a question by itself may be: one of an answer before is none."""


def exact(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """A question that the language takes as it stands, with names that are known."""
    query = query_in(text)
    question = "" if query is None else printed(query)
    if query is None or not question or not isinstance(query, _OF_THINGS):
        return ()
    for each in records(query):
        if isinstance(each, q.Name):
            sense = lexicon.find(words_of(each.text))
            if sense is None or sense.loose:
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
