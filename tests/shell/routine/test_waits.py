"""A wish that comes sooner than the next wash, or later than the last day."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from weeks import Week, by_name

Page = Callable[..., str]

SHELF = """\
{"product": "Ibis Deep", "kind": "wash", "market": "EU", "text": "Aqua, \
Ammonium Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Ibis Rinse", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Dimethicone"}
{"product": "Ibis Oil", "kind": "oil", "market": "EU", "text": \
"Caprylic/Capric Triglyceride"}
"""
CREAM = """\
{"product": "Ibis Cream", "kind": "co-wash", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Behentrimonium Chloride"}
"""


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


WEEKS = [
    Week(
        "a wash that comes later than is wished is told to",
        "plan",
        """
water is soft
wash with "Ibis Deep" every 30 days
use "Ibis Rinse" after every wash
clear everything every 14 days
""",
        says=(
            "though later than your wishes ask",
            "Not surely kept: `clear everything every 14 days`",
        ),
        never=("None",),
    ),
    Week(
        "days that end before a wish asks are told so",
        "plan",
        """
from 2026-03-07 for 14 days
water is soft
wash with "Ibis Deep" on 2026-03-07
use "Ibis Oil" on 2026-03-08
clear everything every 14 days
""",
        says=(
            "these days end before your wishes ask for anything to be cleared",
            "they end before a wash has to take",
        ),
        never=("None",),
    ),
    Week(
        "every so manieth wash is told in days too",
        "routine",
        """
water is soft
wash with "Ibis Cream" every 30 days
use "Ibis Oil" after every wash
""",
        says=("at every third wash (once in 90 days), first on day 1",),
        more=CREAM,
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize("week", WEEKS, ids=by_name)
def test_a_wish_that_no_wash_meets_in_time_is_told(page_of: Page, week: Week) -> None:
    week.holds(page_of, SHELF)
