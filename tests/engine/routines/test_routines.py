"""From routines to days: against `python-dateutil`, and what is refused."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from abluent.engine.routines.routine import MOST_DAYS, Schedule, schedule
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine.parse import parse_routines
from dateutil import rrule
from hypothesis import given, settings
from hypothesis import strategies as st

WASHES = {"W", "B"}
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
STARTS = st.dates(date(2024, 1, 1), date(2032, 12, 31))


def days_of(text: str) -> Schedule:
    return schedule(parse_routines(text, "week.txt")[0], WASHES)


def told(text: str, start: date, weeks: int = 20) -> list[date]:
    """The dates that a line comes to."""
    found = days_of(f"from {start} for {weeks} weeks\n{text}")
    return [start + timedelta(use.day - 1) for use in found.uses]


def rule(start: date, weeks: int = 20, **parts: object) -> list[date]:
    """The dates of a recurrence rule, as `python-dateutil` works them out."""
    at = datetime(start.year, start.month, start.day)
    until = at + timedelta(7 * weeks - 1)
    parts = {"dtstart": at, "until": until, **parts}
    return [each.date() for each in rrule.rrule(**parts)]  # type: ignore[arg-type]


@settings(deadline=None)
@given(STARTS, st.integers(1, 12))
def test_every_so_many_days_is_the_rule(start: date, every: int) -> None:
    want = rule(start, freq=rrule.DAILY, interval=every)
    assert told(f'use "C" every {every} days', start) == want


@settings(deadline=None)
@given(STARTS, st.sets(st.integers(0, 6), min_size=1))
def test_days_of_the_week_are_the_rule(start: date, days: set[int]) -> None:
    names = [DAYS[day] for day in sorted(days)]
    text = " and ".join(names)
    want = rule(start, freq=rrule.WEEKLY, byweekday=sorted(days))
    assert told(f'use "C" on {text}', start) == want


@settings(deadline=None)
@given(STARTS, st.integers(0, 6), st.integers(2, 4))
def test_every_second_sunday_begins_with_the_first(
    start: date, day: int, every: int
) -> None:
    """A rule whose first day is the first such weekday."""
    first = start + timedelta((day - start.weekday()) % 7)
    ordinal = {2: "second", 3: "third", 4: "fourth"}[every]
    last = start + timedelta(20 * 7 - 1)
    want = [d for d in rule(first, 30, freq=rrule.WEEKLY, interval=every) if d <= last]
    assert told(f'use "C" every {ordinal} {DAYS[day]}', start) == want


@pytest.mark.parametrize("times", range(1, 8))
def test_times_a_week_are_spread_evenly(times: int) -> None:
    """As many as said; the gaps differ by a day at most."""
    found = [use.day for use in days_of(f'use "C" {times} times a week').uses]
    gaps = [b - a for a, b in zip(found, [*found[1:], found[0] + 7], strict=True)]
    assert len(found) == times
    assert max(gaps) - min(gaps) <= 1


LINES = st.lists(
    st.sampled_from(
        [
            'wash with "W" every 2 days',
            'wash with "W" on Sunday',
            'wash with "W" every third Tuesday',
            'use "C" after every second wash',
            'use "C" before every third wash',
            'use "B" twice a week',
            'use "C" every 3 days',
        ]
    ),
    min_size=1,
    max_size=4,
)


@settings(deadline=None)
@given(LINES)
def test_a_turn_is_exactly_where_a_routine_comes_round_again(lines: list[str]) -> None:
    """Two turns laid out as a calendar are the one turn twice."""
    text = "\n".join(['wash with "W" on Monday', *lines])
    once = days_of(text)
    assert once.turns
    twice = days_of(f"for {2 * once.days} days\n{text}")
    whole = [(u.day, u.product) for u in twice.uses]
    turn = [(u.day, u.product) for u in once.uses]
    assert whole == turn + [(day + once.days, name) for day, name in turn]


def test_order_within_a_day_is_that_of_the_lines_with_what_goes_beside() -> None:
    text = (
        'wash with "W" on Sunday\nuse "Oil" before every wash\n'
        'use "C" after every wash\nuse "Milk" after "C"\nuse "Gel" after every wash\n'
    )
    uses = days_of(text).uses
    assert [use.product for use in uses] == ["Oil", "W", "C", "Milk", "Gel"]


def test_a_co_wash_is_a_wash_whatever_the_verb() -> None:
    uses = days_of('use "B" on Monday\nuse "C" after every wash').uses
    assert [(use.product, use.wash) for use in uses] == [("B", True), ("C", False)]


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("water is hard", "uses nothing", "add a line such as"),
        ('use "C" after every wash', "no wash for this", "add a line"),
        ('use "C" after "W"', 'no line before this one uses "W"', "before this one"),
        ('use "C" on 2026-03-01', "no first and last day", "from 2026-03-01"),
        (
            'from 2026-03-01 for 1 week\nuse "C" on 2026-04-01',
            "not among the days from 2026-03-01 to 2026-03-07",
            "change the date",
        ),
        (
            'from 2026-03-01 for 1 day\nuse "C" daily except on 2026-03-01',
            "nothing is used on any of the 1 days",
            "look at the dates",
        ),
        (
            'cycle of 8 days\nuse "C" on Sunday',
            "a cycle of 8 days does not fit",
            "cycle of 7 days",
        ),
        (
            'use "C" every 97 days\nuse "C" every 89 days\nuse "C" on Sunday',
            "only after 60,431 days",
            f"within {MOST_DAYS:,} days",
        ),
    ],
)
def test_empty_impossible_and_contradictory_routines_are_refused(
    text: str, message: str, hint: str
) -> None:
    """The thing, the place where there is one, and the fix."""
    with pytest.raises(GrammarError) as caught:
        days_of(text)
    assert message in caught.value.render()
    assert hint in caught.value.hint
