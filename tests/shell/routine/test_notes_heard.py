"""What a note says of hair and scalp is heard, also where it denies a sign."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from abluent.engine.base.conditions import in_line
from abluent.engine.base.store import Base
from abluent.engine.routines.noted import (
    advised_to,
    coated,
    films_noted,
    harmed,
    noted,
    well,
)
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session


@pytest.fixture(scope="module")
def base() -> Base:
    return Session.open().world.base


def _routine(note: str) -> str:
    return f'{note}\nwash with "Ibis Deep" on Sunday\n'


@pytest.mark.parametrize(
    ("note", "heard"),
    [
        ("hair is falling in round patches", True),
        ("hair is fine, falling out in patches", True),
        ("scalp is normal, little bumps", True),
        ("hair is white flakes on it, flakes not on the scalp", False),
        ("hair is not on the scalp, sore", True),
        ("scalp is without flakes", False),
        ("scalp is no itch", False),
        ("scalp is itchy", True),
    ],
)
def test_signs_are_heard_but_where_they_are_denied(
    base: Base, note: str, heard: bool
) -> None:
    (routine,) = parse_routines(_routine(note))
    assert bool(noted(routine, base)) == heard


@pytest.mark.parametrize(
    ("note", "word"),
    [
        ("hair is flat, coated", "flat"),
        ("hair is fine, coated", "coated"),
        ("hair is not coated", ""),
        ("hair is nothing can ever build up", ""),
        ("hair is nothing builds up, build-up at the ends", "build-up"),
        ("hair is greasy", "greasy"),
        ("hair is lacquered flat", ""),
        ("hair is flat, flat-ironed", "flat"),
    ],
)
def test_that_hair_feels_coated_is_heard(base: Base, note: str, word: str) -> None:
    (routine,) = parse_routines(_routine(note))
    assert coated(routine, base) == word


@pytest.mark.parametrize(
    ("note", "hurt", "fine"),
    [
        ("hair is long, healthy", "", True),
        ("hair is healthy, scalp tight", "scalp tight", False),
        ("hair is healthy, tight curls", "", True),
        ("hair is not healthy", "", False),
        ("hair is like straw", "straw", False),
    ],
)
def test_that_hair_is_harmed_or_well_is_heard(
    base: Base, note: str, hurt: str, fine: bool
) -> None:
    (routine,) = parse_routines(_routine(note))
    assert (harmed(routine, base), well(routine, base)) == (hurt, fine)


def test_green_hair_speaks_of_metal(base: Base) -> None:
    (routine,) = parse_routines(_routine("hair is blond, greenish"))
    assert films_noted(routine, base) == {"HardWaterMineral": "greenish"}


def test_protein_is_advised_on_where_some_is_used(base: Base) -> None:
    (routine,) = parse_routines(_routine("hair is stiff"))
    some = advised_to(routine, base, ["hydrolyzed-wheat-protein"])
    assert [each.caution for each in some] == ["note-protein"]
    assert advised_to(routine, base, ["dimethicone"]) == []


Page = Callable[..., str]

POOL = """\
{"product": "Egret Mild", "kind": "wash", "market": "EU", "text": "Aqua, Decyl \
Glucoside, Coco-Glucoside, Cocamidopropyl Betaine, Glycerin"}
{"product": "Egret Rinse", "kind": "rinse", "market": "EU", "text": "Aqua, Citric \
Acid, Sodium Gluconate, Tetrasodium Glutamate Diacetate, Phytic Acid"}
"""


@pytest.mark.slow
def test_a_rinse_at_hand_takes_what_a_pool_leaves(page_of: Page) -> None:
    """Nobody is sent for a bottle where a rinse with a chelant stands there."""
    told = page_of(
        POOL,
        "routine",
        "water is soft",
        "hair is in the pool four times a week",
        'wash with "Egret Mild" 4 times a week',
        'use "Heath Balm" after every wash',
    )
    assert told.startswith("Heath Balm is not on the shelf and left out here")
    assert "Use Egret Rinse once a week for a month" in told
    assert "is the thing to buy" not in told


@pytest.mark.slow
@pytest.mark.parametrize(
    ("title", "told", "never"),
    [
        (
            "Behentrimonium methosulfate is a sulfate, so must I bin it?",
            "is not a sulfate cleanser",
            "Names in -cone are all silicones",
        ),
        (
            "Silicone-free for years, so it can't be build-up",
            "Free of silicones is not free of residue",
            "Having no trouble does not prove",
        ),
    ],
)
def test_what_is_said_is_met_first(
    page_of: Page, title: str, told: str, never: str
) -> None:
    """A saying of the base is met in the first sentence, and none that a sign met."""
    page = page_of(
        POOL, "routine", f'routine "{title}"', 'wash with "Egret Mild" on Sunday'
    )
    first = page.removeprefix(f"{title}: ").split(". ")[0]
    assert told in first
    assert never not in page
    assert "(What is said to your note: common practice, no source.)" in page


@pytest.mark.parametrize(
    ("note", "heard"),
    [
        ("hair is baby-fine", False),
        ("hair is washed with the baby one", False),
        ("hair is my baby's, first curls", True),
        ("hair is a toddler's", True),
        ("hair is white, flakes brushed out", False),
    ],
)
def test_words_that_mean_something_else_call_for_nothing(
    base: Base, note: str, heard: bool
) -> None:
    (routine,) = parse_routines(_routine(note))
    assert bool(noted(routine, base)) == heard


@pytest.mark.parametrize(
    ("note", "heard"),
    [
        ("hair is thick, my daughter says it suffocates", False),
        ("hair is long, curly girl method", False),
        ("hair is my daughter's", True),
    ],
)
def test_a_child_is_one_who_is_washed(base: Base, note: str, heard: bool) -> None:
    (routine,) = parse_routines(_routine(note))
    found = [each.caution for each in advised_to(routine, base, [])]
    assert ("note-child" in found) == heard


@pytest.mark.slow
def test_what_is_for_a_child_comes_after_the_advice(page_of: Page) -> None:
    told = page_of(
        POOL, "routine", "hair is my baby's", 'wash with "Egret Mild" on Sunday'
    )
    assert told.startswith("Nothing has to change")
    assert "Your note says `baby`. Salicylic acid" in told


OILED = """\
{"product": "Egret Powder", "kind": "wash", "market": "EU", "text": "Decyl Glucoside, \
Aqua, Glycerin"}
{"product": "Egret Strong", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride"}
{"product": "Egret Oil", "kind": "oil", "market": "EU", "text": "Paraffinum Liquidum, \
Cocos Nucifera Oil"}
"""


@pytest.mark.slow
def test_a_remark_on_an_amount_is_heard(page_of: Page) -> None:
    """What is remarked behind a line is heard; nothing else has to change then."""
    told = page_of(
        OILED,
        "routine",
        'use "Egret Oil" on Tuesday  # a good palmful',
        'wash with "Egret Strong" on Wednesday',
    )
    assert told.startswith("Take far less at a time")
    assert "Nothing has to change" not in told
    planned = page_of(
        OILED,
        "plan",
        'use "Egret Oil" on Tuesday  # a good palmful',
        'wash with "Egret Strong" on Wednesday',
        "clear everything every 14 days",
    )
    assert planned.startswith("Take far less at a time")


@pytest.mark.slow
def test_a_strong_wash_comes_sooner_where_a_film_gathers(page_of: Page) -> None:
    told = page_of(
        OILED.replace("Decyl Glucoside, Aqua", "Sapindus Mukorossi Fruit Powder"),
        "routine",
        'use "Egret Oil" on Monday and Wednesday and Friday',
        'wash with "Egret Powder" on Tuesday and Thursday and Saturday',
        'wash with "Egret Strong" every 12 weeks on Saturday',
    )
    assert "Wash with Egret Strong once in two weeks instead of Egret Powder" in told


def test_a_well_speaks_of_metal_and_very_hard_water_is_hard(base: Base) -> None:
    (routine,) = parse_routines("water is from a borehole\n" + _routine("hair is dull"))
    assert films_noted(routine, base) == {"HardWaterMineral": "borehole"}
    assert in_line(base, "water", "very hard well water") == ("inHardWater",)


PLATING = """\
{"product": "Egret Plate", "kind": "wash", "market": "EU", "text": "Aqua, Sodium \
Laureth Sulfate, Dimethiconol, Cocamidopropyl Betaine, Guar \
Hydroxypropyltrimonium Chloride"}
{"product": "Egret Wax", "kind": "styler", "market": "EU", "text": "Cera Alba, \
Petrolatum"}
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("lines", "says", "never"),
    [
        (
            ("hair is slick as wax", 'wash with "Egret Plate" on Friday'),
            "Egret Plate lays down silicones and conditioning polymers itself",
            "Nothing has to change",
        ),
        (
            (
                "hair is locs",
                'wash with "Egret Plate" on Friday',
                'use "Egret Wax" every 3 weeks on Friday',
            ),
            "Leave wax and petrolatum out of locs",
            "Nothing has to change",
        ),
    ],
)
def test_the_culprit_is_what_surely_gathers(
    page_of: Page, lines: tuple[str, ...], says: str, never: str
) -> None:
    """What a wash lays down, and wax in locs."""
    told = page_of(PLATING, "routine", *lines)
    assert says in told
    assert never not in told


@pytest.mark.slow
def test_a_wash_without_a_list_is_neither_guilty_nor_harmless(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf, week = tmp_path / "shelf.jsonl", tmp_path / "week.txt"
    dark = '{"product": "Egret Dark", "kind": "wash", "market": "EU", "text": ""}'
    shelf.write_text(f"{PLATING}{dark}\n", "utf-8")
    week.write_text(
        'wash with "Egret Dark" on Friday\nuse "Egret Wax" after every wash\n', "utf-8"
    )
    assert main(["routine", "--shelf", str(shelf), str(week)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "What Egret Dark takes of waxes" in told
    assert "Why: it is counted without Egret Dark, which has no list." in told
    assert "Add a wash" not in told
    assert "for certain" not in told
