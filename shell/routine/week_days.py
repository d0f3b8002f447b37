"""The days of a week side by side: what is used on which.

Each product has a row, with a strand on each of its days: a bare one where hair is
washed, a coated one for what is put on.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.routines.routine import WEEK, Schedule
from abluent.shell.ground.strand import HIGH, LEFT, WIDE, Half, Strand
from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.text import LEADING, lines_of
from abluent.shell.told.long_names import shortened

_LETTERS = "MTWTFSS"
_NAMES = 0.36
"""How much of the room the names of the products take."""
_WASHED = Strand(Half.GONE, Half.GONE)
_MOST = 6
"""So many products have a row of their own."""
_ON_A_LINE = 17
"""Letters of a name that may need no second line."""
_NUMBERED, _WEEK = "{}. {}", "Week"
"""A wash of several weeks after the number of its week, and what stands above that."""
_PAD = 8.0
KEY, KEY_OF_WEEKS = "Bare strand: a wash. Coated: put on.", "Bare strand: a wash."


class Week(NamedTuple):
    """What is used on which days of a week, product by product.

    Args:
        washes: the products washed with, each with its days, from 0.
        others: the other products.
        weeks: how many weeks it is; of several the washes alone are told.
    """

    washes: Sequence[tuple[str, frozenset[int]]]
    others: Sequence[tuple[str, frozenset[int]]]
    weeks: int = 1

    @property
    def rows(self) -> list[tuple[str, frozenset[int], bool]]:
        """Every product with its days, and whether hair is washed with it."""
        found = [(name, days, True) for name, days in self.washes]
        return [*found, *((name, days, False) for name, days in self.others)]


def week_of(schedule: Schedule) -> Week | None:
    """Return the days of a schedule that comes round in a week or some; else None."""
    if not schedule.turns or schedule.days % WEEK or schedule.start is not None:
        return None
    if schedule.days > WEEK:
        return _weeks_of(schedule)
    washed = {use.product for use in schedule.washes}
    days: dict[str, set[int]] = {}
    for use in schedule.uses:
        days.setdefault(use.product, set()).add(use.day - 1)
    if not 0 < len(days) <= _MOST:
        return None
    told = [(name, frozenset(on)) for name, on in days.items()]
    return Week(
        [each for each in told if each[0] in washed],
        [each for each in told if each[0] not in washed],
    )


def _weeks_of(schedule: Schedule) -> Week | None:
    """Some weeks, one below the other: which wash is on which day."""
    days: dict[tuple[int, str], set[int]] = {}
    for use in sorted(schedule.washes, key=lambda use: use.day):
        week, day = divmod(use.day - 1, WEEK)
        days.setdefault((week, use.product), set()).add(day)
    rows = [
        (_NUMBERED.format(week + 1, shortened(name)), frozenset(on))
        for (week, name), on in days.items()
    ]
    lines = sum(1 + (len(name) > _ON_A_LINE) for name, _ in rows)
    if not 0 < lines <= _MOST:
        return None
    return Week(rows, [], schedule.days // WEEK)


class Columns(NamedTuple):
    """Where the days stand: the left edge of the first, and how wide each is."""

    left: float
    wide: float


def columns_of(frame: Frame) -> Columns:
    """Where the days of a week stand on a frame."""
    left = frame.left + frame.room * _NAMES
    return Columns(left, frame.room * (1 - _NAMES) / WEEK)


def week_high(frame: Frame, week: Week, size: float) -> float:
    """How high the rows of a week are, with their head."""
    lines = sum(len(_name(frame, name, size)) for name, _, _ in week.rows)
    return size * LEADING * (lines + 1) + _PAD * 2 * (len(week.rows) + 1)


def draw_week(frame: Frame, week: Week, top: float, size: float) -> float:
    """Set the rows of a week; return where they end."""
    columns = columns_of(frame)
    step = size * LEADING
    if week.weeks > 1:
        frame.sheet.text(frame.left, top + size, _WEEK, frame.style(size, bold=True))
    for n, letter in enumerate(_LETTERS):
        style = frame.style(size, bold=True)
        frame.sheet.text(
            columns.left + n * columns.wide + _PAD, top + size, letter, style
        )
    top += step + _PAD
    mark = columns.wide - _PAD
    for name, days, washed in week.rows:
        frame.rule(top)
        lines = _name(frame, name, size)
        high = len(lines) * step + 2 * _PAD
        for n, line in enumerate(lines):
            y = top + _PAD + n * step + size
            frame.sheet.text(frame.left, y, line, frame.style(size))
        for day in sorted(days):
            x = columns.left + day * columns.wide
            place = (x + _PAD / 2, top + (high - mark * HIGH / WIDE) / 2)
            frame.sheet.strand(place, mark, _WASHED if washed else LEFT, frame.look)
        top += high
    frame.rule(top)
    return top + _PAD


def _name(frame: Frame, name: str, size: float) -> list[str]:
    return lines_of(shortened(name), frame.room * _NAMES - size * 0.3, size)
