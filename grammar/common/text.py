"""Text made safe and fit to print: on a terminal, or in a Markdown page."""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Iterable

NARROWEST = 24
WIDEST = 100

_HUMP = re.compile(r"(?<=[a-z0-9])(?=[A-Z])")

# Characters that move the cursor, hide, or turn text around.
_UNSEEN_CATEGORIES = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
# Marks with a meaning anywhere in a line; those that have one only where a line
# begins (a list, a quotation); and those that would make a link of bare text.
_MARKDOWN = re.compile(
    r"([\\`*_\[\]<>#|~&$@])|(^[-+=]|(?<=^\d)[.)]|(?<=^\d\d)[.)])|((?<=www)\.|:(?=//))",
    re.IGNORECASE,
)


def visible(text: str, keep: str = "") -> str:
    """Return text with every unseen character written out (`\\x1b`).

    Labels come from anywhere; none may move a cursor or turn a line around.
    `keep` lists characters to leave alone, such as a line end.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        c
        if c in keep or unicodedata.category(c) not in _UNSEEN_CATEGORIES
        else c.encode("unicode_escape", "backslashreplace").decode("ascii")
        for c in text
    )


def unmoving(text: str, astral: str = "") -> str:
    """Return JSON or Turtle with every unseen character written as `\\u001b`.

    It says the same to whoever reads it, and nothing moves a cursor. `astral` is how
    Turtle writes what is beyond four digits (`\\U{:08x}`); JSON has pairs instead.
    """
    if text.isascii() and text.replace("\n", "").isprintable():
        return text

    def plain(c: str) -> str:
        if c in "\n\t" or unicodedata.category(c) not in _UNSEEN_CATEGORIES:
            return c
        if ord(c) > 0xFFFF and astral:
            return astral.format(ord(c))
        pairs = c.encode("utf-16-be", "surrogatepass")
        units = (pairs[at : at + 2].hex() for at in range(0, len(pairs), 2))
        return "".join(f"\\u{unit}" for unit in units)

    return "".join(map(plain, text))


def one_line(text: str) -> str:
    """Return text on one line: runs of spaces and line ends become one space."""
    return visible(" ".join(text.split()))


def wrapped(text: str, width: int, first: str = "", rest: str | None = None) -> str:
    """Return one paragraph wrapped to `width` columns, its lines led by a margin.

    `first` leads the first line and `rest` the others; without it they are led by
    as many spaces as `first` is long. Names such as `PEG-12` are not broken.
    """
    margin = " " * len(first) if rest is None else rest
    return textwrap.fill(
        one_line(text),
        max(NARROWEST, min(width, WIDEST)),
        initial_indent=first,
        subsequent_indent=margin,
        break_on_hyphens=False,
        break_long_words=True,
    )


def escaped(text: str) -> str:
    """Return text as one line of Markdown that shows exactly that text.

    Every mark that could begin a heading, list, link, picture, table cell, code or
    HTML is written with a backslash before it.
    """
    return _MARKDOWN.sub(r"\\\g<0>", one_line(text))


def code(text: str) -> str:
    """Return text as Markdown code in a line, whatever back quotes it holds."""
    plain = one_line(text)
    longest = max((len(run) for run in re.findall("`+", plain)), default=0)
    fence = "`" * (longest + 1)
    pad = " " if plain[:1] in ("`", "") or plain[-1:] == "`" else ""
    return f"{fence}{pad}{plain}{pad}{fence}"


def in_words(symbol: str) -> str:
    """Return a symbol such as `lawOrStandard` as words."""
    return _HUMP.sub(" ", symbol).lower()


def as_sentence(text: str) -> str:
    """Return a text with a capital first letter and a full stop."""
    shown = text[:1].upper() + text[1:]
    return shown if shown.endswith((".", "?", "!")) else f"{shown}."


def in_a_row(texts: Iterable[str], joined: str = "and") -> str:
    """Return one text or more as a list in words: `a, b and c`."""
    *first, last = texts
    return f"{', '.join(first)} {joined} {last}" if first else last


def not_used(said: Iterable[str]) -> str:
    """Tell what was said besides a question and bears on nothing that it asks."""
    return f"Not used: {', '.join(f'“{one_line(each)}”' for each in said)}."
