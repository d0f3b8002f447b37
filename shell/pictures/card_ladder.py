"""A list of ingredients on a card: a rung for each name, falling as the order falls.

A rung is no amount. It is long where its place on the list tells that it is more than
what follows, paler where that may be no longer so, and all are alike, in a dashed
frame, where any order is allowed. What is asked about is filled; names stand beside
their rungs, each on a line that leads to it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any, NamedTuple

from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.sheet import blend
from abluent.shell.pictures.text import LEADING, lines_of
from abluent.shell.told.group import Ladder, Rung, Zone

_LEAST_STEP, _MOST_STEP = 12.0, 1.5
"""How far rungs are apart: at the least in pixels, at the most in lines."""
_BARS, _WIDEST = 0.38, 8.0
"""How wide rungs are at the most: in parts of the room, and in sizes of the text."""
_SHORTEST, _ALIKE = 0.46, 0.34
"""How long the last rung in order is, and one in any order, in parts of the first."""
_LEADER, _APART = 1.1, 1.2
"""How long the line to a name is, and how far two lists are apart, in sizes."""
_PLAIN, _PALE = 0.34, 0.14
"""How much ink is in a rung that nobody asked about; in one that may be little."""
_ASKED = 2
"""So many names that were asked about stand there in any case."""
_DASHES = {"stroke_dasharray": "10 8"}


class _Label(NamedTuple):
    """Words beside a rung; `rung` is its number, and `leads` if a line goes there."""

    rung: int
    lines: Sequence[str]
    bold: bool
    leads: bool


class _Column(NamedTuple):
    """Where one list stands: its left edge, how wide it is, and its ends."""

    left: float
    room: float
    top: float
    end: float


def draw_ladders(
    frame: Frame, ladders: Sequence[Ladder], top: float, foot: float
) -> tuple[float, int]:
    """Set lists of ingredients side by side, as high as the room allows.

    Returns where they end, and how many names that were asked about had no room.
    """
    gap = frame.shape.small * _APART
    wide = (frame.room + gap) / len(ladders) - gap
    small = frame.shape.small
    heads = [
        lines_of(each.title, wide, small, bold=True) if each.title else []
        for each in ladders
    ]
    for n, lines in enumerate(heads):
        for number, line in enumerate(lines):
            y = top + number * small * LEADING + small
            x = frame.left + n * (wide + gap)
            frame.sheet.text(x, y, line, frame.style(small, bold=True))
    top += max(map(len, heads)) * small * LEADING + small * 0.3
    ends, left_out = [top], 0
    for n, each in enumerate(ladders):
        column = _Column(frame.left + n * (wide + gap), wide, top, foot)
        end, left = _ladder(frame, each, column)
        ends.append(end)
        left_out += left
    return max(ends) + small * 0.4, left_out


def _ladder(frame: Frame, ladder: Ladder, column: _Column) -> tuple[float, int]:
    """Draw one list; return where it ends, and how many names had no room."""
    rungs, line = ladder.rungs, frame.shape.small * LEADING
    high = column.end - column.top
    bars = min(column.room * _BARS, frame.shape.small * _WIDEST)
    free = column.room - bars - frame.shape.small * _LEADER
    labels, left_out = _labels(ladder, free, high, frame.shape.small)
    step = min(max(_LEAST_STEP, high / len(rungs)), line * _MOST_STEP)
    if len(labels) >= len(rungs):
        step = min(step, max(line * 1.06, _high(labels, line) / len(rungs)))
    end = column.top + step * len(rungs)
    tops = _spread(labels, (column.top, column.end), step, line)
    _zone(frame, ladder, column, (step, bars))
    _rungs(frame, rungs, column, (step, bars))
    x = column.left + bars + frame.shape.small * _LEADER
    for label, y in zip(labels, tops, strict=True):
        middle = column.top + (label.rung + 0.5) * step
        for n, text in enumerate(label.lines):
            base = y + n * line + frame.shape.small
            style = frame.style(frame.shape.small, bold=label.bold)
            frame.sheet.text(x, base, text, style)
        if label.leads:
            start = column.left + bars * _length(rungs, label.rung)
            points = [
                (start + 4, middle),
                (column.left + bars + 4, middle),
                (x - 8, y + frame.shape.small * 0.68),
            ]
            frame.sheet.line(points, stroke=frame.look.ink, stroke_width=2)
    below = (y + len(b.lines) * line for b, y in zip(labels, tops, strict=True))
    last = max(below, default=end)
    over = end > column.end + 1 or last > column.end + 1
    return max(end, last), left_out + over


def _labels(
    ladder: Ladder, room: float, high: float, small: float
) -> tuple[list[_Label], int]:
    """The words beside the rungs: all names, else as many as say most."""
    line = small * LEADING
    every = range(len(ladder.rungs))
    asked = [n for n in every if ladder.rungs[n].asked]
    first = [*asked, *(n for n in every if ladder.rungs[n].named and n not in asked)]
    least = min(len(asked), _ASKED)
    for kept in (every, *(first[:n] for n in range(len(first), least - 1, -1))):
        found = list(_told(ladder, {*kept}, room, small))
        if _high(found, line) <= high:
            return found, 0
    return found, 1


def _told(
    ladder: Ladder, kept: Collection[int], room: float, small: float
) -> Iterator[_Label]:
    zone: Zone | None = None
    words = {Zone.EITHER: ladder.either, Zone.ANY_ORDER: ladder.zone}
    for n, rung in enumerate(ladder.rungs):
        text = words.get(rung.zone, "") if rung.zone is not zone else ""
        zone = rung.zone
        if text:
            yield _Label(n, lines_of(text, room, small), False, False)
        if n in kept:
            said = f": {rung.said}" if rung.said else ""
            told = lines_of(f"{n + 1} {rung.name}{said}", room, small, bold=rung.asked)
            yield _Label(n, told, rung.asked, True)


def _high(labels: Sequence[_Label], line: float) -> float:
    return sum(len(each.lines) for each in labels) * line


def _spread(
    labels: Sequence[_Label], ends: tuple[float, float], step: float, line: float
) -> list[float]:
    """Where each label begins: beside its rung, and none on another."""
    top, end = ends
    found: list[float] = []
    for each in labels:
        wished = top + (each.rung + 0.5) * step - line * 0.5
        found.append(max(wished, top))
        if len(found) > 1:
            above = found[-2] + len(labels[len(found) - 2].lines) * line
            found[-1] = max(found[-1], above)
    below = end
    for n in range(len(found) - 1, -1, -1):
        found[n] = min(found[n], below - len(labels[n].lines) * line)
        below = found[n]
    return found


def _length(rungs: Sequence[Rung], n: int) -> float:
    """How long a rung is, in lengths of the first."""
    if rungs[n].zone is Zone.ANY_ORDER:
        return _ALIKE
    falling = sum(each.zone is not Zone.ANY_ORDER for each in rungs)
    return 1.0 - (1.0 - _SHORTEST) * n / max(1, falling - 1)


def _rungs(
    frame: Frame, rungs: Sequence[Rung], column: _Column, how: tuple[float, float]
) -> None:
    step, bars = how
    high = min(step * 0.7, frame.shape.small * 0.62)
    look = frame.look
    for n, rung in enumerate(rungs):
        y = column.top + (n + 0.5) * step - high / 2
        sure = rung.zone is Zone.BY_AMOUNT
        fill = blend(look.paper, look.ink, _PLAIN if sure else _PALE)
        edge: dict[str, Any] = {"stroke": look.ink, "stroke_width": 2.0}
        if rung.asked:
            edge, fill = {"stroke": look.ink, "stroke_width": 3}, look.film
        wide = bars * _length(rungs, n)
        frame.sheet.box(column.left + 5, y, wide - 5, high, fill=fill, **edge)


def _zone(
    frame: Frame, ladder: Ladder, column: _Column, how: tuple[float, float]
) -> None:
    """Draw a dashed frame around what stands in any order."""
    step, bars = how
    within = [n for n, r in enumerate(ladder.rungs) if r.zone is Zone.ANY_ORDER]
    if not within:
        return
    top = column.top + within[0] * step
    high = step * len(within)
    edge: dict[str, Any] = {"stroke": frame.look.ink, "stroke_width": 2, **_DASHES}
    frame.sheet.box(column.left - 8, top, bars * (_ALIKE + 0.08), high, **edge)
