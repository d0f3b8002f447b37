"""The parts of a label: its lists, its panels and the text around them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from abluent.grammar.label.names import Namer
from abluent.grammar.label.words import LabelWords

LISTS = frozenset({"list", "active", "inactive", "may contain", "allergens"})
# A list of one of these opens with its heading, and all before it is talk.
_MAIN = frozenset({"list", "active", "inactive"})
# A boundary, and signs such as bullets and pictures after it.
_START = re.compile(r"(?:^|[\n.!?;:\[(•|])[^\w\n,]*$")
_AFTER = re.compile(
    r"[)\]\s]*([(\[][^()\[\]\n,;]{0,40}[)\]])?[ \t]*(:|\s*\n|\s-\s|\s*$)?"
)
# Before a phrase without a colon: it opens a footnote, not a part.
_MARKED = re.compile(r"[*†‡✝§¹²³⁴⁵⁶⁷⁸⁹]\s?$")
_NEXT_WORD = re.compile(r"\s*([^\W\d_]+)")
# "Shampoo: Aqua, ..." at the start of a line.
_LINE_LABEL = re.compile(r"(?:^|\n)[ \t]*([^\W\d_][^\n,;:•|]{1,40}):(?=\s)")
_ANYWHERE = frozenset({"active", "inactive", "may contain"})
# A verb that opens a list; after one, it opens a caution that names its substances.
_CONTENT = "content"
_BETWEEN_SIGNS = re.compile(r"[^,;:.\n•·|]{2,80}")
_TALK = frozenset({"aside", "absent"})
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_REACH = 300
_CLOSER = {"(": ")", "[": "]", "{": "}"}


@dataclass(frozen=True, slots=True)
class Heading:
    """Words that open a part of a label, and where they stand."""

    kind: str
    begin: int
    end: int
    at_most: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a plain text: its kind, its heading and its body, as offsets.

    `kind` is one of `LISTS`, or `before` or `aside`; `at_most` is the per cent that
    the heading allows each name of the part.
    """

    kind: str
    heading: tuple[int, int]
    start: int
    end: int
    at_most: Fraction | None = None


def brackets(plain: str) -> dict[int, int]:
    """Offsets of opening brackets with that of their partner, where it is near."""
    pairs: dict[int, int] = {}
    open_: list[int] = []
    for found in re.finditer(r"[()\[\]{}]|\n\s*\n", plain):
        at, sign = found.start(), found.group()
        if sign in _CLOSER:
            open_.append(at)
        elif sign[0] == "\n":
            open_.clear()
        elif open_ and _CLOSER[plain[open_[-1]]] == sign and at - open_[-1] <= _REACH:
            pairs[open_.pop()] = at
        else:
            open_.clear()
    return pairs


def parts(
    plain: str,
    low: str,
    words: LabelWords,
    namer: Namer,
    pairs: Mapping[int, int],
) -> list[Part]:
    """Cut a text at its headings.

    Args:
        plain: the text, cleaned.
        low: its shadow.
        words: the words of headings.
        namer: tells names.
        pairs: what `brackets` found.
    """
    found: list[Part] = []
    now = Heading("list", 0, 0)
    for heading in _all_headings(plain, low, words, namer):
        if heading.begin < now.end:
            continue
        found.append(_part(now, heading.begin))
        stop = _enclosed(plain, heading.begin, pairs)
        if heading.at_most is not None:
            kind = now.kind if now.kind in LISTS else "list"
            now = replace(heading, kind=kind)
        elif heading.kind == "may contain" and stop is not None and stop > heading.end:
            found.append(_part(heading, stop))
            now = Heading(now.kind, stop, stop)
        else:
            now = heading
    found.append(_part(now, len(plain)))
    return _before_first_list(found)


def _part(heading: Heading, end: int) -> Part:
    """From a heading to an offset."""
    extent = (heading.begin, heading.end)
    kind = "aside" if heading.kind in _TALK else heading.kind
    return Part(kind, extent, heading.end, end, heading.at_most)


