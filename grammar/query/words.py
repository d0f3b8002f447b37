"""The words of the query language, as they are spelt in `query.lark`.

The spellings are read from the grammar itself, so that the reader, the printer,
the messages and the completion share one list and nothing is written twice. What
states a condition is no word of the language and is handed in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache

import abluent.grammar.query
from abluent.grammar.common.packaged import packaged_text
from abluent.grammar.common.record import Record

_TERMINAL = re.compile(r"^([A-Z_]+): (\".*\"(?:\n +\| \".*\")*)$", re.MULTILINE)
CONDITION = "CIRCUMSTANCE"
"""The kind of word that states under what circumstances hair is washed."""
_SPELLING = re.compile(r'"([^"]*)"')


@lru_cache(maxsize=1)
def grammar_text() -> str:
    """The grammar, as it is packaged."""
    return packaged_text(abluent.grammar.query, "query.lark")


_MORE: ContextVar[tuple[str, ...]] = ContextVar("_MORE", default=())


@contextmanager
def also(conditions: Iterable[str]) -> Iterator[None]:
    """Read some phrases as conditions: those of the base that questions are put to.

    The language has a place for conditions and knows none; they are handed in.
    """
    token = _MORE.set(tuple(conditions))
    try:
        yield
    finally:
        _MORE.reset(token)


def spellings() -> dict[str, tuple[str, ...]]:
    """For each kind of word its spellings; the first is the one to print."""
    return _spellings(_MORE.get())


@lru_cache(maxsize=8)
def _spellings(conditions: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    found = {
        kind: tuple(_SPELLING.findall(row))
        for kind, row in _TERMINAL.findall(grammar_text())
    }
    if conditions:
        found[CONDITION] = tuple(plain(each) for each in conditions)
    return found


class Phrase(Record):
    """One spelling: its words, in lower case, and the kind of word it is."""

    words: tuple[str, ...]
    kind: str


def phrases() -> dict[str, tuple[Phrase, ...]]:
    """All spellings under their first word, the longest first."""
    return _phrases(_MORE.get())


@lru_cache(maxsize=8)
def _phrases(conditions: tuple[str, ...]) -> dict[str, tuple[Phrase, ...]]:
    found: dict[str, list[Phrase]] = {}
    for kind, row in _spellings(conditions).items():
        for spelling in row:
            words = tuple(spelling.split())
            found.setdefault(words[0], []).append(Phrase(words, kind))
    return {
        first: tuple(sorted(row, key=lambda each: -len(each.words)))
        for first, row in found.items()
    }


def plain(word: str) -> str:
    """A word as it is compared: lower case, with a straight apostrophe."""
    return word.lower().replace("\u2019", "'")


def reserved() -> frozenset[str]:
    """The words that a name printed without quotes must not have.

    They begin a spelling, or could go on with one that is a word by itself, as
    `true` could after `is`.
    """
    return _reserved(_MORE.get())


@lru_cache(maxsize=8)
def _reserved(conditions: tuple[str, ...]) -> frozenset[str]:
    known = _phrases(conditions)
    spelt = [phrase for row in known.values() for phrase in row]
    alone = {phrase.words[0] for phrase in spelt if len(phrase.words) == 1}
    following = [phrase.words[1:] for phrase in spelt if phrase.words[0] in alone]
    return frozenset(known).union(*following)
