"""The words of free speech: `words.toml`, `sets.toml` and `topics.toml` as data."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from functools import cache, lru_cache
from typing import Any

import abluent.grammar.phrase
from abluent.grammar.common.packaged import packaged_text
from abluent.grammar.common.record import Record

_ORDER = (
    *(
        "unread",
        "ask",
        "verb",
        "turned",
        "contrast",
        "quantity",
        "time",
        "small",
        "heads",
    ),
    *("particles", "idle"),
)
"""The sections in the order in which a phrase of the same length is looked for."""
_WORD = re.compile(r"[^\W_]+(?:['\u2019][^\W_]+)*|->|=>|<=|[^\w\s]", re.UNICODE)


class Entry(Record):
    """What a phrase does: its section, and its key there."""

    section: str
    key: str


class Topic(Record):
    """Something that cannot be settled, and what to say of it."""

    words: tuple[tuple[str, ...], ...]
    says: str
    weak: bool = False
    ask: tuple[str, ...] = ()
    unless: tuple[tuple[str, ...], ...] = ()
    beside: bool = False
    chance: tuple[tuple[str, ...], ...] = ()
    first: bool = False
    roles: tuple[str, ...] = ()


def plain(word: str) -> str:
    """A word as it is compared: lower case, no accents, a straight apostrophe."""
    parts = unicodedata.normalize("NFKD", word.casefold().replace("\u2019", "'"))
    return "".join(c for c in parts if not unicodedata.combining(c))


def words_of(text: str) -> tuple[str, ...]:
    """The words and marks of a phrase, as they are compared."""
    return tuple(plain(found.group()) for found in _WORD.finditer(text))


@lru_cache(maxsize=1)
def phrases() -> dict[tuple[str, ...], tuple[Entry, ...]]:
    """Every phrase by its words, with all that it may do."""
    rows = tomllib.loads(packaged_text(abluent.grammar.phrase, "words.toml"))
    found: dict[tuple[str, ...], list[Entry]] = {}
    for section in _ORDER:
        for key, spelt in rows[section].items():
            for phrase in spelt:
                entries = found.setdefault(words_of(phrase), [])
                entries.append(Entry(section, key))
    return {words: tuple(entries) for words, entries in found.items()}


@lru_cache(maxsize=1)
def longest() -> int:
    """How many words the longest phrase has."""
    return max(map(len, phrases()))


@lru_cache(maxsize=1)
def single_words() -> frozenset[str]:
    """Every word of every phrase."""
    topics_too = (
        words for topic in topics() for words in (*topic.words, *topic.chance)
    )
    known = (*phrases(), *topics_too, *near_words())
    return frozenset(word for words in known for word in words)


@lru_cache(maxsize=1)
def spoken_words() -> frozenset[str]:
    """Every word that does something by itself, and those that tell a matter alone.

    A word that only stands within longer phrases of a matter, or within such as say
    nothing, may be of a name.
    """
    silent = (Entry("idle", "words"),)
    phrased = (e for e, does in phrases().items() if len(e) == 1 or does != silent)
    known = (*phrased, *near_words())
    return frozenset(word for words in known for word in words) | single_topics()


@lru_cache(maxsize=1)
def near_words() -> frozenset[tuple[str, ...]]:
    """Words that mean nothing to this language, and yet tell what is spoken of."""
    rows = tomllib.loads(packaged_text(abluent.grammar.phrase, "words.toml"))
    return frozenset(map(words_of, rows["near"]["words"]))


@lru_cache(maxsize=1)
def _topic_rows() -> dict[str, Any]:
    return tomllib.loads(packaged_text(abluent.grammar.phrase, "topics.toml"))


@lru_cache(maxsize=1)
def topics() -> tuple[Topic, ...]:
    """What cannot be settled, in the order of the file."""
    return tuple(
        Topic(
            tuple(map(words_of, row.get("words", ()))),
            row["says"],
            row.get("weak", False),
            tuple(row.get("ask", ())),
            tuple(map(words_of, row.get("unless", ()))),
            row.get("beside", False),
            tuple(map(words_of, row.get("chance", ()))),
            row.get("first", False),
            tuple(row.get("roles", ())),
        )
        for row in _topic_rows()["topic"]
    )


@lru_cache(maxsize=1)
def topic_phrases() -> dict[str, tuple[tuple[tuple[str, ...], int, str], ...]]:
    """Every phrase of the topics, by its first word.

    With each stands the place of its topic, and which list of it the phrase is from. A
    word that `*` follows may go on; a phrase that begins so is under its first letter.
    """
    found: dict[str, list[tuple[tuple[str, ...], int, str]]] = {}
    for at, topic in enumerate(topics()):
        lists = (("own", topic.words), ("chance", topic.chance))
        for key, phrases_ in (*lists, ("unless", topic.unless)):
            for each in map(_stemmed, phrases_):
                first = each[0][:1] + "*" if each[0].endswith("*") else each[0]
                found.setdefault(first, []).append((each, at, key))
    return {first: tuple(rows) for first, rows in found.items()}


@cache
def single_topics() -> frozenset[str]:
    """The words that tell a matter by themselves."""
    return frozenset(
        each[0] for topic in topics() for each in topic.words if len(each) == 1
    )


def _stemmed(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words of a phrase; `*`, and `x` after `#`, belong to the word before."""
    found: list[str] = []
    for word in words:
        if (word == "*" and found) or (word == "x" and found[-1:] == ["#"]):
            found[-1] += word
        else:
            found.append(word)
    return tuple(found)


@lru_cache(maxsize=1)
def _sets() -> dict[str, list[str]]:
    return tomllib.loads(packaged_text(abluent.grammar.phrase, "sets.toml"))


@cache
def words_in(name: str) -> frozenset[str]:
    """A set of single words, by its name in `sets.toml`."""
    return frozenset(map(plain, _sets()[name]))


@cache
def phrases_in(name: str) -> frozenset[tuple[str, ...]]:
    """A set of phrases, by its name in `sets.toml`."""
    return frozenset(map(words_of, _sets()[name]))


def general_asks() -> tuple[str, ...]:
    """What can be asked instead of anything, as the file lists it."""
    return tuple(_topic_rows()["ask"])


def nothing_known() -> str:
    """What is said where nothing of a line is known here."""
    return str(_topic_rows()["nothing"])
