"""Cutting a list at its separators, whatever they are.

Commas, bullets, bars and semicolons always separate; so that a name may hold a
comma (`1,2-Hexanediol`), a comma between digits is looked at first. Line ends,
slashes, dashes and dots separate only where nothing stronger does, or where the
names on both sides are known.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias
from unicodedata import numeric

from abluent.grammar.label.names import Namer, identify
from abluent.grammar.label.tables import table_cells
from abluent.grammar.label.words import LabelWords

_SIGN = re.compile(
    r"(?P<bracket>[(\[{])"
    r"|(?P<hard>[;•●∙▪◦‣·¦]|(?<![ァ-ヺー])・|・(?![ァ-ヺー\d])"
    r"|(?:\.{3,}+|…++)(?!\s*\d+(?:[.,]\d+)?\s*%))"
    r"|(?P<stroke>\|)"
    r"|(?P<comma>,)"
    r"|(?P<blank>\n[ \t]*\n\s*)"
    r"|(?P<line>\n[ \t]*)"
    r"|(?P<stop>(?<!\.)\.(?=\s|$|[*†‡✝]))"
)
# Weaker separators, the first that occurs in a list without stronger ones. White space
# is only tried from its beginning, so that a long stretch of it takes linear time.
_WEAK = (
    ("slash", re.compile(r"(?<!\s)\s+/\s+")),
    ("hard", re.compile(r"(?<!\s)\s+\*\s+")),
    ("hard", re.compile(r"(?<!\s)\s+-\s+")),
    ("hard", re.compile(r"(?:(?<!\s)\s+)?[>→»]\s*")),
    ("hard", re.compile(r"\s*\t\s*|\s{3,}")),
)
# A number before a name in a list that numbers its names.
_NUMBER = re.compile(
    r"[①-⑳]|(?<![^\s,;|])(?:\((\d{1,2})\)|\[(\d{1,2})\]|(\d{1,2})[.)])(?=\s*\S)"
)
_COLUMNS = re.compile(r"\s*\n\s*|[ \t]*\t[ \t]*|[ ]{3,}")
_EMPTY = re.compile(r"\n[ \t]*\n\s*")
_ENDS = re.compile(r"\n\s*")
_BULLET = re.compile(r"[ \t]*(?:[-+>]|\d{1,2}[.)])[ \t]+")
_BULLETS = re.compile(r"(?:^|\n)[ \t]*(?:[-+>]|\d{1,2}[.)])[ \t]+")
_LOCANTS = re.compile(r"\d{1,2}(?:,\d{1,2}){1,4}-(?=[A-Za-z])")
_DECIMAL = re.compile(r"\d+,\d+\s*%")
# `N,N-` and `N,O-`: the atoms that groups are bound to.
_ATOMS = re.compile(r"(?<![^\W_])[NOSP]'?(?:,[NOSP]'?){1,3}-")
_RUN = re.compile(r"\d+$")
_LAST_WORD = re.compile(r"([^\W_]+)$")
_NUMBERED = re.compile(r"[^\W\d_]-$")
_LONGEST_NAME = 160
_STRENGTH = {"start": 0, "line": 1, "slash": 2, "hard": 3, "stop": 4, "blank": 5}

# A kind of separator, where it begins and where it ends.
Sign: TypeAlias = tuple[str, int, int]


@dataclass(frozen=True, slots=True)
class Fragment:
    """A stretch between two separators; `edge` is the kind of the one before it.

    `leads` tells that it leads up to the name after it, as in `Colours: CI 42090`.

    The kinds are `start`, `line`, `slash`, `hard`, `stop` (the end of a sentence)
    and `blank` (an empty line).
    """

    start: int
    end: int
    edge: str
    leads: bool = False


class Cutter:
    """Cuts lists in one plain text."""

    def __init__(
        self, plain: str, words: LabelWords, namer: Namer, pairs: Mapping[int, int]
    ) -> None:
        self._plain = plain
        self._words = words
        self._namer = namer
        self._pairs = pairs

    def cut(self, start: int, end: int, *, rows: bool = False) -> list[Fragment]:
        """The fragments of a list, in order, none of them empty.

        Args:
            start: where the list begins.
            end: where it ends.
            rows: whether every line is a row of its own, as in a panel.
        """
        cells = table_cells(self._plain, start, end, self._named)
        if cells:
            return [Fragment(*cell, "hard") for cell in cells]
        numbers = self._numbers(start, end)
        signs = list(self._parting(list(self._signs(start, end)), start, end))
        strong = sum(kind == "hard" for kind, _, _ in signs)
        lines = self._plain.count("\n", start, end)
        bullets = len(_BULLETS.findall(self._plain, start, end))
        weak = [] if strong else self._weak(start, end)
        if len(numbers) > max(2, bullets):
            signs += numbers
        elif weak and len(weak) > 2 * lines:
            signs += weak
        elif rows or bullets > 1 or strong * 2 < lines:
            signs = [sign for sign in signs if sign[0] not in {"line", "blank"}]
            signs += self._lines(start, end)
        return list(self._fragments(start, end, sorted(signs, key=lambda s: s[1])))

    def _numbers(self, start: int, end: int) -> list[Sign]:
        """The numbers that count the names, from 1 on; what is before 1 is talk."""
        found: list[Sign] = []
        for number in _NUMBER.finditer(self._plain, start, end):
            shown = number.group(number.lastindex or 0)
            if (int(shown) if shown.isdecimal() else numeric(shown)) == len(found) + 1:
                kind = "hard" if found else "blank"
                found.append((kind, number.start(), number.end()))
        return found

    def _signs(self, start: int, end: int) -> Iterator[Sign]:
        at = last = start
        while found := _SIGN.search(self._plain, at, end):
            kind, at = found.lastgroup or "", found.end()
            if kind == "bracket":
                at = self._pairs.get(found.start(), found.start()) + 1
                continue
            if kind == "comma" and self._in_name(last, found.start(), end):
                continue
            if kind == "stop" and self._abbreviates(last, found.start()):
                continue
            last = at
            yield "hard" if kind == "comma" else kind, found.start(), at

    def _parting(self, signs: list[Sign], start: int, end: int) -> Iterator[Sign]:
        """The signs without the strokes that stand for a letter of a name.

        Such a stroke has a letter on both sides and no known name, in a list that
        other signs part.
        """
        others = sum(kind == "hard" for kind, _, _ in signs)
        tight = {s for s in signs if s[0] == "stroke" and self._tight(s[1], s[2])}
        strokes = sum(kind == "stroke" for kind, _, _ in signs)
        letters = len(tight) == strokes <= others
        for number, sign in enumerate(signs):
            kind, begin, after = sign
            if kind != "stroke":
                yield sign
                continue
            left = signs[number - 1][2] if number else start
            right = signs[number + 1][1] if number + 1 < len(signs) else end
            named = self._named(left, begin) or self._named(after, right)
            if named or not letters:
                yield "hard", begin, after

    def _tight(self, begin: int, after: int) -> bool:
        after += self._plain.startswith("\n", after)  # a name runs over the line
        around = self._plain[begin - 1 : begin] + self._plain[after : after + 1]
        return len(around) == 2 and around.isalpha()

    def _named(self, start: int, end: int) -> bool:
        text = self._plain[start : min(end, start + _LONGEST_NAME)].strip()
        return identify(text, self._namer) is not None

    def _weak(self, start: int, end: int) -> list[Sign]:
        for kind, pattern in _WEAK:
            found = [m.span() for m in pattern.finditer(self._plain, start, end)]
            inner = [s for s in found if s[0] > start and s[1] < end]
            if inner:
                return [(kind, *span) for span in inner]
        return []

    def _lines(self, start: int, end: int) -> Iterator[Sign]:
        # Where most lines stand apart, empty lines part names and not paragraphs.
        ends = len(_ENDS.findall(self._plain, start, end))
        spaced = 2 * len(_EMPTY.findall(self._plain, start, end)) > ends
        bullets = list(_BULLETS.finditer(self._plain, start, end))
        # Behind the last of several bullets, lines without one are talk.
        after = bullets[-1].end() if len(bullets) > 2 else end
        first = _BULLET.match(self._plain, start, end)
        if first:
            yield "hard", first.start(), first.end()
        for found in _COLUMNS.finditer(self._plain, start, end):
            bullet = _BULLET.match(self._plain, found.end(), end)
            blank = not spaced and found.group().count("\n") > 1
            if found.start() >= after and not bullet:
                blank, after = True, end
            stop = bullet.end() if bullet else found.end()
            yield "blank" if blank else "hard", found.start(), stop

    def _fragments(self, start: int, end: int, signs: list[Sign]) -> Iterator[Fragment]:
        edge, at = "start", start
        for kind, begin, after in [*signs, ("blank", end, end)]:
            if begin < at:
                continue
            text = self._plain[at:begin]
            if text.strip():
                left = at + len(text) - len(text.lstrip())
                yield Fragment(left, at + len(text.rstrip()), edge)
                edge = kind
            elif _STRENGTH[kind] > _STRENGTH[edge]:
                edge = kind
            at = after

    # -- commas and dots inside names -----------------------------------------

    def _in_name(self, last: int, at: int, end: int) -> bool:
        """Whether the comma at an offset stands inside a name or a number."""
        plain = self._plain
        if plain[at + 1 : at + 2].isalpha():
            atoms = _ATOMS.search(plain, max(last, at - 8), end)
            return atoms is not None and atoms.start() < at < atoms.end()
        if not (plain[at + 1 : at + 2].isdigit() and plain[at - 1 : at].isdigit()):
            return False
        digits = _RUN.search(plain, max(last, at - 12), at)
        begin = digits.start() if digits else at
        if _DECIMAL.match(plain, begin, end):
            return True
        earlier = max(last, at - 14)
        while begin > earlier and plain[begin - 1] == ",":
            digits = _RUN.search(plain, earlier, begin - 1)
            begin = digits.start() if digits else earlier
        if not _LOCANTS.match(plain, begin, end):
            return False
        numbered = _NUMBERED.search(plain, max(last, begin - 2), begin)
        return not (numbered and self._stands_alone(last, at, end))

    def _stands_alone(self, last: int, at: int, end: int) -> bool:
        """Whether a name ends at the comma, or one begins after it."""
        following = _SIGN.search(self._plain, at + 1, min(end, at + 60))
        rest = self._plain[at + 1 : following.start() if following else end]
        before = self._plain[max(last, at - 60) : at].strip()
        return (
            identify(before, self._namer) is not None
            or identify(rest, self._namer) is not None
            or self._namer.readable(before)
        )

    def _abbreviates(self, last: int, at: int) -> bool:
        word = _LAST_WORD.search(self._plain, max(last, at - 12), at)
        if word is None:
            return False
        letters = word.group(1)
        single = len(letters) == 1 and letters.isalpha()
        return single or letters.lower() in self._words.abbreviations
