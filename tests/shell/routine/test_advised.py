"""What an account and a plan say to do is true of the page and of the wash named."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pytest

Page = Callable[..., str]

SHELF = """\
{"product": "Teal Soap", "kind": "wash", "market": "EU", "text": "Sodium Olivate, Aqua"}
{"product": "Rush Wash", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Cocoyl \
Isethionate, Cocamidopropyl Betaine, Coco-Glucoside, Citric Acid"}
{"product": "Ebb Wash", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Laureth \
Sulfate, Cocamidopropyl Betaine, Tetrasodium EDTA, Sodium Chloride"}
{"product": "Sour Rinse", "kind": "rinse", "market": "EU", "text": "Aqua, Acetum, \
Citric Acid"}
{"product": "Moss Cream", "kind": "leave-in", "market": "EU", "text": "Aqua, Cetearyl \
Alcohol, Behentrimonium Methosulfate"}
{"product": "Silk Dew", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Amodimethicone, Cetearyl Alcohol"}
{"product": "Jade Oil", "kind": "oil", "market": "EU", "text": "Simmondsia Chinensis \
Seed Oil"}
"""


@pytest.fixture
def page(page_of: Page) -> Page:
    """The same, on the shelf of these tests."""
    return partial(page_of, SHELF)


@pytest.mark.slow
def test_a_strong_wash_that_is_used_is_counted(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Ebb Wash" on Monday',
        'wash with "Rush Wash" on Thursday',
        "no strong wash two days running",
    )
    assert "Kept: `no strong wash two days running`; 1 is used." in told


@pytest.mark.slow
def test_a_reason_is_true_of_the_wash_it_names(page: Page) -> None:
    told = page(
        "plan",
        "water is soft",
        'wash with "Rush Wash" on Sunday',
        'use "Silk Dew" after every wash',
        'only "Rush Wash"',
        "clear everything every wash",
    )
    assert "Milder anionics, such as isethionates" in told
    assert "ithout the help of an anionic" not in told


@pytest.mark.slow
def test_an_acid_rinse_and_a_chelating_wash_are_told_of(page: Page) -> None:
    week = ("water is hard", 'wash with "Teal Soap" on Wednesday and Sunday')
    rinsed = page("routine", *week, 'use "Sour Rinse" after every wash')
    assert "build up for certain" not in rinsed
    assert "Sour Rinse is no wash and is counted: An acid turns lime soap" in rinsed
    planned = page("plan", *week, "clear lime soap every 2 washes")
    assert planned.startswith(
        "Wash with Rush Wash on Wednesday and Sunday: Teal Soap leaves lime soap "
        "deposits, and this does without it. What is on the hair now of lime soap "
        "deposits goes in part at each wash with Rush Wash."
    )
    assert "Once in two weeks wash with Ebb Wash instead of Rush Wash" in planned


@pytest.mark.slow
def test_after_a_strong_wash_that_is_advised_one_conditions(page: Page) -> None:
    told = page(
        "routine",
        "water is hard",
        'wash with "Rush Wash" daily',
    )
    assert told.startswith("Wash with Ebb Wash instead of Rush Wash once a week")
    assert (
        "Condition after Ebb Wash, as after any strong wash: add Silk Dew after it"
        in told
    )


@pytest.mark.slow
def test_jojoba_needs_no_strong_wash(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Rush Wash" on Sunday',
        'use "Jade Oil" on Friday',
    )
    assert told.startswith("Nothing has to change:")
    assert "levels off" in told


@pytest.mark.slow
def test_every_second_wash_can_be_the_milder(page: Page) -> None:
    told = page(
        "plan",
        "water is soft",
        'wash with "Ebb Wash" on Sunday',
        'use "Silk Dew" on Friday',
        "clear silicones every 2 washes",
    )
    assert told.startswith("Wash with ")
    assert "Ebb Wash at every second wash" in told
    assert "Counted over 14 days" in told


@pytest.mark.slow
def test_days_that_may_wait_make_a_longer_turn(page: Page) -> None:
    """Where films may wait for 14 days one strong wash in them is enough."""
    told = page(
        "plan",
        "water is soft",
        "wash twice a week",
        'use "Silk Dew" on Friday',
        "clear silicones every 14 days",
    )
    assert "Ebb Wash at every fourth wash" in told
    assert "1 in 14 days" in told


@pytest.mark.slow
def test_an_insoluble_silicone_puts_back_no_soluble_one(page_of: Page) -> None:
    shelf = """\
{"product": "Cove Two", "kind": "wash", "market": "EU", "text": "Aqua, Sodium Laureth \
Sulfate, Dimethiconol, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Cove Spray", "kind": "leave-in", "market": "EU", "text": "Aqua, PEG-8 \
Dimethicone, VP/VA Copolymer"}
"""
    told = page_of(
        shelf,
        "routine",
        "water is soft",
        'wash with "Cove Two" on Sunday',
        'use "Cove Spray" daily',
    )
    assert "silicones (PEG-8 Dimethicone from Cove Spray): levels off" in told
    assert "so it may put back" not in told
