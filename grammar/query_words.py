"""The words of the query language, as they are spelt in `query.lark`.

The spellings are read from the grammar itself, so that the reader, the printer,
the messages and the completion share one list and nothing is written twice.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

_TERMINAL = re.compile(r"^([A-Z_]+): (\".*\")$", re.MULTILINE)
_SPELLING = re.compile(r'"([^"]*)"')


@lru_cache(maxsize=1)
def grammar_text() -> str:
    """The grammar, as it is packaged."""
    return (files("abluent.grammar") / "query.lark").read_text("utf-8")


@lru_cache(maxsize=1)
def spellings() -> dict[str, tuple[str, ...]]:
    """For each kind of word its spellings; the first is the one to print."""
    return {
        kind: tuple(_SPELLING.findall(row))
        for kind, row in _TERMINAL.findall(grammar_text())
    }


@dataclass(frozen=True, slots=True)
class Phrase:
    """One spelling: its words, in lower case, and the kind of word it is."""

    words: tuple[str, ...]
    kind: str


@lru_cache(maxsize=1)
def phrases() -> dict[str, tuple[Phrase, ...]]:
    """All spellings under their first word, the longest first."""
    found: dict[str, list[Phrase]] = {}
    for kind, row in spellings().items():
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
    """The words that end an unquoted name wherever they stand, and their like.

    The first words of phrases are among them: a name with one of them may run
    into a phrase by accident, so the printer puts it in quotes.
    """
    return frozenset(phrases())
