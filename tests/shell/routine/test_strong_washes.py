"""Strong washes stand where they are needed alone, and one conditions after them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

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


@pytest.fixture
def page(page_of: Page) -> Page:
    """The same, on the shelf of these tests where no other is given."""

    def printed(command: str, *lines: str, shelf: str = SHELF) -> str:
        return page_of(shelf, command, *lines)

    return printed


@pytest.mark.slow
def test_the_strong_wash_comes_right_after_wax_and_a_co_wash_conditions(
    page: Page,
) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Heron Cleanser" every other day',
        'use "Heron Wax" on Saturday',
    )
    assert told.startswith(
        "Wash with Heron Deep instead of Heron Cleanser once a week, at the wash right "
        "after Heron Wax:"
    )
    assert "washing again, or oil first, is the usual advice." in told
    assert "add Heron Cleanser as the conditioner after it each time." in told
    assert "buy" not in told


@pytest.mark.slow
def test_a_mask_without_what_was_just_cleared_is_named(page: Page) -> None:
    told = page(
        "plan",
        "water is soft",
        'wash with "Heron Cleanser" on Tuesday and Saturday',
        'use "Heron Gloss" on Saturday',
        "clear silicones every 3 washes",
        shelf=SHELF + MASKS,
    )
    assert "Heron Deep at every fourth wash" in told
    assert "add Heron Bare after it each time" in told
    assert "in any turn that was tried, of 7 to 28 days: 1 in 14 days" in told


@pytest.mark.slow
def test_soap_goes_for_the_mild_wash_with_a_chelating_one_a_week(page: Page) -> None:
    told = page("routine", "water is hard", 'wash with "Heron Soap" three times a week')
    assert "Heron Deep instead of Heron Soap once a week" in told
    assert "And wash with Heron Syndet instead of Heron Soap the other times" in told
    assert "Not known, so it may build up" not in told


@pytest.mark.slow
def test_what_nothing_is_known_of_comes_last(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Heron Deep" daily',
        'use "Heron Gel" daily',
    )
    assert told.index("Not known, so it may build up:") > told.index("Stays within")
    assert "that alone is no reason for a stronger wash" in told


@pytest.mark.slow
def test_a_strong_wash_twice_a_week_is_never_all_well(page: Page) -> None:
    told = page(
        "routine",
        "water is soft",
        'wash with "Heron Deep" on Wednesday and Sunday',
        'use "Heron Bare" on Sunday',
        shelf=SHELF + MASKS,
    )
    assert told.startswith("Wash with Heron Syndet instead of Heron Deep")
    assert "Heron Deep is a strong wash and Heron Syndet is not" in " ".join(
        told.split()
    )
    assert "Nothing has to change" not in told


@pytest.mark.slow
def test_a_chelating_wash_that_is_used_is_named_for_minerals(page: Page) -> None:
    told = page("routine", "water is hard", 'wash with "Heron Deep" on Sunday')
    assert "How much Heron Deep takes of hard-water minerals is not known here" in told
