"""From a routine to the uses it comes to, day by day.

A routine without an end comes round again: its period is the least common multiple
of the periods of its lines. Days are numbered from 1. Day 1 is the first date if
there is one and a Monday if not; `every second Sunday` starts with the first Sunday.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from math import gcd, lcm

from abluent.grammar.common.errors import NOWHERE, GrammarError, GrammarProblems, Span
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import quoted

MOST_DAYS = 3_660
"""The longest calendar or cycle that is worked through: about ten years."""

WEEK = 7

_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Use:
    """One use of one product.

    Args:
        day: the day, from 1.
        place: which use it is in the whole schedule, from 0.
        product: its name; empty for a wash not chosen yet.
        wash: whether hair is washed with it.
    """

    day: int
    place: int
    product: str
    wash: bool


@dataclass(frozen=True)
class Schedule:
    """The uses of a routine, in order.

    Args:
        days: how many days it runs, or one turn of it.
        turns: whether it begins again after that.
        uses: every use.
        start: the date of day 1, if there is one.
    """

    days: int
    turns: bool
    uses: tuple[Use, ...]
    start: date | None = None

    @cached_property
    def washes(self) -> tuple[Use, ...]:
        """The uses in which hair is washed."""
        return tuple(use for use in self.uses if use.wash)

    @cached_property
    def products(self) -> tuple[str, ...]:
        """Every product used, each once."""
        named = dict.fromkeys(use.product for use in self.uses)
        return tuple(name for name in named if name)

    def day_name(self, day: int) -> str:
        """A day in words: its date, or its number and weekday."""
        if self.start:
            on = self.start + timedelta(day - 1)
            return f"{_NAMES[on.weekday()]} {on}"
        return f"day {day} ({_NAMES[(day - 1) % 7]})"

    def use_name(self, use: Use) -> str:
        """When a use is, in words; no two uses are called the same."""
        same = [each for each in self.uses if each.day == use.day]
        number = f", use {same.index(use) + 1}" if len(same) > 1 else ""
        return f"{self.day_name(use.day)}{number}"

    def with_washes(self, chosen: Mapping[int, str]) -> Schedule:
        """The schedule with other products at some washes, by their place."""
        uses = tuple(
            Use(u.day, u.place, chosen.get(u.place, u.product), u.wash)
            for u in self.uses
        )
        return Schedule(self.days, self.turns, uses, self.start)


def unrolled(days: Schedule) -> Schedule:
    """A schedule that comes round within a week, so often that a week is full."""
    return repeated(days, -(-WEEK // days.days) if days.turns else 1)


def repeated(days: Schedule, times: int) -> Schedule:
    """A schedule so many times over, as one turn."""
    count = len(days.uses)
    uses = tuple(
        Use(use.day + turn * days.days, use.place + turn * count, use.product, use.wash)
        for turn in range(times)
        for use in days.uses
    )
    return Schedule(days.days * times, days.turns, uses, days.start)


def schedule(routine: ast.Routine, washes: Collection[str]) -> Schedule:
    """The uses of a routine.

    Args:
        routine: the routine, its products named as on the shelf.
        washes: the products that are washed with, whatever the verb of their line.

    Raises:
        GrammarError: the routine is empty, contradicts itself, or comes round again
            only after more days than are worked through.
    """
    if not routine.uses:
        raise _wrong(
            routine,
            "the routine uses nothing",
            hint=f"add a line such as: {wash_line(washes)}",
        )
    lines = [_Line(line, washes) for line in routine.uses]
    problems = [*_misplaced(routine, lines, washes)]
    if problems:
        raise GrammarProblems(problems)
    days = routine.days or _cycle(routine, lines)
    first = routine.start.weekday() if routine.start else 0
    uses = [*_uses(lines, days, first, routine.start)]
    if not uses:
        raise _wrong(
            routine,
            f"nothing is used on any of the {days} days",
            hint="look at the dates, and at what is `except on`",
        )
    return Schedule(days, not routine.days, tuple(uses), routine.start)


def wash_line(washes: Collection[str]) -> str:
    """A line that washes hair with one of some washes, or with water alone."""
    for wash in washes:
        return f"wash with {quoted(wash)} on Sunday"
    return "rinse with water on Sunday"


class _Line:
    """A line of a routine with what its product is."""

    def __init__(self, line: ast.UseLine, washes: Container[str]) -> None:
        self.line = line
        self.when = line.when
        self.wash = line.wash or line.product in washes

    @property
    def period(self) -> int:
        """After how many days its days come round again."""
        match self.when:
            case ast.Daily(every):
                return every
            case ast.Weekly(_, every):
                return 7 * every
            case ast.Times():
                return 7
        return 1

    def falls_on(self, day: int, first: int, on: date | None) -> bool:
        """Whether it is a line of this day; `first` is the weekday of day 1."""
        if on in self.line.but_not:
            return False
        match self.when:
            case ast.Daily(every):
                return (day - 1) % every == 0
            case ast.Weekly(weekdays, every):
                weekday = (first + day - 1) % 7
                return weekday in weekdays and (day - 1) // 7 % every == 0
            case ast.Times(times):
                return (day - 1) % 7 in {7 * n // times for n in range(times)}
            case ast.OnDates(dates):
                return on in dates
        return False


def _misplaced(
    routine: ast.Routine, lines: list[_Line], washes: Collection[str]
) -> Iterator[GrammarError]:
    """What contradicts itself, line by line."""
    known: set[str] = set()
    washed = any(each.wash for each in lines)
    last = routine.start and routine.days and _after(routine.start, routine.days)
    for each in lines:
        line, when = each.line, each.when
        for day in _dates(line):
            if routine.start is None or not last:
                yield _wrong(
                    routine,
                    f"{day} is a date, and the routine has no first and last day",
                    line.span,
                    f"add a line such as: from {day} for 12 weeks",
                )
            elif not routine.start <= day <= last:
                yield _wrong(
                    routine,
                    f"{day} is not among the days from {routine.start} to {last}",
                    line.span,
                    "change the date, or the line with `from`",
                )
        if isinstance(when, ast.Beside):
            if not when.anchor and not washed:
                yield _wrong(
                    routine,
                    "there is no wash for this to stand beside",
                    line.span,
                    f"add a line such as: {wash_line(washes)}",
                )
            if each.wash and not when.anchor:
                yield _wrong(
                    routine,
                    "a wash cannot stand beside every wash",
                    line.span,
                    "name its days, or the product it goes with",
                )
            if when.anchor and when.anchor not in known:
                yield _wrong(
                    routine,
                    f'no line before this one uses "{when.anchor}"',
                    line.span,
                    "put the line with that product before this one",
                )
        known.add(line.product)


def _after(start: date, days: int) -> date:
    return start + timedelta(days - 1)


def _dates(line: ast.UseLine) -> tuple[date, ...]:
    own = line.when.dates if isinstance(line.when, ast.OnDates) else ()
    return (*own, *line.but_not)


def _cycle(routine: ast.Routine, lines: list[_Line]) -> int:
    """After how many days a routine comes round again."""
    days = lcm(*(each.period for each in lines))
    if days <= MOST_DAYS:
        days = _with_counts(lines, days)
    if days > MOST_DAYS:
        raise _wrong(
            routine,
            f"the routine comes round again only after {days:,} days",
            hint=f"add `for 12 weeks`, or periods that meet within {MOST_DAYS:,} days",
        )
    if routine.cycle and routine.cycle % days:
        raise _wrong(
            routine,
            f"a cycle of {routine.cycle} days does not fit: "
            f"its lines come round again after {days}",
            hint=f"write: cycle of {days} days",
        )
    return routine.cycle or days


def turn_of(routine: ast.Routine, washes: Container[str] = ()) -> int:
    """After how many days a routine with an end would begin again; 0 if it cannot."""
    lines = [_Line(line, washes) for line in routine.uses]
    dated = any(isinstance(e.when, ast.OnDates) or e.line.but_not for e in lines)
    if dated or not lines:
        return 0
    try:
        return _cycle(replace(routine, cycle=None), lines)
    except GrammarError:
        return 0


def _with_counts(lines: list[_Line], days: int) -> int:
    """The days after which every n-th wash falls on the same day again."""
    once = sum(u.wash for u in _uses(lines, days, 0, None))
    turns = 1
    for each in lines:
        if isinstance(each.when, ast.Beside) and once:
            turns = lcm(turns, each.when.every // gcd(once, each.when.every))
    return days * turns


def _uses(
    lines: Iterable[_Line], days: int, first: int, start: date | None
) -> Iterator[Use]:
    lines = list(lines)
    counted = dict.fromkeys(range(len(lines)), 0)
    place = 0
    for day in range(1, days + 1):
        on = start + timedelta(day - 1) if start else None
        for line in _of_day(lines, day, first, on, counted):
            yield Use(day, place, line.line.product, line.wash)
            place += 1


def _of_day(
    lines: list[_Line],
    day: int,
    first: int,
    on: date | None,
    counted: dict[int, int],
) -> list[_Line]:
    """The lines of one day in order; those beside others are put in their place."""
    found = [each for each in lines if each.falls_on(day, first, on)]
    behind = [0] * len(found)  # how many lines go with each and stand behind it
    for number, each in enumerate(lines):
        when = each.when
        if not isinstance(when, ast.Beside) or on in each.line.but_not:
            continue
        spots = [at for at, other in enumerate(found) if _anchors(when, other)]
        shift = 0
        for spot in spots:
            counted[number] += 1
            if counted[number] % when.every:
                continue
            at = spot + shift
            over = [n for n in range(at) if n + behind[n] >= at]
            if not when.before:
                over.append(at)
                at += behind[at] + 1
            for n in over:
                behind[n] += 1
            found.insert(at, each)
            behind.insert(at, 0)
            shift += 1
    return found


def _anchors(when: ast.Beside, other: _Line) -> bool:
    return other.line.product == when.anchor if when.anchor else other.wash


def _wrong(
    routine: ast.Routine, message: str, span: Span = NOWHERE, hint: str = ""
) -> GrammarError:
    text = routine.text if span != NOWHERE else ""
    called = f'"{routine.name}": ' if routine.name and span == NOWHERE else ""
    name = routine.place if span != NOWHERE else ""
    return GrammarError(f"{called}{message}", text, span, hint=hint, name=name)
