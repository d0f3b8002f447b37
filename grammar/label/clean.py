"""Label text made plain, with the way back to every character of the original.

Labels come from scans, web pages and phones: entities, tags, full-width forms,
letters of other alphabets that look Latin, characters without width, names broken
over two lines. `clean` undoes these one stretch at a time, in time linear in the
text, and remembers which stretch of the original each character came from.
"""

# ruff: noqa: RUF001 - letters that look alike are what this is about

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

# Stands for a hyphen at the end of a line, which may or may not belong to the name.
BREAK = "\N{HYPHEN}"

_HIDDEN = (
    "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180e\u200b-\u200f"
    "\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffb"
)
_LINES = "\n\r\v\f\x1c-\x1e\x85\u2028\u2029"
# One alternative for each thing to undo; plain stretches lie between the matches.
_ODD = re.compile(
    rf"(?P<entity>&(?:\#\d{{1,7}}|\#[xX][0-9a-fA-F]{{1,6}}|[A-Za-z]{{2,8}}\d{{0,2}});)"
    rf"|(?P<tag></?[A-Za-z][A-Za-z0-9]{{0,9}}(?:\s[^<>]{{0,300}})?/?>)"
    rf"|(?P<broken>(?<=[^\W_])[-\u00ad\u2010\u2011][ \t]*(?:\r\n|[{_LINES}])"
    rf"[ \t]*(?=\w))"
    rf"|(?P<line>(?:\r\n|[{_LINES}])(?:>[ >]*)?)"
    rf"|(?P<hidden>[{_HIDDEN}])"
    rf"|(?P<foreign>[^\x00-\x7f])"
    rf"|(?P<back>\\)"
    rf"|(?P<control>[\x00-\x08\x0e-\x1b\x7f])"
)
# Tags that run on within a line; every other tag ends one.
_INLINE = {"a", "abbr", "b", "big", "em", "font", "i", "small", "span", "strong", "u"}
_RAISED = {"sup", "sub"}
# Characters whose compatibility form would lose what they mean on a label.
_KEPT = frozenset("①②③④⑤⑥⑦⑧⑨⑩⑪⑫⑬⑭⑮⑯⑰⑱⑲⑳¹²³⁴⁵⁶⁷⁸⁹⁰ªº·•®™℠´¸¨…")
_PUNCTUATION = str.maketrans(
    {
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{HYPHEN}": "-",
        "\N{MINUS SIGN}": "-",
        "\N{FIGURE DASH}": "-",
        "\N{EN DASH}": "-",
        "\N{EM DASH}": "-",
        "\N{HORIZONTAL BAR}": "-",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{PRIME}": "'",
        "\N{HYPHENATION POINT}": "·",
        "\N{BULLET OPERATOR}": "·",
        "\N{DOT OPERATOR}": "·",
        "\N{FRACTION SLASH}": "/",
        "\N{DIVISION SLASH}": "/",
        "\N{SINGLE LOW-9 QUOTATION MARK}": ",",
        "\N{ARABIC COMMA}": ",",
        "\N{IDEOGRAPHIC COMMA}": ",",
        "\N{ARABIC SEMICOLON}": ";",
        "\N{IDEOGRAPHIC FULL STOP}": ". ",
        "\N{LEFT BLACK LENTICULAR BRACKET}": "[",
        "\N{RIGHT BLACK LENTICULAR BRACKET}": "]",
    }
)
# Letters of other alphabets and the Latin letters they look like (Unicode TS 39).
_ALIKE = {
    **dict(zip("АВЕЅІЈКМНОРСТУХԚԜҮ", "ABESIJKMHOPCTYXQWY", strict=True)),
    **dict(zip("аеѕіјорсухԛԝүһӏ", "aesijopcyxqwyhl", strict=True)),
    **dict(zip("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "ABEZHIKMNOPTYX", strict=True)),
    **dict(zip("αικνορτυχγ", "aiknoptuxy", strict=True)),
    "ı": "i",
    "ɡ": "g",
    "ɑ": "a",
    "ℓ": "l",
}
_FIXED = {"broken": BREAK, "line": "\n", "back": "/"}
_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, slots=True)
class Clean:
    """A plain text and the stretch of the original behind each of its characters.

    `starts[i]` and `ends[i]` bound what became character `i`; `alike` holds the
    offsets of letters that only looked Latin.
    """

    text: str
    starts: list[int]
    ends: list[int]
    alike: frozenset[int]

    def extent(self, start: int, end: int) -> tuple[int, int]:
        """The stretch of the original behind `text[start:end]`, not empty."""
        return self.starts[start], self.ends[end - 1]


def clean(text: str) -> Clean:
    """Undo what layout, scanning and copying did to a label."""
    chars: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    for piece, start, end in _pieces(text):
        if len(piece) == end - start:
            starts.extend(range(start, end))
            ends.extend(range(start + 1, end + 1))
        else:
            starts.extend([start] * len(piece))
            ends.extend([end] * len(piece))
        chars.append(piece)
    plain = "".join(chars)
    alike = frozenset() if plain.isascii() else frozenset(_lookalikes(plain))
    if alike:
        plain = "".join(
            _ALIKE[char] if at in alike else char for at, char in enumerate(plain)
        )
    return Clean(plain, starts, ends, alike)


def _pieces(text: str) -> Iterator[tuple[str, int, int]]:
    done = 0
    for found in _ODD.finditer(text):
        start, end = found.span()
        if start > done:
            yield text[done:start], done, start
        yield _plain(found.lastgroup or "", found.group()), start, end
        done = end
    if done < len(text):
        yield text[done:], done, len(text)


def _plain(kind: str, found: str) -> str:
    match kind:
        case "entity":
            return _character(html.unescape(found))
        case "tag":
            return _tag(found)
        case "foreign":
            return _character(found)
        case _:
            return _FIXED.get(kind, "")


def _tag(tag: str) -> str:
    name = tag.strip("</>").split(maxsplit=1)[0].rstrip("/").lower()
    if name in _RAISED:
        return "" if tag.startswith("</") else "^"
    return "" if name in _INLINE else "\n"


def _character(char: str) -> str:
    if char in _KEPT:
        return char
    if not char.strip():
        return "\n" if char == "\n" else " "
    folded = unicodedata.normalize("NFKC", char).translate(_PUNCTUATION)
    return "".join(c for c in folded if c.isprintable())


def _lookalikes(plain: str) -> Iterator[int]:
    """Offsets of letters that stand for Latin ones: in words with Latin letters.

    A word with no Latin letter counts too where every letter of it looks Latin, most
    of the text is Latin and no word of another alphabet stands beside it.
    """
    latin_text = 2 * sum(map(str.isascii, plain)) > len(plain)
    words = list(_WORD.finditer(plain))
    foreign = [False, *map(_is_foreign, words), False]
    for number, found in enumerate(words, 1):
        alike = [at for at, char in enumerate(found.group()) if char in _ALIKE]
        if not alike or foreign[number]:
            continue
        whole = len(alike) == len(found.group())
        beside = foreign[number - 1] or foreign[number + 1]
        if not whole or (latin_text and not beside):
            yield from (found.start() + at for at in alike)


def _is_foreign(found: re.Match[str]) -> bool:
    """Whether a word has a letter that neither is Latin nor looks it."""
    word = found.group()
    return not word.isascii() and not all(c in _ALIKE or _is_latin(c) for c in word)


def _is_latin(char: str) -> bool:
    return char.isascii() or "LATIN" in unicodedata.name(char, "")
