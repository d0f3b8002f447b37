"""What stands among the traces by law is at 1 % or less, by the exact levels too."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

import pytest
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.record import Record
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

BASE, RULES = Base.load(), load_rulebook()
LIMITS = [BASE.record(each) for each in BASE.instances("ConcentrationLimit")]


def bound(limits: Iterable[Record]) -> list[str]:
    """The ingredients that some limits are on."""
    return sorted(
        {
            BASE.label(ingredient)
            for limit in limits
            for each in limit.links("appliesTo")
            for ingredient in (BASE.instances(each) if BASE.is_class(each) else [each])
        }
    )


CAPPED = bound(LIMITS)
MARKERS = bound(each for each in LIMITS if each.truth("capsEveryUse"))
OTHERS = [
    *("Glycerin", "Dimethicone", "Sodium Laureth Sulfate", "Cetrimonium Chloride"),
    *("Panthenol", "Parfum", "Linalool", "CI 77891", "Disodium EDTA", "Zzyx Qqor"),
    "Cocamidopropyl Betaine (and) Glycerin",
]
KINDS = [
    "wash",
    "co-wash",
    "conditioner",
    "leave-in",
    "styler",
    "rinse",
    "oil",
    "other",
]


def judged(text: str, kind: str = "wash", market: str = "EU") -> tuple[Case, World]:
    world = World(BASE, RULES, [Product("Weir", kind, market, text)])
    return Case.of(world, sources=["Weir"]), world


def late(case: Case, rule: str) -> set[str]:
    """The ingredients that a rule finds among the traces."""
    rows = case.model.match("late", ("product/Weir", None))
    proofs = {str(row[1]): case.prover.prove("late", row).root for row in rows}
    return {symbol for symbol, root in proofs.items() if root.rule.id == rule}  # type: ignore[union-attr]


@st.composite
def texts(draw: st.DrawFn) -> str:
    names = draw(st.lists(st.sampled_from(OTHERS), max_size=5, unique=True))
    names += draw(st.lists(st.sampled_from(CAPPED), max_size=2))
    names += draw(st.lists(st.sampled_from(MARKERS), min_size=1, max_size=2))
    shuffled = draw(st.permutations(["Aqua", *names]))
    figures = st.sampled_from(["", "", "", "", " 2%", " 0.5%"])
    text = ", ".join(name + draw(figures) for name in shuffled)
    return text + draw(st.sampled_from(["", ". May contain: CI 19140"]))


@pytest.mark.slow
def test_late_by_law_is_at_most_one_per_cent() -> None:
    """Wherever the label is at odds neither with itself nor with the law."""
    met = list[str]()

    @settings(max_examples=40, deadline=None)
    @given(texts(), st.sampled_from(KINDS), st.sampled_from(["EU", "EU", "US", ""]))
    @example("Aqua, Phenoxyethanol, Dimethicone", "wash", "EU")
    def holds(text: str, kind: str, market: str) -> None:
        case, world = judged(text, kind, market)
        found = LabelFacts(world.read("Weir").facts, BASE).levels()
        assume(not found.set_aside)
        for symbol in late(case, "late-below-lawful-marker"):
            assert market == "EU"
            highs = [each.high for each in found if each.symbol == symbol]
            assert highs
            assert max(highs) <= 1
            met.append(symbol)

    holds()
    assert len(met) > 1  # more than the example, or the drawn texts show nothing


@pytest.mark.slow
@pytest.mark.parametrize(
    ("text", "kind", "lawful"),
    [
        # P01: phenoxyethanol is capped at 1 % in every hair product of the EU.
        ("Aqua, Phenoxyethanol, Dimethicone", "wash", {"dimethicone"}),
        # P07: the limit is on rinse-off products, and says nothing of others.
        ("Aqua, Methylisothiazolinone, Dimethicone", "wash", {"dimethicone"}),
        ("Aqua, Methylisothiazolinone, Dimethicone", "leave-in", set()),
        # A15: stock with more may be on sale until 1 May 2027.
        ("Aqua, Retinol, Dimethicone", "leave-in", set()),
        # A blend stands where its total belongs, so its parts show no line.
        ("Aqua, Cetyl Alcohol (and) Phenoxyethanol, Dimethicone", "wash", set()),
        ("Aqua, Phenoxyethanol, Dimethicone (and) Laureth-4", "wash", set()),
        # Colorants may stand last whatever their level.
        ("Aqua, Phenoxyethanol, Glycerin, CI 77891", "wash", {"glycerin"}),
        # A name that stands above the marker as well is no trace.
        ("Aqua, Dimethicone, Phenoxyethanol, Dimethicone", "wash", set()),
        # A figure after the marker shows that the marker shows no line.
        ("Aqua, Phenoxyethanol, Dimethicone 2%", "wash", set()),
        ("Aqua, Phenoxyethanol, Glycerin, Dimethicone 2%", "wash", set()),
        ("Aqua, Phenoxyethanol, Dimethicone 0.5%", "wash", {"dimethicone"}),
    ],
)
def test_what_law_puts_among_the_traces(text: str, kind: str, lawful: set[str]) -> None:
    case, _ = judged(text, kind)
    assert late(case, "late-below-lawful-marker") == lawful


def test_elsewhere_a_lawful_marker_is_one_by_custom() -> None:
    """P42: no federal rule caps preservatives in the US."""
    case, _ = judged("Aqua, Phenoxyethanol, Dimethicone", market="US")
    assert late(case, "late-below-lawful-marker") == set()
    assert late(case, "late-below-marker-elsewhere") == {"dimethicone"}


def test_a_limit_that_shows_the_line_binds_all_that_is_on_sale() -> None:
    """Facts have no dates, so the flag is given once older stock is gone."""
    for symbol in BASE.instances("ConcentrationLimit"):
        record = BASE.record(symbol)
        if record.truth("capsEveryUse"):
            start = record.text("offMarketFrom") or record.text("inForceFrom")
            assert start is None or start <= date.today().isoformat(), symbol
