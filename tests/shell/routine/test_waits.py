"""A wish that comes sooner than the next wash, or later than the last day."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Page = Callable[..., str]

SHELF = """\
{"product": "Ibis Deep", "kind": "wash", "market": "EU", "text": "Aqua, \
Ammonium Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Ibis Rinse", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Dimethicone"}
{"product": "Ibis Oil", "kind": "oil", "market": "EU", "text": \
"Caprylic/Capric Triglyceride"}
"""


@pytest.mark.slow
def test_a_wash_that_comes_later_than_is_wished_is_told_to(page_of: Page) -> None:
    told = page_of(
        SHELF,
        "plan",
        "water is soft",
        'wash with "Ibis Deep" every 30 days',
        'use "Ibis Rinse" after every wash',
        "clear everything every 14 days",
    )
    assert "though later than your wishes ask" in told
    assert "Not surely kept: `clear everything every 14 days`" in told
    assert "None" not in told


@pytest.mark.slow
def test_days_that_end_before_a_wish_asks_are_told_so(page_of: Page) -> None:
    told = page_of(
        SHELF,
        "plan",
        "from 2026-03-07 for 14 days",
        "water is soft",
        'wash with "Ibis Deep" on 2026-03-07',
        'use "Ibis Oil" on 2026-03-08',
        "clear everything every 14 days",
    )
    assert "these days end before your wishes ask for anything to be cleared" in told
    assert "they end before a wash has to take" in told
    assert "None" not in told


def test_a_product_of_no_known_kind_is_told_as_not_counted(page_of: Page) -> None:
    told = page_of(
        SHELF.replace('"oil"', '"other"'),
        "routine",
        "water is soft",
        'wash with "Ibis Deep" every 30 days',
        'use "Ibis Oil" after every wash',
    )
    assert told.startswith(
        "What Ibis Oil leaves is not counted: the shelf has it as `other`."
    )
    assert "Nothing has to change" not in told
    assert "nothing that this routine leaves needs a wash" not in told


@pytest.mark.slow
def test_every_so_manieth_wash_is_told_in_days_too(page_of: Page) -> None:
    mild = SHELF + (
        '{"product": "Ibis Cream", "kind": "co-wash", "market": "EU", "text": "Aqua, '
        'Cetearyl Alcohol, Behentrimonium Chloride"}\n'
    )
    told = page_of(
        mild,
        "routine",
        "water is soft",
        'wash with "Ibis Cream" every 30 days',
        'use "Ibis Oil" after every wash',
    )
    assert "at every third wash (once in 90 days), first on day 1" in told
