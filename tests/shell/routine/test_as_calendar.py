"""Calendars that are written: read again, they are the same uses on the same days."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from abluent.engine.routines.buildup import washes_of
from abluent.engine.routines.routine import Schedule, schedule
from abluent.shell.command.cli import main
from abluent.shell.routine.as_calendar import calendar_text
from abluent.shell.routine.read import routines_of
from abluent.shell.session.session import Session

TODAY = date(2026, 11, 26)
USES = """\
wash with "Plover Mild Wash" on Wednesday and Sunday
use "Harbour Cream" after every wash
rinse with water on Friday
"""


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open()


def read(text: str, form: str, session: Session) -> Schedule:
    (found,) = routines_of(text, "", session.shelf, form=form)
    assert found.routine is not None
    return schedule(found.routine, washes_of(session.world))


def told(days: Schedule, most: int) -> list[tuple[str, str, bool]]:
    """What is used when; the first days of it."""
    uses = [use for use in days.uses if use.day <= most]
    return [(days.day_name(use.day), use.product, use.wash) for use in uses]


def test_a_calendar_reads_back_as_the_same_uses(session: Session) -> None:
    days = read(f"from 2026-03-02 for 2 weeks\n{USES}", "", session)
    again = read(calendar_text([("Quay", days)], TODAY), ".ics", session)
    first = next(use.day for use in days.uses) - 1
    assert told(again, 14 - first) == told(days, 14)


def test_a_routine_that_comes_round_goes_on_from_the_next_monday(
    session: Session,
) -> None:
    days = read(USES, "", session)
    text = calendar_text([("", days)], TODAY)
    assert "RRULE:FREQ=DAILY;INTERVAL=7" in text
    again = read(text, ".ics", session)
    assert again.start == date(2026, 12, 2)  # the first use is on a Wednesday
    washes = [use.day for use in again.washes if use.product == "Plover Mild Wash"]
    assert washes[:4] == [1, 5, 8, 12]


@pytest.mark.long
def test_several_routines_make_one_calendar(tmp_path: Path) -> None:
    week = tmp_path / "week.txt"
    week.write_text(f'routine "A"\n{USES}routine "B"\n{USES}', "utf-8")
    out = tmp_path / "week.ics"
    assert main(["routine", "--to", str(out), str(week)]) == 0
    assert out.read_text("utf-8").count("BEGIN:VEVENT") == 12
    assert main(["routine", "--to", str(tmp_path / "week.svg"), str(week)]) == 2
