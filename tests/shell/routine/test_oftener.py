"""A wash that comes too seldom is advised more often, for films and for notes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from weeks import Week, by_name

Page = Callable[..., str]

SHELF = """\
{"product": "Teasel Day", "kind": "wash", "market": "EU", "text": "Aqua, Decyl \
Glucoside, Cocamidopropyl Betaine, Glycerin, Sodium Lauroyl Sarcosinate"}
{"product": "Teasel Deep", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Teasel Chelate", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
C14-16 Olefin Sulfonate, Cocamidopropyl Betaine, Tetrasodium EDTA, Sodium Gluconate"}
{"product": "Teasel Pomade", "kind": "styler", "market": "EU", "text": "Petrolatum, \
Cera Alba, Lanolin"}
{"product": "Teasel Spray", "kind": "styler", "market": "EU", "text": "Alcohol \
Denat., VP/VA Copolymer"}
"""
WEEKS = [
    Week(
        "a daily pomade wants the strong wash that is used once a week",
        "routine",
        """
wash with "Teasel Day" on Monday and Thursday
wash with "Teasel Deep" every 20 days
use "Teasel Pomade" every day
""",
        says=(
            "20 uses of Teasel Pomade",
            "Less of Teasel Pomade helps most in the long run: use a fingertip of it, "
            "or on every second day alone.",
            "stay from wash to wash",
        ),
        never=("Nothing has to change", "Teasel Day instead", "Nothing builds up"),
        starts="Wash with Teasel Deep once a week instead of Teasel Day, and not only "
        "once in 20 days:",
    ),
    Week(
        "a strong wash that is not used yet is told of once, and no use is counted",
        "routine",
        """
hair is greasy
wash with "Teasel Day" on Monday and Thursday
use "Teasel Pomade" every day
""",
        says=("no wash that is used now is known to be as strong on waxes",),
        never=("uses of Teasel Pomade lie", "wash once with"),
        starts="Wash with Teasel Deep once a week instead of Teasel Day:",
    ),
    Week(
        "one weekly use of it does not",
        "routine",
        """
wash with "Teasel Day" on Monday and Thursday
use "Teasel Pomade" on Sunday
""",
        starts="Nothing has to change",
        never=("lie between", "common practice, no source"),
    ),
    Week(
        "where hair feels coated and washes are few, more are advised",
        "routine",
        """
hair is stiff, white flakes on it, not on the scalp
wash with "Teasel Day" on Sunday
use "Teasel Spray" on weekdays
""",
        says=(
            "Wash twice a week, not once a week, with Teasel Day: 5 uses of "
            "Teasel Spray lie between two such washes now",
            "(What is said to your note: common practice, no source.)",
            "(How often: common practice, no source.)",
        ),
        starts="White flakes that brush out while the scalp is clear are mostly "
        "styling resin",
    ),
    Week(
        "green hair speaks of metal in soft water too",
        "routine",
        """
water is soft
hair is blond, greenish
wash with "Teasel Day" daily
""",
        says=("a wash without chelant or acid leaves it",),
        starts="Wash with Teasel Chelate once a week for a month and once in two weeks "
        "after it instead of Teasel Day: your note says `greenish`",
    ),
    Week(
        "a strong wash comes seldom where hair is dry",
        "routine",
        """
hair is coily, dry
wash with "Teasel Day" every 7 days
wash with "Teasel Deep" every 70 days
use "Teasel Pomade" every day
""",
        starts="Wash with Teasel Deep once in three weeks instead of Teasel Day",
    ),
    Week(
        "where washes are rarer than weekly, a mild one that helps comes every time",
        "routine",
        """
water is soft
wash with "Teasel Mild" every 14 days
use "Teasel Spray" on Sunday
use "Teasel Pomade" on Sunday
""",
        starts="Wash with Teasel Day instead of Teasel Mild every time",
        never=("third wash",),
        more='{"product": "Teasel Mild", "kind": "wash", "market": "EU", "text": '
        '"Aqua, Cetearyl Alcohol, Glycerin, Cetrimonium Chloride"}\n',
    ),
    Week(
        "iron in the note is told of, beside a change that takes it",
        "routine",
        """
water is very hard
hair is orange, iron-rich well water
wash with "Teasel Day" every 2 days
""",
        says=(
            "Wash with Teasel Chelate",
            "your note says `iron-rich`",
            "filtered or rain water",
        ),
        starts="Iron of well water can tint light hair orange or brown",
    ),
    Week(
        "water between soft and hard is neither, and nothing is bought for it",
        "routine",
        """
water is moderately hard
wash with "Teasel Day" on Monday and Thursday
use "Teasel Spray" on Sunday
""",
        says=("Water between soft and hard",),
        never=("minerals build up", "thing to buy"),
        starts="Nothing has to change",
    ),
    Week(
        "healthy hair is left as it is",
        "routine",
        """
water is soft
hair is long, healthy
wash with "Teasel Deep" three times a week
""",
        starts="Nothing has to change",
        never=("too often", "more often than"),
    ),
    Week(
        "where hair feels coated and washes take a part, one lathers twice",
        "routine",
        """
water is soft
hair is long, sticky
wash with "Teasel Deep" on Tuesday and Saturday
use "Teasel Oil" before every wash
""",
        starts="Lather twice at each wash, and use less of Teasel Oil",
        never=("Nothing has to change",),
        more='{"product": "Teasel Oil", "kind": "oil", "market": "EU", "text": '
        '"Ricinus Communis Seed Oil"}\n',
    ),
    Week(
        "a plan begins with what the account says where the wishes would undo it",
        "plan",
        """
wash with "Teasel Day" on Monday and Thursday
wash with "Teasel Deep" every 20 days
use "Teasel Pomade" every day
clear everything every 14 days
""",
        says=("`clear everything every 14 days` is kept",),
        never=("to the letter", "Why this one"),
        starts="Wash with Teasel Deep once a week instead of Teasel Day",
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize("week", WEEKS, ids=by_name)
def test_what_comes_too_seldom_is_told(page_of: Page, week: Week) -> None:
    week.holds(page_of, SHELF)


@pytest.mark.slow
def test_less_of_what_coats_comes_first_where_nothing_takes_it(page_of: Page) -> None:
    first, *_ = SHELF.splitlines()
    serum = (
        '{"product": "Teasel Serum", "kind": "oil", "market": "EU", "text": '
        '"Dimethicone, Dimethiconol"}'
    )
    told = page_of(
        f"{first}\n{serum}\n".replace(", Sodium Lauroyl Sarcosinate", ""),
        "routine",
        "water is soft",
        "hair is long, limp",
        'wash with "Teasel Day" on Tuesday and Saturday',
        'use "Teasel Serum" daily',
    )
    assert told.startswith("Use Teasel Serum less often, on wash days alone or every")
    assert "As your note says `limp`, buy a wash with" in told
    assert "if hair feels better then, use it so at every fourth wash." in told


@pytest.mark.slow
def test_a_product_without_a_list_stops_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, routine = tmp_path / "shelf.jsonl", tmp_path / "week.txt"
    bare = '{"product": "Teasel Balm", "kind": "styler", "market": "EU", "text": ""}\n'
    file.write_text(SHELF + bare, "utf-8")
    lines = (
        'wash with "Teasel Day" on Sunday',
        'use "Teasel Balm" on Friday',
        'use "Teasel Spray" after "Teasel Balm"',
    )
    routine.write_text("\n".join(lines) + "\n", "utf-8")
    assert main(["routine", "--shelf", str(file), str(routine)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert told.startswith("Nothing can be said of Teasel Balm without its list")
    assert "from Teasel Spray" in told
