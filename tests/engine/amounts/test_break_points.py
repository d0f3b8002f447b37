"""The exact level at which the balance of charges is settled."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.amounts.break_points import BreakPoint, break_points
from abluent.engine.amounts.charge_balance import excess_bounds
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import more, number
from abluent.engine.reading.labels import label_facts
from hypothesis import given, settings
from hypothesis import strategies as st
from stoichiometry import opposite_mass

BASE = Base.load()
DAY = "2026-01-31"


def label(text: str, market: str, *stated: tuple[int, Fraction]) -> LabelFacts:
    """The label of an invented wash, with further figures beside some places."""
    facts = label_facts("tideline", "wash", market, text, BASE).facts
    more_facts = [Fact("stated", ("tideline", at, number(x))) for at, x in stated]
    return LabelFacts([*facts, *more_facts], BASE, DAY)


def settled(made: LabelFacts) -> bool | None:
    """Whether anionic is in excess, by law and label alone; None where open."""
    return more(excess_bounds(made, practice=False)[-1].quantity, 0)


@pytest.mark.parametrize(
    ("text", "wider", "sides"),
    [
        (
            "Aqua, Cetrimonium Chloride 2%, Sodium Lauryl Sulfate",
            0.9 / 1.1,
            (False, True, False),
        ),
        (
            "Aqua, Sodium Lauryl Sulfate, Cetrimonium Chloride 2%",
            1.1 / 0.9,
            (True, False, True),
        ),
    ],
)
def test_one_charge_meets_one(
    text: str, wider: float, sides: tuple[bool, bool, bool]
) -> None:
    """W75: 1 g of cetrimonium chloride meets 0.901 g of sodium dodecyl sulfate.

    The charge in a gram of either as sold is known to a tenth only, and the balance is
    settled where no such tenth would turn it.
    """
    (found,) = break_points(label(text, "EU"))
    assert (found.above, found.at_level, found.excess) == sides
    assert found.symbol == "sodium-lauryl-sulfate"
    turn = opposite_mass(2, 320.00, 288.38) * wider
    assert float(found.level) == pytest.approx(turn, abs=1e-4)


def test_what_is_settled_has_no_break_point() -> None:
    assert break_points(label("Aqua, Sodium Lauryl Sulfate, Glycerin", "EU")) == []
    assert break_points(label("Aqua, Cetrimonium Chloride, Glycerin", "EU")) == []


@pytest.mark.slow
def test_an_unknown_mass_has_no_break_point_on_its_side() -> None:
    """A cationic of unknown mass can outweigh any level of the anionic."""
    text = "Aqua, Sodium Lauryl Sulfate, Cocotrimonium Bromide"
    assert all(not each.excess for each in break_points(label(text, "EU")))


TEXTS = st.lists(
    st.sampled_from(
        [
            "Sodium Lauryl Sulfate",
            "Sodium Cetyl Sulfate",
            "Cetrimonium Chloride",
            "Behentrimonium Chloride 1.5%",
            "Glycerin",
            "Phenoxyethanol",
            "Stearamidopropyl Dimethylamine",
        ]
    ),
    unique=True,
    min_size=2,
    max_size=5,
)


def beside(point: BreakPoint, share: Fraction) -> Fraction:
    """A level some way from the point to one that it settles."""
    return point.level + share * (point.beyond - point.level)


@pytest.mark.slow
@settings(max_examples=25, deadline=None)
@given(TEXTS, st.sampled_from(["EU", "US"]))
def test_beyond_the_level_it_is_settled_and_at_the_level_as_said(
    names: list[str], market: str
) -> None:
    """Each point is tried by printing the level beside the ingredient."""
    text = ", ".join(["Aqua", *names])
    for point in break_points(label(text, market)):
        for share in (Fraction(1, 1000), Fraction(1)):
            made = label(text, market, (point.place, beside(point, share)))
            assert not made.levels().set_aside
            assert settled(made) is point.excess
        exact = label(text, market, (point.place, point.level))
        if not exact.levels().set_aside:
            assert (settled(exact) is point.excess) is point.at_level
