"""How wide text is, and how it is cut into lines, so that no picture clips a word.

Pictures carry the few letters they use of one open font, so that they look alike and
measure alike everywhere. A letter that the font lacks is as wide as its script is at
the most (`faces.toml`), and words written from right to left have lines of their own.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from abluent.grammar.common.text import one_line
from abluent.shell.ground.typeface import font_file
from abluent.shell.pictures.faces import Run, flows_left, joins, runs_of, script_of

LEADING = 1.28
"""The distance of two lines, in sizes of the font."""
_KEPT = 4096
"""So many texts are measured once."""
_LEAST_LAST = 0.3
"""How long a last line is at the least, in lengths of a line."""


@cache
def _font(bold: bool) -> Any:
    from fontTools.ttLib import TTFont

    return TTFont(font_file(bold), lazy=True)


@cache
def _letters(bold: bool) -> tuple[dict[int, str], Any, int]:
    font = _font(bold)
    return font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm


def carried(letter: str) -> bool:
    """Whether the typeface that pictures carry has a letter."""
    return ord(letter) in _letters(False)[0]


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a text is at a size, without kerning, which only narrows it."""
    return advance(one_line(text), size, bold=bold)


def advance(text: str, size: float, *, bold: bool = False) -> float:
    """Return how far some letters reach, spaces at their ends too."""
    return _reach(text, bold) * size


@lru_cache(_KEPT)
def _reach(text: str, bold: bool) -> float:
    """How far some letters reach at a size of one."""
    names, metrics, unit = _letters(bold)

    def wide(letter: str) -> float:
        if ord(letter) in names:
            return float(metrics[names[ord(letter)]][0])
        return 0.0 if joins(letter) else script_of(letter).wide * unit

    return sum(map(wide, text)) / unit


def runs(text: str) -> list[Run]:
    """Return a line cut where its typeface changes."""
    return list(runs_of(text, [carried(letter) for letter in text]))


def lines_of(
    text: str, room: float, size: float, *, bold: bool = False, most: int = 0
) -> list[str]:
    """Return a text cut into lines that fit; a word that does not fit is broken.

    Args:
        text: one paragraph.
        room: how wide a line may be.
        size: of the font.
        bold: whether it is set in bold.
        most: how many lines there may be; what is left out is marked by `…`.
    """
    lines: list[str] = []
    line = ""
    before = False
    for word in one_line(text).split(" "):
        longer = f"{line} {word}" if line else word
        turned, before = flows_left(word) is not before, flows_left(word)
        beside = line and turned and any(map(str.isalpha, line))
        if width(longer, size, bold=bold) <= room and not beside:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, room, size, bold)
        lines += whole
    lines.append(line)
    if most and len(lines) > most:
        kept = lines[:most]
        kept[-1] = _shortened(kept[-1], room, size, bold)
        return kept
    return lines


def even_lines(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Return a text in as few lines as fit, none of a lone short word at the end."""
    lines = lines_of(text, room, size, bold=bold)
    narrow = room
    while len(lines) > 1 and width(lines[-1], size, bold=bold) < _LEAST_LAST * room:
        narrow *= 0.96
        other = lines_of(text, narrow, size, bold=bold)
        if len(other) > len(lines) or narrow < room / 2:
            break
        lines = other
    return lines


def _broken(word: str, room: float, size: float, bold: bool) -> list[str]:
    parts = [""]
    for letter in word:
        if parts[-1] and width(parts[-1] + letter, size, bold=bold) > room:
            parts.append("")
        parts[-1] += letter
    return parts


def _shortened(line: str, room: float, size: float, bold: bool) -> str:
    while line and width(f"{line}…", size, bold=bold) > room:
        line = line[:-1]
    return f"{line.rstrip(' ,;.')}…"
