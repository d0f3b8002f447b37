"""The picture of films over days: every family, in words and shape, fit for a phone."""

from __future__ import annotations

import re
from functools import cache

import pytest
from abluent.engine.routines.outcome import Accounted, account_of
from abluent.engine.routines.overview import State
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.routine import week_words
from abluent.shell.routine.picture import WIDE, films_over_days
from abluent.shell.routine.read import routines_of
from abluent.shell.routine.week_days import week_of
from abluent.shell.routine.week_words import Fate, WeekWords
from abluent.shell.session.session import Session

WEEK = """\
water is hard
wash with "Shallows Wash" on Monday and Thursday
use "Harbour Cream" after every wash
"""
POMADE = """\
water is soft
use "Tarred Rope Pomade" daily
wash with "Backwater Cream Cleanser" on Tuesday
"""


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open()


@cache
def account(text: str, session: Session) -> Accounted:
    (found,) = routines_of(text, "", session.shelf)
    assert found.routine is not None
    return account_of(found.routine, session.world)


@cache
def drawn(text: str, session: Session) -> str:
    found = account(text, session)
    return films_over_days("Quay", found.overview, session.world).svg()


def test_families_of_one_fate_share_a_strip(session: Session) -> None:
    svg = drawn(WEEK, session)
    words = " ".join(re.findall(r"<text[^>]*>([^<]*)", svg)).casefold()
    found = WeekWords(account(WEEK, session).overview, session.world)
    for fate in found.fates:
        assert found.line(fate).casefold() in words
    told = [family for fate in found.fates for family in fate.families]
    assert sorted(map(id, told)) == sorted(map(id, found.overview.families))
    # Each strip has a strand through the days of a last week; the first of week 1 too.
    assert words.count("film, week 4") == min(2, len(found.fates))
    assert words.count("film, week 1") == 1
    assert svg.count("<rect") > 2 + 7 * min(2, len(found.fates))
    states = [(fate.dark, fate.state) for fate in found.fates]
    assert len(set(states)) == len(states)


def test_the_heading_says_what_builds_up_and_the_strip_which_wash(
    session: Session,
) -> None:
    found = WeekWords(account(POMADE, session).overview, session.world)
    assert found.heading().endswith("from Tarred Rope Pomade build up.")
    assert (
        found.why(found.fates[0]) == "Backwater Cream Cleanser takes none of them off."
    )
    assert found.routine().startswith("Tarred Rope Pomade every day; wash with")
    assert "for certain" not in drawn(POMADE, session)
    assert "Of your washes, " in found.advice()


def test_what_each_of_two_washes_takes_in_part_is_said_of_both(
    session: Session,
) -> None:
    """Neither takes a part of every film; of each film one of them does."""
    lines = (
        "water is hard",
        'use "Harbour Cream" after every wash',
        'use "Kelp Line Curl Cream" after every wash',
        'wash with "Tideline Wash" on Tuesday',
        'wash with "Lamp Room Clarifying Wash" on Friday',
    )
    found = WeekWords(account("\n".join(lines), session).overview, session.world)
    assert "between them take some of each off." in found.why(found.fates[0])


