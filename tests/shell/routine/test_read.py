"""Routines from files: lines, tables and calendars."""

from __future__ import annotations

import re
from datetime import date, datetime
from importlib.resources import files

import pytest
from abluent.engine.faults import DataError
from abluent.grammar.routine import tree as ast
from abluent.shell.routine.read import Found, routines_of
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf
from dateutil.rrule import rrulestr

PAGE = files("abluent.grammar.routine").joinpath("ROUTINES.md").read_text("utf-8")
TABLE = re.findall(r"^```csv\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)[0]


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return Session.open().shelf


def routine(found: Found) -> ast.Routine:
    assert found.routine is not None, found.error
    return found.routine


def test_the_table_of_the_page_is_two_routines(shelf: Shelf) -> None:
    aila, bo = map(routine, routines_of(TABLE, "two.csv", shelf, form=".csv"))
    assert [aila.name, bo.name] == ["Aila", "Bo"]
    assert aila.uses[1].when == ast.Beside(before=False)
    assert bo.uses[0] == ast.UseLine(True, "Plover Mild Wash", ast.Times(2))


def test_a_faulty_row_is_told_and_takes_no_other_routine_with_it(shelf: Shelf) -> None:
    text = TABLE + "Cy,use,Harbor Cream,daily\nDi,use,Jetty Oil,on Sonday\n"
    good, also, cy, di = routines_of(text, "two.csv", shelf, form=".csv")
    assert good.routine
    assert also.routine
    assert 'two.csv:5:6: no product "Harbor Cream"' in str(cy.error)
    assert 'did you mean "Harbour Cream"?' in str(cy.error)
    assert "two.csv:6:" in str(di.error)


def test_dates_of_a_table_are_its_calendar(shelf: Shelf) -> None:
    text = "product,date\nTideline Wash,2026-03-01\nHarbour Cream,2026-03-05\n"
    found = routine(routines_of(text, "log.csv", shelf, form=".csv")[0])
    assert (found.start, found.days) == (date(2026, 3, 1), 5)


def test_names_are_those_of_the_shelf_whatever_their_case(shelf: Shelf) -> None:
    text = 'wash with "tideline  WASH" daily\nuse "HARBOUR cream" after "Tideline wash"'
    found = routine(routines_of(text, "week.txt", shelf)[0])
    assert [use.product for use in found.uses] == ["Tideline Wash", "Harbour Cream"]
    assert found.uses[1].when == ast.Beside(before=False, anchor="Tideline Wash")


def test_lines_can_be_added_to_every_routine(shelf: Shelf) -> None:
    also = ["clear silicones every wash", "water is soft", "count open as nothing"]
    for found in routines_of(TABLE, "two.csv", shelf, also, ".csv"):
        made = routine(found)
        assert made.wants[0] == ast.Clear("silicones", 1, days=False)
        assert made.washing == (ast.Said("water", "soft"),)
        assert made.counting.open == ast.NOTHING


@pytest.mark.parametrize(
    ("text", "form", "told"),
    [
        ("# nothing\n", "", "there is no routine in it"),
        ("a,b\n1,2\n", ".csv", "names no columns"),
        ("x", ".ics", "this is no calendar"),
        ("BEGIN:VCALENDAR\nEND:VCALENDAR\n", ".ics", "has no events"),
    ],
)
def test_what_is_no_routine_is_refused(
    text: str, form: str, told: str, shelf: Shelf
) -> None:
    with pytest.raises(DataError, match=told):
        routines_of(text, "file", shelf, form=form)


# --- calendars --------------------------------------------------------------------


def calendar(*events: str) -> str:
    """A calendar with some events, each given as lines without its frame."""
    made = [
        f"BEGIN:VEVENT\nUID:{n}\n{event}\nEND:VEVENT" for n, event in enumerate(events)
    ]
    inside = "\n".join(made)
    return (
        "BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//Merrow Quay//class//EN\n"
        f"X-WR-CALNAME:Quay\n{inside}\nEND:VCALENDAR\n"
    )


RULES = [
    "FREQ=WEEKLY;BYDAY=SU,WE;COUNT=9",
    "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU;UNTIL=20260601T000000",
    "FREQ=MONTHLY;BYDAY=-1FR;COUNT=4",
    "FREQ=MONTHLY;BYMONTHDAY=1,15;COUNT=5",
    "FREQ=DAILY;INTERVAL=3;COUNT=12",
]


@pytest.mark.parametrize("rule", RULES)
def test_recurrences_are_those_of_dateutil(rule: str, shelf: Shelf) -> None:
    """Reference: `python-dateutil`, asked directly; the first day always counts."""
    start = datetime(2026, 3, 1, 8)
    text = calendar(f"SUMMARY:Jetty Oil\nDTSTART:20260301T080000\nRRULE:{rule}")
    (found,) = map(routine, routines_of(text, "quay.ics", shelf, form=".ics"))
    when = found.uses[0].when
    assert isinstance(when, ast.OnDates)
    want = {start.date(), *(at.date() for at in rrulestr(rule, dtstart=start))}
    assert set(when.dates) == want
    assert found.name == "Quay"


def test_a_calendar_keeps_the_order_of_the_clock_and_leaves_days_out(
    shelf: Shelf,
) -> None:
    text = calendar(
        'SUMMARY:use "Harbour Cream"\nDTSTART:20260301T090000\nRRULE:FREQ=WEEKLY',
        'SUMMARY:wash with "Tideline Wash"\nDTSTART:20260301T080000\n'
        "RRULE:FREQ=WEEKLY\nEXDATE:20260308T080000",
    )
    (found,) = map(routine, routines_of(text, "quay.ics", shelf, form=".ics"))
    assert [use.product for use in found.uses] == ["Tideline Wash", "Harbour Cream"]
    assert found.days == 84
    first = found.uses[0].when
    assert isinstance(first, ast.OnDates)
    assert date(2026, 3, 8) not in first.dates
    assert len(first.dates) == 11


def test_a_moved_occurrence_is_on_its_new_day(shelf: Shelf) -> None:
    text = calendar(
        "SUMMARY:Jetty Oil\nDTSTART:20260301T080000\nRRULE:FREQ=WEEKLY;COUNT=3"
    ).replace(
        "END:VCALENDAR",
        "BEGIN:VEVENT\nUID:0\nSUMMARY:Jetty Oil\nDTSTART:20260310T080000\n"
        "RECURRENCE-ID:20260308T080000\nEND:VEVENT\nEND:VCALENDAR",
    )
    (found,) = map(routine, routines_of(text, "quay.ics", shelf, form=".ics"))
    days = sorted(
        day
        for use in found.uses
        if isinstance(use.when, ast.OnDates)
        for day in use.when.dates
    )
    assert days == [date(2026, 3, 1), date(2026, 3, 10), date(2026, 3, 15)]


@pytest.mark.parametrize(
    ("event", "told"),
    [
        ("DTSTART:20260301T080000", "has no SUMMARY"),
        ("SUMMARY:Jetty Oil", "has no DTSTART"),
    ],
)
def test_an_event_that_lacks_something_is_named(
    event: str, told: str, shelf: Shelf
) -> None:
    with pytest.raises(DataError, match=told):
        routines_of(calendar(event), "quay.ics", shelf, form=".ics")
