"""A routine, or the plan of one, as a calendar (RFC 5545): an event for each use.

An event lasts the whole day and is called as a line of a routine is, so that the file
reads back as the same uses. A routine that comes round repeats its events for ever; one
without a date begins on the next Monday.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.routine.printer import quoted

if TYPE_CHECKING:
    from icalendar import Event

_WEEK = 7


def calendar_text(named: Iterable[tuple[str, Schedule]], today: date) -> str:
    """Some schedules as one calendar, each use called by its product.

    Args:
        named: the schedules, each with the name of its routine.
        today: the day from which a routine without a date looks for a Monday.

    Raises:
        CommandError: the library that writes calendars is not installed.
    """
    try:
        from icalendar import Calendar
    except ImportError:
        what = "calendars are written by a library that is not installed"
        raise CommandError(Problem(what, hint="pip install 'abluent[plan]'")) from None
    calendar = Calendar()
    calendar.add("prodid", "-//abluent//routine//EN")
    calendar.add("version", "2.0")
    parts = list(named)
    for name, days in parts:
        if name and len(parts) == 1:
            calendar.add("x-wr-calname", name)
        start = days.start or _next_monday(today)
        for use in days.uses:
            calendar.add_component(_event(name, days, use, start))
    return str(calendar.to_ical().decode("utf-8"))


def _event(name: str, days: Schedule, use: Use, start: date) -> Event:
    from icalendar import Event

    on = start + timedelta(use.day - 1)
    event = Event()
    summary = f"wash with {quoted(use.product)}" if use.wash else use.product
    event.add("summary", summary)
    event.add("dtstart", on)
    event.add("dtend", on + timedelta(1))
    event.add("dtstamp", datetime.combine(on, time(), UTC))
    event.add("transp", "TRANSPARENT")
    event.add("uid", f"{_digest(name, use)}@abluent")
    if days.turns:
        event.add("rrule", {"freq": "daily", "interval": days.days})
    return event


def _digest(name: str, use: Use) -> str:
    """What tells one event from all others, and is the same when written again."""
    return sha256(f"{name}\n{use}".encode()).hexdigest()[:24]


def _next_monday(today: date) -> date:
    return today + timedelta(-today.weekday() % _WEEK)
