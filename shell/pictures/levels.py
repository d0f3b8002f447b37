"""How much of each ingredient a label can mean, as bars on a scale of per cent.

The scale is even from nothing to all of the product, so that the most looks the most;
how little the least is stands beside its bar in figures.
"""

from __future__ import annotations

from abluent.engine.amounts.levels import Level, Levels
from abluent.engine.reading.readings import ReadLabel
from abluent.shell.pages.label import level_words
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import INK, SOFT, WASH, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of

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

_TALL = SHAPES["9:16"]
_TALL_TEXT, _TALL_SMALL = 40.0, 32.0
_TOP, _OTHER_SIDE, _END, _SIDE = _TALL.margins


def level_list(product: str, read: ReadLabel, levels: Levels, day: str) -> Sheet:
    """Return the levels of a label for a phone: each bar below its name.

    Args:
        product: the name of the product.
        read: its label, read.
        levels: what its items can hold.
        day: the day to print, as `2026-01-31`.
    """
    pairs = list(zip(read.label.items, levels, strict=True))
    title = f"How much the label of {product} can mean"
    told = "; ".join(f"{item.printed}: {level_words(level)}" for item, level in pairs)
    wide, high = _TALL.wide, _TALL.high
    sheet = Sheet(wide, high, title, told)
    room = wide - _SIDE - _OTHER_SIDE
    head = Style(_TALL_TEXT * 1.3, bold=True)
    top = sheet.paragraph(_SIDE, _TOP, room, title, head) + 14
    top = _ruler(sheet, top, room)
    note = f"By weight; any value on a bar fits the label. Abluent {day}."
    lines = lines_of(note, room, _TALL_SMALL)
    foot = high - _END - len(lines) * _TALL_SMALL * LEADING
    for number, (item, level) in enumerate(pairs):
        name = lines_of(f"{item.place}. {item.printed}", room, _TALL_TEXT)
        step = (len(name) * _TALL_TEXT + _TALL_SMALL) * LEADING + 34
        more = 0 if number == len(pairs) - 1 else _TALL_TEXT * LEADING
        if top + step + more > foot:
            left = f"… and {len(pairs) - number} more."
            sheet.text(_SIDE, top + _TALL_TEXT, left, Style(_TALL_TEXT))
            break
        for line in name:
            sheet.text(_SIDE, top + _TALL_TEXT, line, Style(_TALL_TEXT))
            top += _TALL_TEXT * LEADING
        words = Style(_TALL_SMALL, fill=SOFT)
        sheet.text(_SIDE, top + _TALL_SMALL, level_words(level), words)
        top += _TALL_SMALL * LEADING + 4
        ends = (_along(float(level.low), room), _along(float(level.high), room))
        sheet.line([(_SIDE, top + 8), (_SIDE + room, top + 8)])
        for tick in _TICKS:
            x = _SIDE + _along(tick, room)
            sheet.line([(x, top), (x, top + 16)])
        long = max(6.0, ends[1] - ends[0])
        sheet.box(_SIDE + ends[0], top, long, 16, fill=INK)
        top += 30
    sheet.paragraph(_SIDE, foot + 6, room, note, Style(_TALL_SMALL, fill=SOFT))
    return sheet


def _ruler(sheet: Sheet, top: float, room: float) -> float:
    """Set the scale once, above the bars; return where it ends."""
    for tick in _TICKS:
        anchor = {0: "start", 100: "end"}.get(tick, "middle")
        style = Style(_TALL_SMALL, fill=SOFT, anchor=anchor)
        sheet.text(_SIDE + _along(tick, room), top + _TALL_SMALL, f"{tick} %", style)
    return top + _TALL_SMALL * LEADING + 10


def _along(per_cent: float, room: float) -> float:
    """Return how far along an even scale a level stands."""
    return room * min(1.0, max(0.0, per_cent / 100))
