"""A week told in free speech becomes lines of a routine; what is not read is told."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.routine.parse import parse_routines
from abluent.grammar.week.read import Week, read_week

_PRODUCTS = {
    "heron wash": "Heron Wash",
    "heron": "Heron Wash",
    "gull deep": "Gull Deep",
    "teal cream": "Teal Cream",
    "tern oil": "Tern Oil",
    "the leave in": "Tern Oil",
}
_WASHES = {"Heron Wash", "Gull Deep"}


class Names:
    """Four products, one kind of product and one condition."""

    def find(self, words: tuple[str, ...]) -> Sense | None:
        name = " ".join(words)
        if name in {"hard water", "in hard water"}:
            return Sense("in hard water", frozenset({"condition"}))
        if name == "leave in":
            return Sense("leave-ins", frozenset({"kind"}))
        product = _PRODUCTS.get(name)
        if product is None:
            return None
        more = {"wash", "agent"} if product in _WASHES else set()
        return Sense(product, frozenset({"product", *more}))

    def repair(self, word: str) -> str:
        return ""


def read(text: str) -> Week:
    found = read_week(text, Names())
    assert found is not None, text
    return found


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        (
            "I use Heron Wash at each wash and Teal Cream on wash days, three washes a "
            "week: mildest routine?",
            [
                'wash with "Heron Wash" 3 times a week',
                'use "Teal Cream" after every wash',
                "clear everything every 14 days",
            ],
        ),
        (
            "swim twice a week, leave-in after, what do I wash with and how often",
            [
                "wash twice a week",
                'use "Tern Oil" after every wash',
                "clear everything every 14 days",
            ],
        ),
        (
            "Teal Cream every Sunday and Heron Wash every third day, what stays?",
            ['wash with "Heron Wash" every 3 days', 'use "Teal Cream" on Sunday'],
        ),
        (
            "Tern Oil and Teal Cream daily, 4x/wk w/ Heron Wash, does it build up",
            [
                'wash with "Heron Wash" 4 times a week',
                'use "Tern Oil" daily',
                'use "Teal Cream" daily',
            ],
        ),
        (
            "If I use Teal Cream twice a week, wash with Heron each time, and use Gull "
            "Deep the first of every month, what is left?",
            [
                'wash with "Gull Deep" every 4 weeks on Sunday',
                'wash with "Heron Wash" twice a week',
                'use "Teal Cream" twice a week',
            ],
        ),
        (
            "what stays if I wash with Heron mon and thu for two months",
            ["for 8 weeks", 'wash with "Heron Wash" on Monday and Thursday'],
        ),
    ],
)
def test_a_week_is_read_to_its_lines(text: str, lines: list[str]) -> None:
    found = read(text)
    assert found.lines == lines
    assert parse_routines("\n".join(found.lines))
    assert not found.put_in


def test_what_was_not_said_is_put_in_and_told() -> None:
    found = read("my gel is Teal Cream and I wash with Heron every 5 days, what stays")
    assert found.put_in == ['use "Teal Cream" after every wash']


def test_what_was_not_read_is_told() -> None:
    text = "Teal Cream daily, pomade weekly, Heron Wash twice a week, what stays"
    found = read(text)
    assert "pomade" in {text[each.start : each.end] for each in found.unread}


def test_a_product_that_is_denied_has_no_place_in_it() -> None:
    found = read("Heron twice a week, no Tern Oil, Teal Cream daily. what stays")
    assert 'use "Tern Oil"' not in " ".join(found.lines)
    assert found.aside == ("Tern Oil",)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "…",
        "does Heron Wash clear everything from Teal Cream",
        "what does Tern Oil leave",
        "every day",
        "he uses Teal Cream daily and Heron weekly, whose hair is cleaner",
    ],
)
def test_what_tells_no_week_is_none(text: str) -> None:
    assert read_week(text, Names()) is None


def test_the_conditions_of_a_week_are_told() -> None:
    found = read("hard water, Heron twice a week, Teal Cream daily, what stays")
    assert found.conditions == (("in hard water", "hard water"),)