def test_words_agree_with_the_strands(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is said not to build up where a later strand is thicker."""
    overview = account(POMADE, session).overview
    cleared = [Fate(State.CLEARED, overview.families)]
    monkeypatch.setattr(week_words, "fates_of", lambda _: cleared)
    words = WeekWords(overview, session.world)
    assert words.heading() == "Nothing builds up from week to week."
    svg = films_over_days("Quay", overview, session.world).svg()
    drawn = " ".join(re.findall(r"<text[^>]*>([^<]*)", svg))
    assert "What builds up for a while comes off again." in drawn
    assert "Nothing builds up from week to week" not in drawn


def test_it_is_as_high_as_a_phone_shows_and_nothing_runs_out(session: Session) -> None:
    svg = drawn(WEEK, session)
    assert '<svg xmlns="http://www.w3.org/2000/svg"' in svg
    lines = [float(y) for y in re.findall(r'<text[^>]* y="([\d.]+)"', svg)]
    assert lines
    top, _, end, _ = SHAPES["9:16"].margins
    assert min(lines) > top
    assert max(lines) < SHAPES["9:16"].high - end
    # What stands in a row has one base line; else each stands below the last.
    assert lines == sorted(lines)


def test_each_product_of_a_week_stands_on_its_days(session: Session) -> None:
    schedule = account(WEEK, session).overview.built.schedule
    week = week_of(schedule)
    assert week is not None
    assert week.rows == [
        ("Shallows Wash", {0, 3}, True),
        ("Harbour Cream", {0, 3}, False),
    ]
    svg = drawn(WEEK, session)
    assert svg.count('class="strand-shaft"') == 4
    assert svg.count('class="strand-film"') == 2 * 2
    letters = re.findall(r">([MTWFS])<", svg)
    assert "".join(letters) == "MTWTFSS"
    calendar = account(f"for 2 weeks\n{WEEK}", session).overview.built.schedule
    assert week_of(calendar) is None


def test_what_keeps_within_bounds_has_what_to_watch_for(session: Session) -> None:
    text = (
        'water is soft\nuse "Harbour Cream" daily\nwash with "Tideline Wash" on Sunday'
    )
    found = WeekWords(account(text, session).overview, session.world)
    assert [fate.state for fate in found.fates] == [State.BOUNDED]
    assert found.advice().startswith("Adjust by feel after two weeks")


def test_letters_are_large_enough_for_a_phone(session: Session) -> None:
    """A phone shows it 390 points wide: no letter there is under 13 points."""
    sizes = [
        float(each)
        for each in re.findall(r'font-size="([\d.]+)"', drawn(WEEK, session))
    ]
    assert sizes
    assert min(sizes) * 390 / WIDE >= 13


@pytest.mark.long
def test_a_calendar_is_drawn_to_its_end(session: Session) -> None:
    words = re.findall(r"<text[^>]*>([^<]*)", drawn(f"for 2 weeks\n{WEEK}", session))
    assert "Week 2" in words
    assert "Week 4" not in words


@pytest.mark.long
def test_a_routine_that_leaves_nothing_has_a_picture(session: Session) -> None:
    svg = drawn('water is soft\nwash with "Dune Grass Wash" on Sunday\n', session)
    assert "Nothing that this routine leaves needs a wash." in svg


SOME_WEEKS = """\
water is hard
wash with "Tideline Wash" every 14 days
wash with "Fog Bank Wash" on Wednesday
wash with "Sandpiper Wash" on Friday
use "Old Chart Conditioner" after every wash
use "Tarred Rope Pomade" daily
use "Glass Float Serum" daily
"""


def test_of_some_weeks_each_wash_stands_on_its_days_of_each(session: Session) -> None:
    week = week_of(account(SOME_WEEKS, session).overview.built.schedule)
    assert week is not None
    assert week.weeks == 2
    assert {row for row, _, _ in week.rows} == {
        "1. Tideline Wash",
        "1. Fog Bank Wash",
        "1. Sandpiper Wash",
        "2. Fog Bank Wash",
        "2. Sandpiper Wash",
    }
    assert week.rows[0] == ("1. Tideline Wash", {0}, True)
    svg = drawn(SOME_WEEKS, session)
    words = re.findall(r"<text[^>]*>([^<]*)", svg)
    assert "Week" in words
    assert any("Old Chart Conditioner" in word for word in words)
    lines = [float(y) for y in re.findall(r'<text[^>]* y="([\d.]+)"', svg)]
    top, _, end, _ = SHAPES["9:16"].margins
    assert top < min(lines)
    assert max(lines) < SHAPES["9:16"].high - end
    assert lines == sorted(lines)
