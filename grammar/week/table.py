"""How often, how long and to what end, in the words of `week.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

import abluent.grammar.week
from abluent.grammar.common.packaged import packaged_text
from abluent.grammar.common.record import Record
from abluent.grammar.phrase.pieces import NUMBER_WORDS, Token
from abluent.grammar.routine.printer import DAYS

_COUNTS = {"once": 1, "twice": 2, "thrice": 3, "couple": 2, "a": 1}
_ORDINALS = ("st", "nd", "rd", "th")
_SHORTEST_DAY = 3
_WEEK = 7


class Found(Record):
    """What some words of a text say.

    `sort` is `rhythm`, `length` or `wish`; `says` the words of a line, `of` what a
    rhythm is of, where it is not of what stands beside it; `plan` tells that a plan is
    asked for; `many` is the number of tokens that say it.
    """

    sort: str
    says: str
    many: int
    of: str = ""
    plan: bool = False


class _Way(Record):
    words: tuple[str, ...]
    sort: str
    says: str
    of: str
    plan: bool
    times: int
    in_days: int


def at(words: Sequence[Token], place: int) -> Found | None:
    """What the words of a text say from a place on: the longest that say something."""
    best: Found | None = None
    for way in _ways(words[place].text):
        told = _said(way, words, place)
        if told is not None and (best is None or told.many > best.many):
            best = told
    return best


def unsaid(what: str) -> str:
    """What is put in where nobody said: how often to `wash` or `use`, or the `wish`."""
    return str(_rows()[f"unsaid_{what}"])


@cache
def words_for(what: str) -> frozenset[str]:
    """Some words that are told apart: `wash`, `swim`, `denies`, `joins`, `idle` …"""
    return frozenset(_rows()["words"][what])


@cache
def _rows() -> dict[str, Any]:
    return tomllib.loads(packaged_text(abluent.grammar.week, "week.toml"))


@cache
def _all() -> tuple[tuple[_Way, ...], dict[str, tuple[_Way, ...]]]:
    """The ways that begin with a number or a day, and all others by first word."""
    loose: list[_Way] = []
    by: dict[str, list[_Way]] = {}
    for sort in ("rhythm", "length", "wish"):
        for row in _rows()[sort]:
            says = row.get("when") or row.get("says") or row.get("line", "")
            more = row.get("of", ""), row.get("plan", False)
            for phrase in row["words"]:
                words = tuple(phrase.split())
                count = row.get("times", 1), row.get("in_days", 0)
                way = _Way(words, sort, says, *more, *count)
                free = words[0][0] in "#%"
                (loose if free else by.setdefault(words[0], [])).append(way)
    return tuple(loose), {first: tuple(ways) for first, ways in by.items()}


def _ways(word: str) -> Iterator[_Way]:
    loose, by = _all()
    yield from by.get(word, ())
    if number_in(word) or day_in(word) is not None:
        yield from loose


def _said(way: _Way, words: Sequence[Token], place: int) -> Found | None:
    """What one way says, where the words at a place are its own."""
    end, number, days = place, 0, list[int]()
    for part in way.words:
        while end < len(words) and words[end].text in "/-" and part not in "/-":
            end += 1
        if end >= len(words):
            return None
        text = words[end].text
        if part == "%":
            days, stop = _days(words, end)
            if not days:
                return None
            end = stop
            continue
        if part[0] == "#":
            number = _numbered(part, text)
            if not number:
                return None
        elif text != part:
            return None
        end += 1
    if way.words == ("%",) and len(days) == 1 and not _whole(words[place].text):
        return None  # `sat` alone is mostly a verb
    says = _filled(way, number, days)
    return Found(way.sort, says, end - place, way.of, way.plan) if _is(says) else None


def _is(says: str) -> bool:
    return "#" not in says and "%" not in says


def _filled(way: _Way, number: int, days: Sequence[int]) -> str:
    """The words of a line, with the number and the days in their places."""
    if way.in_days and number:
        each = way.in_days // number
        weeks, rest = divmod(each, _WEEK)
        return f"every {each} days" if rest else f"every {weeks} weeks on Sunday"
    says = way.says
    if days:
        says = says.replace("%", " and ".join(DAYS[day] for day in days))
    if not number:
        return says
    count = number * way.times
    if says == "# times a week":
        if count > _WEEK:
            return "daily"
        return {1: "once a week", 2: "twice a week", 7: "daily"}.get(
            count, f"{count} times a week"
        )
    if says == "every # days" and count == 1:
        return "daily"
    return says.replace("#", str(count))


def _numbered(part: str, text: str) -> int:
    """The number that a word is, in the form that a phrase wants; else 0."""
    if part == "#x":
        return int(text[:-1]) if text.endswith("x") and text[:-1].isdigit() else 0
    if part == "#th":
        found = text[:-2] if text.endswith(_ORDINALS) else ""
        if found.isdigit():
            return int(found)
        return NUMBER_WORDS.get(text, 0)
    return number_in(text)


def number_in(text: str) -> int:
    """The number that a word is, or holds before an x; 0 where it is none."""
    if text.isdigit():
        return int(text)
    if text[:-1].isdigit() and text.endswith("x"):
        return int(text[:-1])
    return NUMBER_WORDS.get(text, _COUNTS.get(text, 0))


def day_in(text: str) -> int | None:
    """The day of the week that a word is, from Monday, 0; none where it is none."""
    for number, name in enumerate(DAYS):
        day = name.casefold()
        short = text.removesuffix("s")
        if day in {text, short} or text in _short(day):
            return number
    return None


def _short(day: str) -> tuple[str, ...]:
    stem = day.removesuffix("day")
    lengths = range(_SHORTEST_DAY, max(_SHORTEST_DAY, len(stem)) + 1)
    return tuple(day[:n] for n in lengths)


def _whole(text: str) -> bool:
    return text.removesuffix("s").endswith("day")


_JOINS = frozenset({"and", ",", "&", "/", "+"})


def _days(words: Sequence[Token], place: int) -> tuple[list[int], int]:
    """The days of the week from a place on, and where they end."""
    found: list[int] = []
    end = place
    while end < len(words):
        day = day_in(words[end].text)
        if day is not None:
            found.append(day)
            end += 1
            place = end
        elif found and words[end].text in _JOINS:
            end += 1
        else:
            break
    return sorted(dict.fromkeys(found)), place
