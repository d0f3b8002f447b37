"""Days, spans and how often, as somebody would say them."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.routines.routine import WEEK, Schedule, Use
from abluent.grammar.routine.printer import DAYS

ORDER = {2: "second", 3: "third", 4: "fourth"}
"""How a wash is called that is every so-manieth."""
_ORDER = {1: "first", **ORDER}


def day_of(days: Schedule, day: int) -> str:
    """A day: `Monday`, `Monday of the second week`, `day 3`, or its date."""
    if days.start:
        return days.day_name(day)
    if days.days % WEEK:
        return f"day {day}"
    name = DAYS[(day - 1) % WEEK]
    if days.days == WEEK:
        return name
    week = (day - 1) // WEEK + 1
    which = f"the {_ORDER[week]} week" if week in _ORDER else f"week {week}"
    return f"{name} of {which}"


def on_days(days: Schedule, uses: Sequence[Use]) -> str:
    """When some uses are: `on Monday and Thursday`."""
    return f"on {listed([day_of(days, n) for n in dict.fromkeys(u.day for u in uses)])}"


def on_most_days(uses: int, days: Schedule) -> bool:
    """Whether so many uses are at least one on every weekday but the weekend."""
    return uses * WEEK >= (WEEK - 2) * days.days


def on_weekday(days: Schedule, use: Use) -> str:
    """The day of a use by its weekday alone, in whole weeks; else as it is called."""
    if days.start or days.days % WEEK:
        return on_days(days, [use])
    return f"on {DAYS[(use.day - 1) % WEEK]}"


def a_turn(days: Schedule) -> str:
    """How often, for one turn of a routine: `a week`, `in 14 days`."""
    short = {1: "a day", WEEK: "a week"}
    return short.get(days.days, f"in {days.days} days")


def once_in(days: int) -> str:
    """How often, once in so many days: `once a week`, `once in two weeks`."""
    few = {WEEK: "once a week", 2 * WEEK: "once in two weeks"}
    return few.get(days, f"once in {days} days")


def a_span(days: int) -> str:
    """So many days: `1 day`, `14 days`."""
    return "1 day" if days == 1 else f"{days} days"


_RHYTHMS = {
    1: "every day",
    2: "every second day",
    3: "every third day",
    4: "twice a week",
    10: "once in ten days",
    21: "once in three weeks",
    28: "once in four weeks",
}


def rhythm(days: int) -> str:
    """About how often something is, as somebody would say it: `twice a week`."""
    return _RHYTHMS.get(days) or once_in(days)


def counted(number: int) -> str:
    """So many times: `once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")
