"""Strong washes stand where they are needed alone, and one conditions after them."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from weeks import Week, by_name

Page = Callable[..., str]

SHELF = """\
{"product": "Heron Soap", "kind": "wash", "market": "EU", "text": \
"Sodium Olivate, Aqua"}
{"product": "Heron Syndet", "kind": "wash", "market": "EU", "text": "Sodium Cocoyl \
Isethionate, Disodium Lauryl Sulfosuccinate, Aqua, Cetearyl Alcohol, Glycerin"}
{"product": "Heron Deep", "kind": "wash", "market": "EU", "text": "Aqua, \
Sodium Laureth Sulfate, Cocamidopropyl Betaine, Tetrasodium EDTA, Sodium Chloride"}
{"product": "Heron Cleanser", "kind": "co-wash", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Cetrimonium Chloride, Glycerin"}
{"product": "Heron Wax", "kind": "styler", "market": "EU", "text": "Petrolatum, \
Ozokerite, Parfum"}
{"product": "Heron Gel", "kind": "styler", "market": "EU", "text": "Aqua, \
Acrylates/C10-30 Alkyl Acrylate Crosspolymer, PVP"}
"""
MASKS = """\
{"product": "Heron Gloss", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Amodimethicone, Cetrimonium Chloride"}
{"product": "Heron Bare", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Cetrimonium Chloride, Glycerin"}
"""


@pytest.mark.slow
def test_what_nothing_is_known_of_comes_last(page_of: Page) -> None:
    told = page_of(
        SHELF,
        "routine",
        "water is soft",
        'wash with "Heron Deep" daily',
        'use "Heron Gel" daily',
    )
    assert told.index("Not known, so it may build up:") > told.index("Stays within")
    assert "that alone is no reason for a stronger wash" in told


WEEKS = [
    Week(
        "a wash comes right after wax and a co wash conditions",
        "routine",
        """
water is soft
wash with "Heron Cleanser" every other day
use "Heron Wax" on Saturday
""",
        says=(
            "washing again, or oil first, is the usual advice.",
            "add it as the conditioner after Heron Syndet.",
        ),
        never=("buy", "Heron Deep instead"),
        starts="Wash with Heron Syndet instead of Heron Cleanser once a week, at the "
        "wash right after Heron Wax:",
    ),
    Week(
        "a mask without what was just cleared is named",
        "plan",
        """
water is soft
wash with "Heron Cleanser" on Tuesday and Saturday
use "Heron Gloss" on Saturday
clear silicones every 3 washes
""",
        says=(
            "Heron Deep at every fourth wash",
            "add Heron Bare after it each time",
            "in any turn that was tried, of 7 to 28 days: 1 in 14 days",
        ),
        more=MASKS,
    ),
    Week(
        "soap goes for the mild wash with a chelating one a week",
        "routine",
        """
water is hard
wash with "Heron Soap" three times a week
""",
        says=(
            "Heron Deep instead of Heron Soap once a week",
            "And wash with Heron Syndet instead of Heron Soap the other times",
        ),
        never=("Not known, so it may build up",),
    ),
    Week(
        "a strong wash twice a week is never all well",
        "routine",
        """
water is soft
wash with "Heron Deep" on Wednesday and Sunday
use "Heron Bare" on Sunday
""",
        says=("Heron Deep is a strong wash and Heron Syndet is not",),
        never=("Nothing has to change",),
        starts="Wash with Heron Syndet instead of Heron Deep",
        more=MASKS,
    ),
    Week(
        "a chelating wash that is used is named for minerals",
        "routine",
        """
water is hard
wash with "Heron Deep" on Sunday
""",
        says=("How much Heron Deep takes of hard-water minerals is not known here",),
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize("week", WEEKS, ids=by_name)
def test_strong_washes_stand_where_they_are_needed(page_of: Page, week: Week) -> None:
    week.holds(page_of, SHELF)
