"""Routines as text: read, printed, and the page about them."""

from __future__ import annotations

import re
from datetime import date
from importlib.resources import files

import pytest
from abluent.grammar.common.errors import GrammarError, GrammarProblems
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.parse import parse_routines
from abluent.grammar.routine.printer import print_routine
from hypothesis import given, settings
from hypothesis import strategies as st

PAGE = files("abluent.grammar.routine").joinpath("ROUTINES.md").read_text("utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
CELLS = [
    cell
    for row in re.findall(r"^\| (`.*?`) \|", PAGE, re.MULTILINE)
    for cell in re.findall(r"`(.*?)`", row)
]


@pytest.mark.parametrize("text", [text for kind, text in BLOCKS if kind == "routine"])
def test_an_example_is_a_routine_in_its_printed_wording(text: str) -> None:
    (routine,) = parse_routines(text)
    assert print_routine(routine) == text


@pytest.mark.parametrize("cell", CELLS)
def test_every_form_of_the_tables_can_be_read(cell: str) -> None:
    """`…` stands for a time or a way, and one-letter names for names."""
    line = re.sub(r"\bW\b", "washes", re.sub(r"\bF\b", "silicones", cell))
    opens = "wash use rinse cycle for from count clear only water hair".split()
    opens += ["scalp", "skin"]
    if line.startswith("…"):
        line = f'use "P" on 2026-03-02 {line[2:]}'
    elif not line.startswith((*opens, "at most", "no ")):
        line = f'use "P" {line}'
    way = "nothing" if line.startswith("count") else "daily"
    assert parse_routines(line.replace("…", way))


def test_the_message_shown_is_the_message_given() -> None:
    text = next(text for kind, text in BLOCKS if kind == "text")
    line = text.splitlines()[1].strip()
    with pytest.raises(GrammarError) as caught:
        parse_routines(line, "week.txt")
    assert caught.value.render() + "\n" == text


NAMES = st.text(
    st.characters(
        codec="utf-8", exclude_categories=("C", "Z"), exclude_characters="“”„«»"
    ),
    min_size=1,
    max_size=8,
)
DATES = st.lists(st.dates(date(2024, 1, 1), date(2030, 1, 1)), min_size=1, unique=True)
SORTED_DATES = DATES.map(lambda dates: tuple(sorted(dates)))
WEEKDAYS = st.sets(st.integers(0, 6), min_size=1).map(lambda days: tuple(sorted(days)))
WHENS = st.one_of(
    st.builds(ast.Daily, st.integers(1, 30)),
    st.builds(ast.Weekly, WEEKDAYS, st.integers(1, 6)),
    st.builds(ast.Times, st.integers(1, 7)),
    st.builds(ast.Beside, st.booleans(), NAMES),
    st.builds(ast.Beside, st.booleans(), st.just(""), st.integers(1, 4)),
    st.builds(ast.OnDates, SORTED_DATES),
)
USES = st.builds(ast.UseLine, st.booleans(), NAMES, WHENS, st.just(()) | SORTED_DATES)
PHRASES = st.sampled_from(
    ["silicones", 'everything except "A" and "B"', "strong washes"]
)
WANTS = st.one_of(
    st.builds(ast.Clear, PHRASES, st.integers(1, 40), st.booleans()),
    st.builds(ast.Only, PHRASES),
    st.builds(ast.AtMost, st.integers(0, 9), PHRASES, st.integers(1, 40)),
    st.builds(ast.Apart, PHRASES),
)
SAYINGS = st.builds(
    ast.Said,
    st.sampled_from(["water", "hair", "rubbing"]),
    st.sampled_from(["hard", "soft and warm", "bleached twice, fine"]),
)
WAYS = st.sampled_from([ast.CLEARING, ast.NOTHING, ast.EITHER])
ROUTINES = st.builds(
    ast.Routine,
    st.just("") | NAMES,
    st.lists(USES, min_size=1, max_size=4).map(tuple),
    st.none() | st.dates(date(2024, 1, 1), date(2030, 1, 1)),
    st.none() | st.integers(1, 400),
    st.none() | st.integers(1, 400),
    st.lists(SAYINGS, max_size=2, unique_by=lambda said: said.aspect).map(tuple),
    st.lists(WANTS, max_size=3).map(tuple),
    st.builds(ast.Counting, WAYS, WAYS),
)


@pytest.mark.slow
@settings(deadline=None)
@given(ROUTINES)
def test_reading_what_was_printed_gives_the_same_routine(routine: ast.Routine) -> None:
    assert parse_routines(print_routine(routine)) == (routine,)


def test_every_faulty_line_is_told_with_its_place() -> None:
    text = "use Cream daily\nwash daily\nwater is\nfrom 2026-02-30\n"
    with pytest.raises(GrammarProblems) as caught:
        parse_routines(text, "week.txt")
    places = [line for line in str(caught.value).splitlines() if "week.txt" in line]
    assert [place.split(":")[1] for place in places] == ["1", "3", "4"]
    assert "stands in quotes" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("from 2026-03-01 until 2026-02-01", "comes before"),
        ("water is hard\nwater is soft", "was said before"),
        ('use "" daily', "is empty"),
        ('use "A" 8 times a week', "a week has 7 days"),
        ("wash after every wash", "cannot stand beside every wash"),
        ('use "A" every 0 days', "at least 1"),
    ],
)
def test_what_cannot_be_so_is_refused(text: str, told: str) -> None:
    with pytest.raises(GrammarError, match=told):
        parse_routines(text)


def test_several_routines_stand_in_one_text() -> None:
    text = 'routine "A"\nwash daily\n\nroutine "B"  # another\nuse "C" daily.\n'
    assert [each.name for each in parse_routines(text)] == ["A", "B"]
