"""The ways of asking, as `parts.toml` and `asks_*.toml` have them, read into patterns.

A way is `what is typed -> what is asked`. In a pattern stand words, `[what may be
left out]`, `(one|or another)`, `~verb:clear` for any phrase that the book of speech
has under it, `{film}` for a noun of that sort, and `<takes>` for any of the ways
listed under `takes`. What is asked has the same nouns and parts, in the words of the
question language; `||` parts what can be meant, where it is to be asked which, `&&`
parts what is asked together, and `?` stands before the one meaning that is only
offered.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Any, NamedTuple

import abluent.grammar.plain
from abluent.grammar.common.packaged import packaged_text
from abluent.grammar.phrase.book import words_of


class Word(NamedTuple):
    """A word or mark, as it is compared."""

    text: str


class Role(NamedTuple):
    """Any phrase that does one thing: `verb:clear`."""

    key: str


class Slot(NamedTuple):
    """A noun of a sort, kept under a name."""

    name: str
    sort: str


class Sub(NamedTuple):
    """Any of the ways of a part, kept under a name."""

    name: str
    part: str


class Choice(NamedTuple):
    """One of some sequences; `()` is one of them where all may be left out."""

    branches: tuple[tuple[Any, ...], ...]


Node = Word | Role | Slot | Sub | Choice


class Way(NamedTuple):
    """A pattern, the texts of what it can mean, and whether that is to be asked."""

    pattern: tuple[Node, ...]
    meanings: tuple[str, ...]
    open: bool


class Sort(NamedTuple):
    """What a noun must be, and must not be, to stand in a slot.

    `many` tells that it must be a list.
    """

    all: frozenset[str]
    any: frozenset[str]
    none: frozenset[str]
    many: bool


class Forms(NamedTuple):
    """All that these files hold."""

    parts: dict[str, tuple[Way, ...]]
    sorts: dict[str, Sort]
    fillers: dict[str, tuple[tuple[str, ...], ...]]
    """Phrases that say nothing, by their first word."""


ASKS = "asks"
"""The part that a whole line is."""
_KINDS = (
    *("which", "wash", "product", "more", "between", "since", "ground"),
    *("fit", "kinds"),
)
_FILES = ("beside.toml", *(f"asks_{each}.toml" for each in _KINDS))
"""Where its ways stand, in the order in which they are tried, and more parts."""
_TOKEN = re.compile(r"~[\w:]+|\{\w+\}|<\w+>|[\[\]()|]|[^\s\[\]()|<>{}~]+")
_FIGURES = "0123456789"


@lru_cache(maxsize=1)
def forms() -> Forms:
    """The ways of asking, with the sorts of nouns and the words that say nothing."""
    rows = _rows("parts.toml")
    ways: list[str] = []
    for name in _FILES:
        held = _rows(name)["part"]
        ways += held.pop(ASKS, [])
        rows["part"] |= held
    rows["part"][ASKS] = ways
    parts = {
        name: tuple(way(line) for line in lines) for name, lines in rows["part"].items()
    }
    sorts = {name: _sort(row) for name, row in rows["sort"].items()}
    fillers: dict[str, list[tuple[str, ...]]] = {}
    for words in map(words_of, rows["filler"]["words"]):
        fillers.setdefault(words[0], []).append(words)
    held = {word: tuple(each) for word, each in fillers.items()}
    return Forms(parts, sorts, held)


@cache
def first_words(part: str) -> tuple[frozenset[str] | None, ...]:
    """Of each way of a part, the words that it can begin with; none if any may."""
    parts = forms().parts
    return tuple(_begins(each.pattern, parts, (part,)) for each in parts[part])


def _begins(
    nodes: tuple[Node, ...], parts: dict[str, tuple[Way, ...]], within: tuple[str, ...]
) -> frozenset[str] | None:
    """The words that a pattern can begin with; nothing is told if it may be any."""
    if not nodes:
        return None
    first, rest = nodes[0], nodes[1:]
    match first:
        case Word(text=text):
            return frozenset((text,))
        case Choice(branches=branches):
            found = [_begins((*each, *rest), parts, within) for each in branches]
        case Sub(part=part) if part not in within and part in parts:
            inner = (*within, part)
            found = [_begins((*e.pattern, *rest), parts, inner) for e in parts[part]]
        case _:
            return None
    if any(each is None for each in found):
        return None
    return frozenset().union(*(each for each in found if each is not None))


def _rows(name: str) -> dict[str, Any]:
    return tomllib.loads(packaged_text(abluent.grammar.plain, name))


def _sort(row: dict[str, Any]) -> Sort:
    needed, some, never = (
        frozenset(row.get(key, ())) for key in ("all", "any", "none")
    )
    return Sort(needed, some, never, row.get("many", False))


def way(line: str) -> Way:
    """One way of asking.

    Raises:
        ValueError: it has no `->`, or a bracket that nothing shuts.
    """
    typed, arrow, asked = line.partition("->")
    waiting = _TOKEN.findall(typed)[::-1]
    pattern = tuple(_sequence(waiting, line))
    if not arrow or waiting:
        raise ValueError(f"`{line}` is no way of asking: `typed -> asked`")
    meanings = tuple(each.strip(" ?") for each in re.split(r"\|\||&&", asked))
    return Way(pattern, meanings, "?" in asked or "||" in asked)


def _sequence(waiting: list[str], line: str) -> Iterator[Node]:
    """The nodes up to a bar, a shut bracket or the end."""
    while waiting and waiting[-1] not in _ENDS:
        token = waiting.pop()
        if token in _SHUTS:
            yield _choice(waiting, token, line)
        else:
            yield from _nodes(token)


def _wider(branches: list[tuple[Node, ...]]) -> Iterator[tuple[Node, ...]]:
    """Whoever may stand where `i` or `you` may, and whatever is done as `use` is."""
    for part, (some, never) in _ANY_OF.items():
        if all(words in branches for words in some) and never not in branches:
            yield (Sub(part, part),)


def _spelt(words: str) -> tuple[Node, ...]:
    return tuple(map(Word, words.split()))


_ANY_OF = {
    "who": ((_spelt("i"), _spelt("you")), _spelt("a client")),
    "use": ((_spelt("use"), _spelt("take")), _spelt("wash with it")),
}
"""Parts that stand wherever some of their words do, and a word of the part itself."""
_SHUTS = {"(": ")", "[": "]"}
_ENDS = frozenset("|)]")


@cache
def _nodes(token: str) -> tuple[Node, ...]:
    """What one token of a pattern is; a word may be several."""
    inner = token[1:-1]
    match token[0]:
        case "~":
            return (Role(token[1:]),)
        case "{":
            return (Slot(inner, inner.rstrip(_FIGURES)),)
        case "<":
            return (Sub(inner, inner.rstrip(_FIGURES)),)
    return tuple(map(Word, words_of(token)))


def _choice(waiting: list[str], bracket: str, line: str) -> Choice:
    branches = [tuple(_sequence(waiting, line))]
    while waiting and waiting[-1] == "|":
        waiting.pop()
        branches.append(tuple(_sequence(waiting, line)))
    if not waiting or waiting.pop() != _SHUTS[bracket]:
        raise ValueError(f"`{line}`: nothing shuts the `{bracket}`")
    branches += _wider(branches)
    if bracket == "[":
        branches.append(())
    return Choice(tuple(branches))
