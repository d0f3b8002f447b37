"""How a film grows and shrinks day by day: the most there can be, and the least."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

if TYPE_CHECKING:
    from abluent.engine.routines.amounts import Amounts
    from abluent.engine.routines.routine import Schedule

WIDE, HIGH = 320, 120
TURNS = 4
"""So many turns of what is done over and over are drawn."""
_LEFT, _RIGHT, _TOP, _END = 34, 312, 12, 96

Point = tuple[float, float, float]
"""A day, and the least and the most there is at its end."""


def points_of(amounts: Amounts, schedule: Schedule) -> list[Point]:
    """Return how much there is at the end of each day, from hair without it."""
    ends: dict[int, tuple[float, float]] = {}
    for use, (least, most) in zip(schedule.uses, amounts.after, strict=True):
        ends[use.day] = (float(least), float(most))
    found: list[Point] = [(0, 0, 0)]
    for day in range(1, schedule.days + 1):
        low, high = ends.get(day, found[-1][1:])
        found.append((day, low, high))
    if schedule.turns:
        for turn in range(2, TURNS + 1):
            low, high = map(float, amounts.after_turns(turn))
            found.append((turn * schedule.days, low, high))
    return found


def growth_svg(amounts: Amounts, schedule: Schedule, said: str) -> str:
    """Return the growth of one film as SVG; `said` tells it in words."""
    points = points_of(amounts, schedule)
    most, days = max(1.0, *(high for *_, high in points)), points[-1][0]
    worst = _line([(day, high) for day, _, high in points], most, days)
    best = _line([(day, low) for day, low, _ in points], most, days)
    between = f"{worst} {' '.join(reversed(best.split()))}"
    return (
        f"<svg class='growth' viewBox='0 0 {WIDE} {HIGH}' role='img' "
        f"aria-label={quoteattr(said)}>"
        f"<path class='axis' d='M{_LEFT} {_END}H{_RIGHT}'/>"
        f"<polygon class='between' points='{between}'/>"
        f"<polyline class='worst' points='{worst}'/>"
        f"<polyline class='best' points='{best}'/>"
        f"<text x='{_LEFT - 6}' y='{_TOP + 6}' text-anchor='end'>{most:.3g}</text>"
        f"<text x='{_LEFT - 6}' y='{_END}' text-anchor='end'>0</text>"
        f"{_weeks(days)}</svg>"
    )


def _x(day: float, days: float) -> float:
    return _LEFT + (_RIGHT - _LEFT) * day / max(days, 1)


def _line(counts: Sequence[tuple[float, float]], most: float, days: float) -> str:
    high = _END - _TOP
    return " ".join(
        f"{_x(day, days):.1f},{_END - high * count / most:.1f}" for day, count in counts
    )


def _weeks(days: float) -> str:
    """Name the ends of weeks, few enough to be read."""
    step = 7 * max(1, round(days / 7 / 6))
    return "".join(
        f"<text x='{_x(day, days):.1f}' y='{HIGH - 6}' text-anchor='middle'>"
        f"{'week ' if day == step else ''}{day // 7}</text>"
        for day in range(step, int(days) + 1, step)
    )
