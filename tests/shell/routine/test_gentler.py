"""A strong wash that is used too often, and a gentler one on the shelf."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Page = Callable[..., str]

SHELF = """\
{"product": "Crake Deep", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
Laureth Sulfate, Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Crake Day", "kind": "wash", "market": "EU", "text": "Aqua, \
Sodium Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride, Glycerin"}
"""


@pytest.mark.slow
@pytest.mark.parametrize("command", ["routine", "plan"])
def test_a_gentler_strong_wash_is_named_and_fewer_washes_first(
    page_of: Page, command: str
) -> None:
    told = page_of(
        SHELF,
        command,
        "water is soft",
        'wash with "Crake Deep" daily',
        "clear everything every 14 days",
    )
    assert told.startswith(
        "Wash less often, and with Crake Day instead of Crake Deep: Crake Deep is a "
        "strong wash, used 7 times a week"
    )
    assert "has no Sodium Lauryl Sulfate" in told
    assert "no milder wash at hand" not in told
    assert "Keep to it" not in told


@pytest.mark.slow
def test_a_plan_that_asks_for_nothing_takes_the_mildest(page_of: Page) -> None:
    mild = (
        '{"product": "Crake Mild", "kind": "wash", "market": "EU", "text": "Aqua, '
        'Disodium Laureth Sulfosuccinate, Cocamidopropyl Betaine"}\n'
    )
    wash = 'wash with "Crake Day" on Sunday'
    told = page_of(SHELF + mild, "plan", "water is soft", wash)
    assert told.startswith("Wash with Crake Mild on Sunday: no line asks for anything")
