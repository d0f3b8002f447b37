"""The words of the query language, as they are spelt in `query.lark`.

The spellings are read from the grammar itself, so that the reader, the printer,
the messages and the completion share one list and nothing is written twice.
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
_CONDITION = "CIRCUMSTANCE"
"""The kind of word that states under what circumstances hair is washed."""
_SPELLING = re.compile(r'"([^"]*)"')


@lru_cache(maxsize=1)
def grammar_text() -> str:
    """The grammar, as it is packaged."""
    return packaged_text(abluent.grammar.query, "query.lark")


@lru_cache(maxsize=1)
def spellings() -> dict[str, tuple[str, ...]]:
    """For each kind of word its spellings; the first is the one to print."""
    return {
        kind: tuple(_SPELLING.findall(row))
        for kind, row in _TERMINAL.findall(grammar_text())
    }


class Phrase(Record):
    """One spelling: its words, in lower case, and the kind of word it is."""

    words: tuple[str, ...]
    kind: str


_MORE: ContextVar[tuple[str, ...]] = ContextVar("_MORE", default=())


@contextmanager
def also(conditions: Iterable[str]) -> Iterator[None]:
    """Read more phrases as conditions, such as those of a user's own base.

    The language knows the phrases that it lists; what else states a condition is
    known elsewhere and handed in.
    """
    token = _MORE.set(tuple(conditions))
    try:
        yield
    finally:
        _MORE.reset(token)


def phrases() -> dict[str, tuple[Phrase, ...]]:
    """All spellings under their first word, the longest first."""
    return _phrases(_MORE.get())


@lru_cache(maxsize=8)
def _phrases(more: tuple[str, ...]) -> dict[str, tuple[Phrase, ...]]:
    found: dict[str, list[Phrase]] = {}
    known = spellings()
    own = tuple(plain(each) for each in more)
    rows = {**known, _CONDITION: (*known[_CONDITION], *own)}
    for kind, row in rows.items():
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


@lru_cache(maxsize=1)
def reserved() -> frozenset[str]:
    """The words that a name printed without quotes must not have.

    They begin a spelling, or could go on with one that is a word by itself, as
    `true` could after `is`.
    """
    spelt = [phrase for row in _phrases(()).values() for phrase in row]
    alone = {phrase.words[0] for phrase in spelt if len(phrase.words) == 1}
    following = [phrase.words[1:] for phrase in spelt if phrase.words[0] in alone]
    return frozenset(_phrases(())).union(*following)
