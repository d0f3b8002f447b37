"""Routines in their one wording; reading it again gives an equal routine."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.text import in_a_row
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.build import WATER

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_ORDINALS = {2: "second", 3: "third", 4: "fourth"}


def print_routine(routine: ast.Routine) -> str:
    """A routine as text, a line for each statement, with a final line end."""
    return "".join(f"{line}\n" for line in _lines(routine))


def _lines(routine: ast.Routine) -> Iterator[str]:
    if routine.name:
        yield f"routine {quoted(routine.name)}"
    if routine.start and routine.days:
        yield f"from {routine.start} for {_length(routine.days)}"
    elif routine.start:
        yield f"from {routine.start}"
    elif routine.days:
        yield f"for {_length(routine.days)}"
    if routine.cycle:
        yield f"cycle of {_length(routine.cycle)}"
    for said in routine.washing:
        yield f"{said.aspect} is {said.words}"
    yield from map(print_use, routine.uses)
    if routine.counting.partly != ast.EITHER:
        yield f"count partly clears as {routine.counting.partly}"
    if routine.counting.open != ast.EITHER:
        yield f"count open as {routine.counting.open}"
    yield from map(print_want, routine.wants)


def print_use(use: ast.UseLine) -> str:
    """One use as a line."""
    if not use.wash:
        what = f"use {quoted(use.product)}"
    elif use.product == WATER:
        what = "rinse with water"
    else:
        what = f"wash with {quoted(use.product)}" if use.product else "wash"
    but_not = f" except on {in_a_row(map(str, use.but_not))}" if use.but_not else ""
    return f"{what} {_when(use.when)}{but_not}"


def print_want(want: ast.Want) -> str:
    """One thing a plan is to keep to, as a line."""
    if isinstance(want, ast.Only):
        return f"only {want.phrase}"
    if isinstance(want, ast.Apart):
        return f"no {want.phrase} two days running"
    if isinstance(want, ast.AtMost):
        span = "a week" if want.days == 7 else f"in {_count(want.days, 'day')}"
        return f"at most {want.most} {want.phrase} {span}"
    one, many = ("day", "days") if want.days else ("wash", "washes")
    often = f"{want.every} {many}" if want.every > 1 else one
    return f"clear {want.films} every {often}"


def quoted(name: str) -> str:
    """A name in straight quotes, a quote mark within them doubled."""
    return '"' + name.replace('"', '""') + '"'


def _when(when: ast.When) -> str:
    match when:
        case ast.Daily(every):
            return "daily" if every == 1 else f"every {every} days"
        case ast.Weekly(weekdays, every):
            days = in_a_row(DAYS[day] for day in weekdays)
            return f"on {days}" if every == 1 else f"every {every} weeks on {days}"
        case ast.Times(times):
            words = {1: "once", 2: "twice"}
            return f"{words.get(times, f'{times} times')} a week"
        case ast.OnDates(dates):
            return f"on {in_a_row(map(str, dates))}"
        case ast.Beside(before, anchor, every):
            side = "before" if before else "after"
            if anchor:
                return f"{side} {quoted(anchor)}"
            often = f"{_ORDINALS[every]} " if every > 1 else ""
            return f"{side} every {often}wash"


def _length(days: int) -> str:
    return _count(days // 7, "week") if days % 7 == 0 else _count(days, "day")


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
