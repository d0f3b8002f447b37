"""What `it`, `them` and `those two` stand for: what was spoken of before."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from abluent.grammar.common.record import records
from abluent.grammar.phrase.pieces import Lexicon
from abluent.grammar.plain.line import Line
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_query

_TWO = re.compile(r"(?i)\b(?:(?:those|these|the|of the) two|both of (?:them|these))\b")
_ITS = re.compile(r"(?i)\bits(?: own)?\b")
_FILM = re.compile(
    r"(?i)\b(?:this|that|these|those) "
    r"(?:polymer|silicone|wax|oil|film|coating|residue|ingredient|substance)s?\b"
)
_IT = re.compile(
    r"(?i)\b(?:it\b(?!')|they\b|them\b|(?:this|that|those|these)(?=\s*(?:$|[?.,!])|\s+(?:off|out|"
    r"away|is|are|does|do|will|can|mean|means|build|builds|come|comes|leave|leaves|need|best|better|most|again|from|with|in|"
    r"without|by)\b))"
)
_ONE = re.compile(r"(?i)\bone\b(?!\s+(?:of|wash|or|and|\w+)\b)")
_LEFT = re.compile(
    r"(?i)\b(?:get|gets|take|takes|wash|washes|rinse|rinses|remove|removes|clear|clears|"
    r"lift|lifts|strip|strips|shift|shifts|against|for|dissolve|dissolves)\s+"
    r"(?:it|them|this|that|those|these)\b|\b(?:it|they|that|this)\s+(?:all )?"
    r"(?:come|comes|off|out|wash|rinse|go)\b"
)


def print_term(term: q.Term) -> str:
    """A term as it can stand in a question."""
    return print_query(q.Define(term)).split(" ", 2)[2]


def points(text: str) -> bool:
    """Whether words of a text stand for something that was spoken of before."""
    return any(each.search(text) for each in (_TWO, _ITS, _IT, _FILM))


def names_film(text: str) -> bool:
    """Whether a text points at something as a film: `that polymer`."""
    return bool(_FILM.search(text))


def pointed(text: str, topics: Sequence[str]) -> Iterator[str]:
    """A question with what may be meant in the place of the words that point at it.

    Args:
        text: the question.
        topics: what was spoken of, as it can stand in a question; that which can come
            off comes first where the question speaks of that.
    """
    for topic in topics:
        put = topic.replace("\\", "").replace('"', "")
        made = _FILM.sub(put, text)
        made = _TWO.sub(put, made) if " and " in topic else made
        made = _ITS.sub(f"{put} ", made)
        for each in dict.fromkeys((_IT.sub(put, made), _IT.sub(put, made, count=1))):
            if each != text:
                yield each


def speaks_of_film(text: str) -> bool:
    """Whether what is pointed at comes off, or is taken off."""
    return bool(_LEFT.search(text))


def films_asked(query: q.Query) -> Iterator[str]:
    """What a question asks to be taken off, or finds left."""
    for each in records(query):
        if isinstance(each, q.Clears):
            source = f" from {print_term(each.source)}" if each.source else ""
            yield print_term(each.object) + source
        if isinstance(each, q.What | q.Statement) and isinstance(
            each.predicate, q.Leaves
        ):
            yield f"everything from {print_term(each.subject)}"
        if isinstance(each, q.Leaves) and isinstance(each.object, q.Name):
            yield print_term(each.object)
        if isinstance(each, q.Define) and isinstance(each.term, q.Name):
            yield print_term(each.term)
        if isinstance(each, q.Statement) and isinstance(each.predicate, q.Stays | q.Is):
            yield print_term(each.subject)


def subjects_asked(query: q.Query) -> Iterator[str]:
    """What a question asks something of."""
    for each in records(query):
        if isinstance(each, q.What | q.Statement) and isinstance(each.subject, q.Name):
            yield print_term(each.subject)
        if isinstance(each, q.HowMuch) and isinstance(each.things, q.Name):
            yield print_term(each.things)


class Spoken(NamedTuple):
    """What a sentence speaks of: its name, its kinds, and how it was typed."""

    name: str
    kinds: frozenset[str]
    typed: str


def things_said(text: str, lexicon: Lexicon) -> Iterator[Spoken]:
    """The things that a sentence speaks of, a list as one."""
    line = Line(text, lexicon)
    at = 0
    while at < len(line.words):
        whole = [
            (end, noun)
            for end, noun in line.nouns(at)
            if noun.quantity is None and not noun.loose and not noun.slip
        ]
        if not whole:
            at += 1
            continue
        end, noun = whole[0]
        yield Spoken(print_term(noun.term), noun.kinds, line.typed(at, end))
        at = max(end, at + 1)


def conditions_said(text: str, lexicon: Lexicon) -> Iterator[tuple[str, str]]:
    """The conditions that a sentence states, each with how it was typed."""
    line = Line(text, lexicon)
    for at in range(len(line.words)):
        found = line.condition(at)
        if found is not None:
            yield found[1], line.typed(at, found[0])
