"""What may not lawfully stand in a product: by market, kind of product and day."""

from __future__ import annotations

import pytest
from abluent.engine.amounts.lawful import Lawful, Unlawful, lawful
from abluent.engine.base.store import Base
from abluent.engine.reading.labels import label_facts
from abluent.shell.pages.law import law_json, law_page

TODAY = "2026-11-29"


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


def found(
    base: Base, text: str, market: str = "EU", kind: str = "wash", on: str = TODAY
) -> Lawful:
    """What law says of a label."""
    return lawful(label_facts("product/x", kind, market, text, base), base, on)


def against(told: Lawful) -> list[tuple[int, str]]:
    """The places and the breaches of what was found."""
    return [(each.place, each.breach) for each in told.found]


@pytest.mark.parametrize(
    "name",
    [
        "4-Methylbenzylidene Camphor",
        "Triclosan",
        "Butylphenyl Methylpropional",
        "Hydroxyisohexyl 3-Cyclohexene Carboxaldehyde",
        "Hydroquinone",
        "Zinc Pyrithione",
    ],
)
def test_what_is_forbidden_is_told(base: Base, name: str) -> None:
    """A forbidden ingredient is told with its place, and nothing else is."""
    told = found(base, f"Ingredients: Water, Glycerin, {name}")
    assert against(told) == [(3, "forbidden")]
    assert base.record(told.found[0].rule).text("statement")


@pytest.mark.parametrize(
    ("line", "broken"),
    [
        ("Hydrogen Peroxide 15 %", True),
        ("Hydrogen Peroxide 12 %", False),
        ("Oxalic Acid 6 %", True),
        ("Triclocarban 2 %", True),
        ("Nonoxynol-9 1 %", True),
        ("Ammonium Thioglycolate 14 %", True),
        ("Ammonium Thioglycolate 12 %", False),
        ("Ammonium Hydroxide 12 %", False),
        ("Hydrogen Peroxide", False),
    ],
)
def test_a_stated_share_is_held_to_the_limit(
    base: Base, line: str, broken: bool
) -> None:
    """Counted as law counts it; a level that nobody stated breaks no limit."""
    told = found(base, f"Ingredients: Water, {line}, Glycerin")
    assert against(told) == ([(2, "above the limit")] if broken else [])


def test_the_day_decides(base: Base) -> None:
    """Before a ban, between its two days, and after them."""
    text = "Ingredients: Water, 4-Methylbenzylidene Camphor"
    assert found(base, text, on="2025-04-30").found == ()
    between = found(base, text, on="2025-12-31").found
    assert [each.sold_until for each in between] == ["2026-05-01"]
    assert [each.sold_until for each in found(base, text).found] == [""]
    rule = "b12-citral-leave-on-hair"
    citral = "Ingredients: Water, Citral 2 %"
    assert found(base, citral, kind="leave-in").found == ()
    later = found(base, citral, kind="leave-in", on="2027-01-01").found
    assert later == (
        Unlawful(2, "citral", "above the limit", rule, sold_until="2028-07-01"),
    )


def test_the_market_decides(base: Base) -> None:
    """Law of one market is none of another, and none rests on a guess."""
    text = "Ingredients: Water, Butylphenyl Methylpropional, Triclosan"
    assert against(found(base, text, "UK")) == [(2, "forbidden")]
    assert found(base, text, "US").found == ()
    nowhere = found(base, text, "")
    assert (nowhere.market, nowhere.found) == (None, ())
    assert nowhere.elsewhere == ("butylphenyl-methylpropional", "triclosan")


@pytest.mark.slow
def test_an_ordinary_label_breaks_nothing(base: Base) -> None:
    """Nothing is said of what no rule speaks of, nor of what was not understood."""
    text = "Ingredients: Water, Sodium Laureth Sulfate, Zorblenine, Parfum, Linalool"
    told = found(base, text)
    assert (told.found, told.elsewhere, told.market) == ((), (), "eu")


def test_the_allergens_of_2005_are_bound(base: Base) -> None:
    """Two dozen must be named, in both markets, at the thresholds of the time."""
    for scope, low in (("leave-on", "0.001"), ("rinse-off", "0.01")):
        rule = base.record(f"b13-allergens-of-2005-{scope}")
        assert len(rule.links("appliesTo")) == 24
        assert set(rule.links("market")) == {"eu", "uk"}
        assert float(rule.number("low") or 0) == float(low)
        assert rule.text("inForceFrom") == "2005-03-11"


def test_a_country_goes_under_its_law_or_under_none(base: Base) -> None:
    """Members of the Union by name and code; no law of Japan is known or used."""
    text = "Aqua, Sodium Laureth Sulfate, Zinc Pyrithione"
    for each in ("France", "FR", "Deutschland"):
        told = found(base, text, market=each)
        assert (told.known, against(told)) == (True, [(3, "forbidden")])
    japan = found(base, text, market="Japan")
    assert (japan.market, japan.known, japan.found) == ("Japan", False, ())
    assert found(base, text, market="US-NY").known
    assert "no law of Japan is known here" in law_page(japan, base, 200)
    assert law_json(japan, base)["market"] == "Japan"
    assert law_json(japan, base)["law_known"] is False
