"""What goes with an advised wash: for whom, after what, how often, and with what."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pytest

Page = Callable[..., str]

SHELF = """\
{"product": "Rill Foam", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Lauroyl \
Sarcosinate, Cocamidopropyl Betaine, Glycerin"}
{"product": "Rill Deep", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Laureth \
Sulfate, Cocamidopropyl Betaine, Tetrasodium EDTA, Sodium Chloride"}
{"product": "Rill Scalp", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
Laureth Sulfate, Piroctone Olamine, Cocamidopropyl Betaine"}
{"product": "Rill Gloss", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Amodimethicone, Cetrimonium Chloride"}
{"product": "Rill Bare", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Cetrimonium Chloride, Quorvane Blend"}
{"product": "Rill Paste", "kind": "styler", "market": "EU", "text": "Aqua, Cera Alba, \
Lanolin, Ceteareth-20"}
{"product": "Rill Balm", "kind": "leave-in", "market": "EU", "text": "Petrolatum, \
Lanolin"}
"""


@pytest.fixture
def page(page_of: Page) -> Page:
    """The same, on the shelf of these tests."""
    return partial(page_of, SHELF)


@pytest.mark.slow
def test_damaged_hair_has_a_strong_wash_once_in_two_weeks(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        "hair is bleached twice",
        'wash with "Rill Deep" on Sunday',
        'wash with "Rill Foam" on Wednesday',
        'use "Rill Paste" on Saturday',
    )
    assert told.startswith("Wash with Rill Foam instead of Rill Deep every time")
    assert "Nothing has to change" not in told


@pytest.mark.slow
def test_the_strong_wash_that_stays_comes_after_what_is_seldom_left_in(
    page: Page,
) -> None:
    told = page(
        "routine",
        "water is hard",
        'wash with "Rill Deep" on Tuesday and Saturday',
        'use "Rill Paste" on Friday',
    )
    assert "first on Saturday, right after Rill Paste" in told
    assert "add Rill Bare after it each time." in told


@pytest.mark.slow
def test_no_strong_wash_is_advised_for_a_baby(page: Page) -> None:
    told = page(
        "routine",
        'routine "Baby Ivo"',
        "water is hard",
        'wash with "Rill Foam" twice a week',
        'use "Rill Balm" daily',
    )
    assert "away from babies" in told
    assert "Rill Deep" not in told
    assert "Rill Balm after it" not in told


@pytest.mark.slow
def test_a_strong_wash_that_is_used_on_a_baby_goes(page: Page) -> None:
    told = page(
        "routine",
        'routine "Toddler Ada"',
        "water is hard",
        'wash with "Rill Deep" on Saturday',
        'wash with "Rill Foam" on Wednesday',
    )
    assert "Wash with Rill Foam instead of Rill Deep every time" in told
    assert "nothing more builds up" not in told


@pytest.mark.slow
def test_what_leaves_again_what_was_taken_is_not_named_after_it(page: Page) -> None:
    told = page(
        "routine",
        "water is hard",
        'wash with "Rill Foam" three times a week',
        'use "Rill Gloss" after every wash',
    )
    assert "use Rill Bare after it and not Rill Gloss" in told


@pytest.mark.slow
def test_a_line_that_was_not_understood_is_named(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Rill Foam" on Sunday',
        'use "Rill Bare" after every wash',
    )
    assert "`Quorvane Blend` on the label of Rill Bare was not understood" in told


@pytest.mark.slow
def test_water_alone_is_no_wash(page: Page) -> None:
    told = page("routine", "rinse with water daily", 'use "Rill Paste" daily')
    assert told.startswith("Wash with Rill Foam once a week, in the place of a rinse")


@pytest.mark.slow
def test_a_plan_names_what_helps_with_what_no_wish_names(page: Page) -> None:
    told = page(
        "plan",
        "water is hard",
        "wash on Monday and Friday",
        'use "Rill Bare" on Friday',
        'use "Rill Paste" on Thursday',
        "clear waxes every 7 days",
        "at most 1 strong wash in 14 days",
    )
    assert "Once in two weeks wash with Rill Deep instead of Rill Foam" in told
    assert "use Rill Bare after it, as you do on that day." in told
    assert "Kept in part at least: `clear waxes every 7 days`" in told


@pytest.mark.slow
def test_a_plan_tries_longer_turns_for_what_may_go(page: Page) -> None:
    told = page(
        "plan",
        "water is hard",
        "wash on Monday, Wednesday and Friday",
        "clear hard-water minerals every 14 days",
        "at most 1 strong wash in 14 days",
    )
    assert told.startswith("Wash with Rill Deep once in two weeks, first on Monday")


@pytest.mark.slow
def test_a_wash_with_a_purpose_of_its_own_stays(page: Page) -> None:
    told = page("routine", "water is soft", 'wash with "Rill Scalp" twice a week')
    assert "Rill Scalp holds Piroctone Olamine, against dandruff" in told
    assert "instead of Rill Scalp" not in told


@pytest.mark.slow
def test_a_shelf_of_strong_washes_is_not_well(page_of: Page) -> None:
    shelf = """\
{"product": "Scar One", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Lauryl \
Sulfate, Sodium Chloride"}
{"product": "Scar Cream", "kind": "conditioner", "market": "EU", "text": "Aqua, Cetyl \
Alcohol, Behentrimonium Chloride"}
"""
    lines = ('wash with "Scar One" daily', 'use "Scar Cream" on Sunday')
    told = page_of(shelf, "routine", "water is soft", *lines)
    assert told.startswith("Scar One is a strong wash, used 7 times a week")
    assert "buy a mild wash for most days" in told


def test_limits_alone_make_a_plan(page: Page) -> None:
    told = page("plan", "wash on Sunday", "at most 1 strong wash a week")
    assert "nothing that your wishes name is left to clear" in told
