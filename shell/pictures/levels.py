"""How much of each ingredient a label can mean, as bars on a scale of per cent.

The scale is even from nothing to all of the product, so that the most looks the most;
how little the least is stands beside its bar in figures.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.amounts.levels import Level, Levels
from abluent.engine.reading.readings import ReadLabel
from abluent.grammar.label.tree import Item
from abluent.shell.pages.label import level_words
from abluent.shell.pictures.framed import Frame, framed
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import (
    INK,
    PLAIN,
    SOFT,
    WASH,
    Look,
    Sheet,
    Style,
    blend,
)
from abluent.shell.pictures.text import LEADING, even_lines, lines_of
from abluent.shell.told.long_names import shortened

_TEXT, _SMALL, _STEP, _MARGIN = 20.0, 16.0, 40.0, 40.0
_WIDE, _BARS, _WORDS = 1500.0, 430.0, 300.0
_TICKS = (0, 20, 40, 60, 80, 100)


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
        "reached. It is no estimate: "
        "any value on the bar fits the label. "
        f"Abluent, {day}."
    )
    room = _WIDE - 2 * _MARGIN
    sheet.paragraph(_MARGIN, top + _SMALL, room, note, Style(_SMALL, fill=SOFT))
    return sheet


def _scale(sheet: Sheet, top: float, end: float) -> None:
    for tick in _TICKS:
        x = _at(tick)
        sheet.line([(x, top - 8), (x, end)])
        sheet.text(x, top - 16, f"{tick} %", Style(_SMALL, fill=SOFT, anchor="middle"))


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
    return _BARS + _along(per_cent, _WIDE - _MARGIN - _WORDS - _BARS)


# -- for a phone held upright ------------------------------------------------------

_LIST_SIZES = (1.25, 1.15, 1.05, 1.0, 0.95, 0.9)
_TALL_TEXT, _LEAST_SMALL = 42.0, 36.0
_ALL_LINES = 5
_PALE = 0.5
"""How much of the colour of a film a bar has: what may be is no amount."""


def level_list(  # noqa: PLR0913 - whose levels, and how they are drawn
    product: str,
    read: ReadLabel,
    levels: Levels,
    day: str,
    look: Look = PLAIN,
    *,
    market: str = "",
) -> Sheet:
    """Return the levels of a label for a phone: each bar below its name.

    Args:
        product: the name of the product.
        read: its label, read.
        levels: what its items can hold.
        day: the day to print, as `2026-01-31`.
        look: its colours and whose it is.
        market: whose limits of law were counted with, as the label's shelf says it.
    """
    law = f" ({market})" if market else ""
    note = f"From the order of the list, printed figures and the limits of law{law}."
    pairs = list(zip(read.label.items, levels, strict=True))
    for larger in _LIST_SIZES:
        sheet, left = _level_list(product, pairs, (note, day), look, larger)
        if not left:
            break
    return sheet


def _level_list(
    product: str,
    pairs: Sequence[tuple[Item, Level]],
    told_of: tuple[str, str],
    look: Look,
    larger: float,
) -> tuple[Sheet, int]:
    note, day = told_of
    title = f"The label of {product} tells limits, not amounts."
    told = "; ".join(f"{item.printed}: {level_words(level)}" for item, level in pairs)
    frame = framed(SHAPES["9:16"], look, title, told)
    sheet, room, x = frame.sheet, frame.room, frame.left
    text = _TALL_TEXT * larger
    small = max(_LEAST_SMALL, text * 0.76)
    short = shortened(product)
    top, _, end, _ = frame.shape.margins
    head = frame.style(text * 1.4, bold=True)
    asked = title.replace(product, short)
    top = sheet.paragraph(x, top, room, asked, head) + text * 0.1
    under = "Any amount on a bar, in per cent by weight, fits the label."
    top = sheet.paragraph(x, top, room, under, frame.style(small)) + text * 0.3
    top = _ruler(frame, top, small)
    by = " · ".join(filter(None, [look.handle, f"Abluent {day}"]))
    lines = even_lines(note, room, _LEAST_SMALL)
    if short != product:
        lines += lines_of(f"In full: {product}", room, _LEAST_SMALL, most=_ALL_LINES)
    lines += lines_of(by, room, _LEAST_SMALL)
    foot = frame.shape.high - end - len(lines) * _LEAST_SMALL * LEADING
    bottom = foot - _LEAST_SMALL
    for number, (item, level) in enumerate(pairs):
        name = lines_of(f"{item.place}. {shortened(item.printed)}", room, text)
        step = (len(name) * text + small) * LEADING + text * 0.9
        more = 0 if number == len(pairs) - 1 else text * LEADING
        if top + step + more > bottom:
            left = len(pairs) - number
            most = max(float(each.high) for _, each in pairs[number:])
            rest = f"and {left} more, none above {most:g} %"
            sheet.text(x, top + text, rest, frame.style(text))
            break
        top = _level_bar(frame, level, name, top, (text, small))
    else:
        left = 0
    frame.rule(foot - _LEAST_SMALL * 0.5)
    for n, line in enumerate(lines):
        y = foot + n * _LEAST_SMALL * LEADING + _LEAST_SMALL
        sheet.text(x, y, line, frame.style(_LEAST_SMALL))
    return sheet, left


def _level_bar(
    frame: Frame,
    level: Level,
    name: Sequence[str],
    top: float,
    sizes: tuple[float, float],
) -> float:
    """Set one ingredient with its bar; return where that ends."""
    text, small = sizes
    sheet, x, room = frame.sheet, frame.left, frame.room
    for line in name:
        sheet.text(x, top + text, line, frame.style(text, bold=True))
        top += text * LEADING
    sheet.text(x, top + small, level_words(level), frame.style(small))
    top += small * LEADING + text * 0.1
    high = text * 0.42
    ends = (_along(float(level.low), room), _along(float(level.high), room))
    edge = {"stroke": frame.look.ink, "stroke_width": 1.5}
    sheet.box(x, top, room, high, **edge)
    for tick in _TICKS[1:-1]:
        at = x + _along(tick, room)
        sheet.line([(at, top), (at, top + high)], stroke=frame.look.ink, stroke_width=1)
    long = max(6.0, ends[1] - ends[0])
    pale = blend(frame.look.paper, frame.look.film, _PALE)
    sheet.box(x + ends[0], top, long, high, fill=pale, **edge)
    return top + text * 0.8


def _ruler(frame: Frame, top: float, small: float) -> float:
    """Set the scale once, above the bars; return where it ends."""
    for tick in _TICKS:
        anchor = {0: "start", 100: "end"}.get(tick, "middle")
        style = Style(small, fill=frame.look.ink, anchor=anchor)
        x = frame.left + _along(tick, frame.room)
        frame.sheet.text(x, top + small, f"{tick} %", style)
    return top + small * LEADING + small * 0.3


def _along(per_cent: float, room: float) -> float:
    """Return how far along an even scale a level stands."""
    return room * min(1.0, max(0.0, per_cent / 100))
