"""Routines from iCalendar files (RFC 5545): an event is a use, its summary says which.

A summary is the name of a product, or `wash with "…"`, `use "…"`, `wash`. Recurrences
(RRULE, RDATE, EXDATE, a moved occurrence) are worked out by `icalendar` and
`python-dateutil`. A calendar whose events never end is looked at for twelve weeks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from abluent.engine.faults import CommandError, DataError, Problem, installed_with
from abluent.grammar.routine import tree as ast

if TYPE_CHECKING:
    from dateutil.rrule import rruleset

WEEKS = 12
"""How long a calendar without an end is looked at, from its first day."""

_SUMMARY = re.compile(
    r'(?:(?P<wash>wash)(?:\s+with)?|use)?\s*(?P<name>"[^"]+"|[^"]*)', re.IGNORECASE
)


@dataclass(frozen=True)
class _Event:
    summary: str
    at: datetime
    rules: rruleset
    endless: bool


def calendar_routine(text: str, place: str) -> ast.Routine:
    """Read the events of a calendar as one routine.

    Raises:
        DataError: it is no calendar, has no events, or one cannot be worked out.
        CommandError: the libraries that read calendars are not installed.
    """
    try:
        import dateutil.rrule  # noqa: F401
        from icalendar import Calendar
    except ImportError:
        what = "calendars are read by libraries that are not installed"
        raise CommandError(Problem(what, hint=installed_with("plan"))) from None
    try:
        calendar: Any = Calendar.from_ical(text)
    except (ValueError, IndexError) as error:
        hint = "an .ics file begins with BEGIN:VCALENDAR"
        raise DataError(Problem(f"this is no calendar: {error}", place, hint)) from None
    events = sorted(_events(calendar, place), key=lambda each: each.at.time())
    if not events:
        raise DataError(Problem("the calendar has no events", place))
    first = min(each.at.date() for each in events)
    last = first + timedelta(7 * WEEKS - 1)
    if not any(each.endless for each in events):
        last = max(on for each in events for on in _dates(each, None))
    lines = [_line(each, last) for each in events]
    uses = tuple(line for line in lines if line is not None)
    name = str(calendar.get("X-WR-CALNAME", ""))
    days = (last - first).days + 1
    return ast.Routine(name=name, uses=uses, start=first, days=days, place=place)


def _line(event: _Event, last: date) -> ast.UseLine | None:
    found = _SUMMARY.fullmatch(event.summary)
    dates = tuple(_dates(event, last))
    if found is None or not dates:
        return None
    name = " ".join(found["name"].strip('"').split())
    return ast.UseLine(bool(found["wash"]), name, ast.OnDates(dates))


def _dates(event: _Event, last: date | None) -> Iterator[date]:
    for at in event.rules:
        if last is not None and at.date() > last:
            return
        yield at.date()


def _events(calendar: Any, place: str) -> Iterator[_Event]:
    events = list(calendar.walk("VEVENT"))
    moved: dict[str, list[datetime]] = {}
    for event in events:
        if "RECURRENCE-ID" in event:
            at = _moment(event["RECURRENCE-ID"].dt)
            moved.setdefault(str(event.get("UID", "")), []).append(at)
    for event in events:
        summary = " ".join(str(event.get("SUMMARY", "")).split())
        if not summary or "DTSTART" not in event:
            lacks = "DTSTART" if summary else "SUMMARY"
            what = f'the event "{summary or event.get("UID", "")}" has no {lacks}'
            hint = "give it a day, and as its title the product that is used"
            raise DataError(Problem(what, place, hint))
        try:
            yield _event(event, summary, moved)
        except (ValueError, TypeError) as error:
            what = f'the days of "{summary}" cannot be worked out: {error}'
            hint = "look at its RRULE and its first day"
            raise DataError(Problem(what, place, hint)) from None


def _event(event: Any, summary: str, moved: dict[str, list[datetime]]) -> _Event:
    from dateutil.rrule import rruleset, rrulestr

    start = _moment(event["DTSTART"].dt)
    rules, endless = rruleset(), False
    if "RRULE" in event:
        rule = event["RRULE"]
        if isinstance(rule, list):
            raise ValueError("it has more than one RRULE")
        rules.rrule(rrulestr(rule.to_ical().decode(), dtstart=start))  # type: ignore[arg-type]
        endless = not (rule.get("COUNT") or rule.get("UNTIL"))
    rules.rdate(start)
    for at in _listed(event, "RDATE"):
        rules.rdate(at)
    out = [] if "RECURRENCE-ID" in event else moved.get(str(event.get("UID", "")), [])
    for at in [*_listed(event, "EXDATE"), *out]:
        rules.exdate(at)
    return _Event(summary, start, rules, endless)


def _listed(event: Any, key: str) -> Iterator[datetime]:
    found = event.get(key, [])
    for each in found if isinstance(found, list) else [found]:
        yield from (_moment(part.dt) for part in each.dts)


def _moment(day: Any) -> datetime:
    """A day as its first moment; a moment as it is."""
    if isinstance(day, tuple):  # a period of an RDATE
        day = day[0]
    return day if isinstance(day, datetime) else datetime.combine(day, time())
