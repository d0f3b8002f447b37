"""How much of each ingredient a label can mean, as bars on a scale of per cent.

The scale gives every tenfold step the same room, as what matters on a label lies
between a hundredth of a per cent and a hundred; all that is less stands at its edge.
"""

from __future__ import annotations

import math

from abluent.engine.amounts.levels import Level, Levels
from abluent.engine.reading.readings import ReadLabel
from abluent.shell.pages.label import level_words
from abluent.shell.pictures.sheet import BRASS, INK, SOFT, WASH, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of

_TEXT, _SMALL, _STEP, _MARGIN = 20.0, 16.0, 40.0, 40.0
_WIDE, _BARS, _WORDS = 1500.0, 430.0, 300.0
_LEAST, _TENFOLDS = 0.01, 4
_TICKS = (0.01, 0.1, 1.0, 10.0, 100.0)


def level_chart(product: str, read: ReadLabel, levels: Levels, day: str) -> Sheet:
    """Return the level of every item of a label.

    Args:
        product: the name of the product.
        read: its label, read.
        levels: what its items can hold.
        day: the day to print, as `2026-01-31`.
    """
    pairs = list(zip(read.label.items, levels, strict=True))
    title = f"How much the label of {product} can mean, in per cent by weight"
    heading = lines_of(title, _WIDE - 2 * _MARGIN, 26, bold=True)
    top = _MARGIN + len(heading) * 26 * LEADING + 50
    names = [lines_of(item.printed, _BARS - _MARGIN - 40, _TEXT) for item, _ in pairs]
    steps = [max(_STEP, len(name) * _TEXT * LEADING + 8) for name in names]
    high = top + sum(steps) + 5 * _SMALL * LEADING + _MARGIN
    told = "; ".join(f"{item.printed}: {level_words(level)}" for item, level in pairs)
    sheet = Sheet(_WIDE, high, title, told)
    y = _MARGIN
    for line in heading:
        sheet.text(_MARGIN, y + 26, line, Style(26, bold=True))
        y += 26 * LEADING
    _scale(sheet, top, top + sum(steps))
    for (_, level), name, step in zip(pairs, names, steps, strict=True):
        _item(sheet, level, name, top, step)
        top += step
    note = (
        "A bar reaches from the least to the most that the order of the list, printed "
        "figures and the law leave room for; a dashed end is approached and never "
        "reached, and the left edge stands for all that is less. It is no estimate: "
        "any value on the bar fits the label. "
        f"Abluent, {day}."
    )
    room = _WIDE - 2 * _MARGIN
    sheet.paragraph(_MARGIN, top + _SMALL, room, note, Style(_SMALL, fill=SOFT))
    return sheet


def _scale(sheet: Sheet, top: float, end: float) -> None:
    for tick in _TICKS:
        one = tick == 1.0
        x = _at(tick)
        how = {"stroke": BRASS, "stroke_width": 4, "stroke_dasharray": "10 6"}
        sheet.line([(x, top - 8), (x, end)], **(how if one else {}))
        text = "the 1 % line" if one else f"{tick:g} %"
        style = Style(_SMALL, bold=one, fill=INK if one else SOFT, anchor="middle")
        sheet.text(x, top - 16, text, style)


def _item(sheet: Sheet, level: Level, name: list[str], top: float, step: float) -> None:
    number = Style(_TEXT, fill=SOFT, anchor="end")
    sheet.text(_MARGIN + 26, top + _TEXT + 4, f"{level.place}.", number)
    for line, text in enumerate(name):
        y = top + _TEXT + 4 + line * _TEXT * LEADING
        sheet.text(_MARGIN + 38, y, text, Style(_TEXT))
    left, right = _at(float(level.low)), _at(float(level.high))
    middle, thick = top + _STEP / 2, 16.0
    wide = max(4.0, right - left)
    sheet.box(left, middle - thick / 2, wide, thick, fill=WASH)
    edges = [(left, left + wide, middle + part * thick / 2) for part in (-1, 1)]
    for start, end, y in edges:
        sheet.line([(start, y), (end, y)], stroke=INK)
    ends = ((left, level.low_open), (left + wide, level.high_open))
    for x, is_open in ends:
        dashes = {"stroke_dasharray": "4 3"} if is_open else {}
        sheet.line(
            [(x, middle - thick / 2 - 3), (x, middle + thick / 2 + 3)],
            stroke=INK,
            stroke_width=3,
            **dashes,
        )
    words = lines_of(level_words(level), _WORDS - 10, _SMALL, most=2)
    y = middle + _SMALL * 0.35 - (len(words) - 1) * _SMALL * 0.6
    for line, text in enumerate(words):
        x = _WIDE - _MARGIN - _WORDS + 20
        sheet.text(x, y + line * _SMALL * 1.2, text, Style(_SMALL))


def _at(per_cent: float) -> float:
    """Return where a level stands from left to right."""
    room = _WIDE - _MARGIN - _WORDS - _BARS
    part = math.log10(max(per_cent, _LEAST) / _LEAST) / _TENFOLDS
    return _BARS + room * min(1.0, part)