def _all_headings(
    plain: str, low: str, words: LabelWords, namer: Namer
) -> list[Heading]:
    minor = [
        Heading("list", found.start(), found.end(), _figure(found.group()))
        for found in words.minor.finditer(low)
    ]
    inside = {at for each in minor for at in range(each.begin, each.end)}
    headings = [h for h in _headings(plain, low, words) if h.begin not in inside]
    headings = list(_with_content(plain, headings))
    if not any(heading.kind in _MAIN for heading in headings):
        # Talk before the first name of a text without headings is no part of it.
        first = _first_name(plain, namer)
        headings = [h for h in headings if h.kind != "aside" or h.begin > first]
        headings += _line_labels(plain, namer)
    return sorted([*minor, *headings], key=lambda heading: heading.begin)


def _with_content(plain: str, headings: Sequence[Heading]) -> Iterator[Heading]:
    """The headings; of those that are a verb, the ones that open a list."""
    listed = any(heading.kind in _MAIN for heading in headings)
    for heading in headings:
        if heading.kind != _CONTENT:
            yield heading
        elif not listed or plain[heading.end - 1] == ":":
            listed = True
            yield replace(heading, kind="list")


def _first_name(plain: str, namer: Namer) -> int:
    """Where the first name stands between two signs; -1 if there is none."""
    for found in _BETWEEN_SIGNS.finditer(plain):
        if namer.known(found.group().strip()) is not None:
            return found.start()
    return -1


def _figure(text: str) -> Fraction:
    found = _NUMBER.search(text)
    return Fraction(found.group().replace(",", ".") if found else "100")


def _before_first_list(found: list[Part]) -> list[Part]:
    opened = (
        at
        for at, part in enumerate(found)
        if part.kind in _MAIN
        and part.at_most is None
        and part.heading[0] < part.heading[1]
    )
    first = next(opened, 0)
    return [
        Part("before", part.heading, part.start, part.end) if at < first else part
        for at, part in enumerate(found)
    ]


def _headings(plain: str, low: str, words: LabelWords) -> Iterator[Heading]:
    """Phrases that open a part; several in a row, as in many languages, are one."""
    run: list[re.Match[str]] = []
    for found in words.heading.finditer(low):
        if run and not words.joint.fullmatch(low, run[-1].end(), found.start()):
            yield from _heading(low, run, words)
            run = []
        run.append(found)
    if run:
        yield from _heading(low, run, words)


def _heading(
    low: str, run: Sequence[re.Match[str]], words: LabelWords
) -> Iterator[Heading]:
    after = _AFTER.match(low, run[-1].end())
    sign = after.group(2) if after else None
    end = run[-1].end()
    if after is not None and (sign == ":" or (after.group(1) and sign is not None)):
        end = after.start(2) + (sign == ":")
    kinds = [
        kind
        for found in run
        if _counts(kind := words.kind(found.group()), found, run[-1].end(), sign, words)
    ]
    if kinds:
        kind = next((each for each in kinds if each not in _TALK), kinds[0])
        yield Heading(kind, run[0].start(), end)


def _counts(
    kind: str, found: re.Match[str], end: int, sign: str | None, words: LabelWords
) -> bool:
    """Whether a phrase is a heading, given what follows its run."""
    phrase, low = found.group(), found.string
    if kind in _ANYWHERE and (" " in phrase or not phrase[0].isalnum()):
        return True
    if sign == ":" and kind not in _TALK:
        return True
    if kind == "allergens" or not _at_start(low, found.start()):
        return False
    if _MARKED.search(low, max(0, found.start() - 2), found.start()):
        return False
    following = _NEXT_WORD.match(low, end)
    runs_on = following is not None and following.group(1) in words.prose
    return kind in _TALK or sign is not None or not runs_on


def _at_start(low: str, begin: int) -> bool:
    return begin == 0 or _START.search(low, max(0, begin - 12), begin) is not None


def _line_labels(plain: str, namer: Namer) -> Iterator[Heading]:
    for found in _LINE_LABEL.finditer(plain):
        if namer.known(found.group(1)) is None:
            yield Heading("list", found.start(1), found.end())


def _enclosed(plain: str, begin: int, pairs: Mapping[int, int]) -> int | None:
    """Where the bracket right before a heading closes, if there is one."""
    at = begin - 1
    while at >= 0 and plain[at] == " ":
        at -= 1
    return pairs.get(at)
