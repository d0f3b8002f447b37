"""What goes with an advised wash: for whom, after what, how often, and with what."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from weeks import Week, by_name

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
    assert told.startswith("Buy a mild wash for most days")
    assert "Scar One is a strong wash, used 7 times a week" in told


WEEKS = [
    Week(
        "damaged hair has a strong wash once in two weeks",
        "routine",
        """
water is soft
hair is bleached twice
wash with "Rill Deep" on Sunday
wash with "Rill Foam" on Wednesday
use "Rill Paste" on Saturday
""",
        never=("Nothing has to change",),
        starts="Wash with Rill Foam instead of Rill Deep every time",
    ),
    Week(
        "the strong wash that stays comes after what is seldom left in",
        "routine",
        """
water is hard
wash with "Rill Deep" on Tuesday and Saturday
use "Rill Paste" on Friday
""",
        says=(
            "first on Saturday, right after Rill Paste",
            "add Rill Bare after it each time.",
        ),
    ),
    Week(
        "no strong wash is advised for a baby",
        "routine",
        """
routine "Baby Ivo"
water is hard
wash with "Rill Foam" twice a week
use "Rill Balm" daily
""",
        says=(
            "clarifying products away from babies.",
            "Salicylic acid is not for children under three.",
        ),
        never=(
            "Rill Deep",
            "Rill Balm after it",
        ),
    ),
    Week(
        "a strong wash that is used on a baby goes",
        "routine",
        """
routine "Toddler Ada"
water is hard
wash with "Rill Deep" on Saturday
wash with "Rill Foam" on Wednesday
""",
        says=("Wash with Rill Foam instead of Rill Deep every time",),
        never=("nothing more builds up",),
    ),
    Week(
        "what leaves again what was taken is not named after it",
        "routine",
        """
water is hard
wash with "Rill Foam" three times a week
use "Rill Gloss" after every wash
""",
        says=("use Rill Bare after it and not Rill Gloss",),
    ),
    Week(
        "a line that was not understood is named",
        "routine",
        """
water is soft
wash with "Rill Foam" on Sunday
use "Rill Bare" after every wash
""",
        says=("`Quorvane Blend` on the label of Rill Bare was not understood",),
    ),
    Week(
        "water alone is no wash",
        "routine",
        """
rinse with water daily
use "Rill Paste" daily
""",
        starts="Wash with Rill Foam once a week, in the place of a rinse",
    ),
    Week(
        "a plan names what helps with what no wish names",
        "plan",
        """
water is hard
wash on Monday and Friday
use "Rill Bare" on Friday
use "Rill Paste" on Thursday
clear waxes every 7 days
at most 1 strong wash in 14 days
""",
        says=(
            "Once in two weeks wash with Rill Deep instead of Rill Foam",
            "use Rill Bare after it, as you do on that day.",
            "Kept in part at least: `clear waxes every 7 days`",
        ),
    ),
    Week(
        "a plan tries longer turns for what may go",
        "plan",
        """
water is hard
wash on Monday, Wednesday and Friday
clear hard-water minerals every 14 days
at most 1 strong wash in 14 days
""",
        starts="Wash with Rill Deep once in two weeks, first on Monday",
    ),
    Week(
        "a wash with a purpose of its own stays",
        "routine",
        """
water is soft
wash with "Rill Scalp" twice a week
""",
        says=("Rill Scalp holds Piroctone Olamine, against dandruff",),
        never=("instead of Rill Scalp",),
    ),
    Week(
        "limits alone make a plan",
        "plan",
        """
wash on Sunday
at most 1 strong wash a week
""",
        says=("nothing that your wishes name is left to clear",),
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize("week", WEEKS, ids=by_name)
def test_what_goes_with_a_wash_is_told(page_of: Page, week: Week) -> None:
    week.holds(page_of, SHELF)
