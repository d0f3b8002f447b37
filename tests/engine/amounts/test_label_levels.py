"""Labels as people paste them: which limits bind, and what levels follow."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from abluent.engine.amounts._law import (
    Listed,
    legal_caps,
    line_rule,
    usual_levels,
)
from abluent.engine.amounts.bounded import level_bounds
from abluent.engine.amounts.label_levels import LabelFacts, label_levels
from abluent.engine.amounts.levels import Levels
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.reading.labels import label_facts
from certificates import faults
from rdkit import Chem
from rdkit.Chem import Descriptors

BASE = Base.load()
DAY = "2026-01-31"
SHARES = Path(__file__).parents[2] / "cases" / "counted_shares.tsv"


def read(text: str, kind: str = "wash", market: str = "EU", **more: str) -> Levels:
    """The levels of a label of an invented product, on a fixed day."""
    label = label_facts("tideline", kind, market, text, BASE)
    return label_levels(label, BASE, on=more.get("on", DAY))


def high(found: Levels, symbol: str) -> tuple[float, bool]:
    """The upper bound of an ingredient, and whether it is only approached."""
    level = next(each for each in found if each.symbol == symbol)
    return float(level.high), level.high_open


def listed(*symbols: str) -> Listed:
    """Ingredients with their classes in the base."""
    return {symbol: BASE.classes_of(symbol) for symbol in symbols}


def caps(symbol: str, kind: str, market: str = "eu", on: str = DAY) -> set[str]:
    """The limits that bind an ingredient in a product, without their member."""
    found = legal_caps(BASE, listed(symbol), market, kind, on)
    return {each.name for each in found}


def test_a_limit_printed_for_several_names_binds_each() -> None:
    """ "2 % or less of" bounds every name after it, and none before it."""
    found = read("Aqua, Glycerin. Contains 2% or less of: Panthenol, Citric Acid")
    assert high(found, "panthenol") == (2, False)
    assert high(found, "citric-acid") == (2, False)
    assert high(found, "glycerin")[0] > 2


# -- which limits bind ------------------------------------------------------------
# The rows of law are named by their symbols in `ontology/law`, where the provisions
# and sources stand.


@pytest.mark.parametrize(
    ("symbol", "kind", "binding"),
    [
        # One entry as a preservative and no other: it binds every use (recital 1 of
        # Regulation (EU) 2019/698).
        ("phenoxyethanol", "wash", {"p01-phenoxyethanol"}),
        ("laurtrimonium-chloride", "conditioner", {"c06-trimonium-preservative"}),
        # Another entry allows more for another use.
        ("salicylic-acid", "wash", {"a01-salicylic-rinse-off-hair"}),
        ("benzalkonium-chloride", "conditioner", {"p21-benzalkonium-other-use"}),
        ("benzalkonium-chloride", "leaveIn", {"p21-benzalkonium"}),
        ("phenoxyisopropanol", "wash", {"p28-phenoxyisopropanol-other-use"}),
        # Another use has no greatest level.
        ("benzyl-alcohol", "wash", set()),
        ("sodium-sulfite", "leaveIn", set()),
        # Some shampoos, those against dandruff, may hold more than the rest.
        ("climbazole", "wash", {"a02-climbazole-anti-dandruff"}),
        ("climbazole", "leaveIn", {"a03-climbazole-leave-on"}),
        # Two limits at once: on the pair and on the three together.
        (
            "cetrimonium-chloride",
            "conditioner",
            {"c01-cetrimonium-rinse-off", "c04-behentrimonium-rinse-off"},
        ),
        (
            "cetrimonium-chloride",
            "styler",
            {"c02-cetrimonium-leave-on", "c05-behentrimonium-leave-on"},
        ),
        # Rinse-off and leave-on part.
        ("sodium-benzoate", "wash", {"p03-benzoic-rinse-off"}),
        ("sodium-benzoate", "leaveIn", {"p03-benzoic-leave-on"}),
        # An oil may be either.
        ("sodium-benzoate", "oil", set()),
        # A limit on an impurity or on some grades is none on the ingredient.
        ("polyquaternium-7", "wash", set()),
        ("styrene-acrylates-copolymer", "wash", set()),
    ],
)
def test_limits_that_bind(symbol: str, kind: str, binding: set[str]) -> None:
    """L12: what binds is the greatest level that some lawful use allows."""
    assert caps(symbol, kind) == binding


def test_limits_bind_in_their_market_only() -> None:
    """P42: no special federal rule caps preservatives in the US."""
    assert caps("phenoxyethanol", "wash", "us") == set()
    assert legal_caps(BASE, listed("phenoxyethanol"), None, "wash", DAY) == []


def test_a_window_for_drugs_is_no_limit_for_cosmetics() -> None:
    """A06: 1.8 to 3 % makes salicylic acid a drug; less of it is no offence."""
    assert caps("salicylic-acid", "wash", "us") == set()


def test_limits_bind_from_the_day_older_stock_had_to_be_gone() -> None:
    """A14: BHT, new from 1 July 2023, all stock from 1 January 2024."""
    assert caps("bht", "wash", on="2023-10-01") == set()
    assert caps("bht", "wash", on="2024-01-01") == {"a14-bht"}


def test_a_salt_counts_as_its_acid() -> None:
    """L11: 0.6 % of sorbic acid is 0.80 % of potassium sorbate, inferred."""
    (cap,) = legal_caps(BASE, listed("potassium-sorbate"), "eu", "wash", DAY)
    ((_, share),) = cap.shares
    assert cap.high is not None
    assert float(cap.high / share) == pytest.approx(0.80, abs=0.005)
    assert cap.basis.standing == "inferred"


def test_rules_for_the_end_of_a_list_differ_by_market() -> None:
    """L07: below 1 % is free in the EU, at or below 1 % in the US."""
    assert not line_rule(BASE, "eu").free_at_threshold
    assert line_rule(BASE, "us").free_at_threshold
    assert line_rule(BASE, None).free_at_threshold
    assert {line_rule(BASE, each).threshold for each in ("eu", "us", None)} == {1}


def test_the_trade_has_ranges_and_no_single_formulas() -> None:
    """T18 and T30: a range narrows, one published recipe does not."""
    names = listed("sodium-laureth-sulfate", "cocamidopropyl-betaine")
    found = usual_levels(BASE, names, "eu", "wash")
    names = {cap.name for cap in found}
    assert "t18-everyday-anionic" in names
    assert not any("t30" in name for name in names)
    assert {cap.basis.standing for cap in found} == {"commonPractice"}


@pytest.mark.parametrize(
    ("names", "counts"),
    [
        (("sodium-laureth-sulfate", "cocamidopropyl-betaine"), {"t18"}),
        (("cocamidopropyl-betaine", "sodium-laureth-sulfate"), set()),
        (("decyl-glucoside", "sodium-laureth-sulfate"), set()),
        (("sodium-laureth-sulfate", "parfum", "disodium-edta"), {"t18", "t29"}),
        (("sodium-laureth-sulfate", "disodium-edta", "parfum"), {"t18"}),
    ],
)
def test_custom_depends_on_what_leads_a_label(
    names: tuple[str, ...], counts: set[str]
) -> None:
    """T18 and T29: a betaine-led wash is not 8 % sulfate, nor a chelant a trace."""
    found = usual_levels(BASE, listed(*names), "eu", "wash")
    known = {name.split("-")[0] for cap in found for name in cap.name.split("+")}
    assert known & {"t18", "t29"} == counts
    loose = usual_levels(BASE, listed(*names), "eu", "wash", {})
    assert not any(e.name.startswith(("t18", "t29")) for e in loose)


def test_no_practice_for_a_kind_it_does_not_speak_of() -> None:
    """T25 and T27: a figure for conditioners or serums says nothing of a wash."""
    names = listed("sodium-laureth-sulfate", "dimethicone", "cetyl-alcohol")
    assert usual_levels(BASE, names, "eu", "leaveIn") == []
    washes = [cap.name for cap in usual_levels(BASE, names, "eu", "wash")]
    assert not any("t25" in name or "t26" in name for name in washes)


# -- shares from structures ---------------------------------------------------------


def share_rows() -> list[dict[str, str]]:
    with SHARES.open(encoding="utf-8") as stream:
        return list(csv.DictReader(stream, delimiter="\t"))


@pytest.mark.parametrize("row", share_rows(), ids=lambda row: row["ingredient"])
def test_counted_shares_follow_from_structures(row: dict[str, str]) -> None:
    """RDKit's molar masses give the share that counts, rounded down."""
    counted, sold = (
        Descriptors.MolWt(Chem.MolFromSmiles(row[each]))
        for each in ("counted", "as sold")
    )
    share = BASE.record(f"share-{row['ingredient']}").number("low")
    assert share is not None
    exact = int(row["how many"]) * counted / sold
    assert exact - 1e-4 <= float(share) <= exact + 1e-9


# -- labels -------------------------------------------------------------------------

WASH = (
    "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, Parfum, "
    "Sodium Benzoate, Phenoxyethanol, Citric Acid, Linalool"
)


def test_what_stands_after_phenoxyethanol_is_at_most_one_per_cent_in_the_eu() -> None:
    """P01 with L01: phenoxyethanol is capped at 1.0 %, so later items are too."""
    assert high(read(WASH), "citric-acid") == (1.0, False)
    assert high(read(WASH, market="US"), "citric-acid") == (12.5, False)


def test_benzoate_marks_the_line_in_a_leave_in_and_not_in_a_wash() -> None:
    """P03: up to 2.5 % as acid in a rinse-off, 0.5 % in a leave-in."""
    text = "Aqua, Glycerin, Panthenol, Sodium Benzoate, Citric Acid"
    assert high(read(text, "leave-in"), "citric-acid") == (1.0, True)
    assert high(read(text, "wash"), "citric-acid")[0] > 2.5


def test_quats_of_a_conditioner_share_their_limit() -> None:
    """C01 and C04: cetrimonium at most 2.5 %, with behentrimonium at most 5 %."""
    found = read(
        "Aqua, Cetearyl Alcohol, Behentrimonium Chloride, Cetrimonium Chloride, "
        "Glycerin, Parfum",
        "conditioner",
    )
    assert high(found, "behentrimonium-chloride") == (5.0, True)
    assert high(found, "cetrimonium-chloride") == (2.5, False)
    assert not found.set_aside


def test_an_alphabetical_list_bounds_by_limits_and_figures_only() -> None:
    """Without order, only caps and the sum speak."""
    found = read(
        "Cetyl Alcohol, Citric Acid, Dimethicone, Glycerin, Panthenol, Phenoxyethanol,"
        " Water",
        market="EU",
    )
    assert high(found, "citric-acid") == (100.0, True)
    assert high(found, "phenoxyethanol") == (1.0, False)


def test_printed_figures_are_taken_at_their_word() -> None:
    """A stated per cent is the level, and bounds its neighbours."""
    found = read("Aqua (95%), Glycerin 3%, Panthenol, Citric Acid")
    assert high(found, "water") == (95.0, False)
    assert high(found, "panthenol") == (2.0, True)


def test_a_closing_colorant_may_be_at_any_level() -> None:
    """L01: colorants may stand last in any order, whatever their level."""
    found = read("Aqua, Glycerin, Parfum, CI 19140")
    assert high(found, "ci-19140") == (100.0, True)


def test_an_allergen_is_not_added_to_the_perfume() -> None:
    """L09: an allergen is named although it is part of the perfume."""
    label = label_facts("tideline", "wash", "EU", WASH, BASE)
    items = {item.symbol: item for item in LabelFacts(label.facts, BASE).items}
    assert not items["linalool"].counted
    assert items["parfum"].counted


@pytest.mark.slow
def test_a_line_that_was_not_understood_opens_the_sum() -> None:
    """Nothing bounds the first item from below if a line may hide anything."""
    whole, part = read("Aqua, Glycerin"), read("Aqua, Zzyxq Vvorblek, Glycerin")
    assert next(iter(whole)).low == 50
    assert next(iter(part)).low == 0


def test_every_bound_of_a_label_has_a_certificate_that_holds() -> None:
    """What a reader is shown can be checked without the tool that found it."""
    found = read(WASH)
    for level in found:
        low, top = (found.prove(level.place, side) for side in ("low", "high"))
        assert faults(low, found.caps) == faults(top, found.caps) == []
        assert (low.bound, top.bound) == (-level.low, level.high)


def test_practice_narrows_when_asked_and_says_so() -> None:
    """T18: an everyday shampoo holds 8 to 15 % of anionic, as the trade has it."""
    label = label_facts("tideline", "wash", "EU", WASH, BASE)
    lawful = label_levels(label, BASE, on=DAY).at(2)
    usual = label_levels(label, BASE, on=DAY, practice=True).at(2)
    assert (lawful.low, lawful.standing) == (0, "lawOrStandard")
    assert (usual.low, usual.high, usual.standing) == (8, 15, "commonPractice")


def facts(text: str, *symbols: str, practice: bool = False) -> list[Fact]:
    """What the reasoner is told of some ingredients of an invented wash."""
    label = LabelFacts(
        label_facts("tideline", "wash", "EU", text, BASE).facts, BASE, DAY
    )
    return [each.fact for each in level_bounds(label, symbols, practice=practice)]


def test_facts_for_the_reasoner_are_exact_and_cite_what_they_need() -> None:
    """A level rests on the order, the law on its end, and the limit that is reached."""
    (level,) = facts(WASH, "citric-acid")
    assert (level.predicate, level.args[:2]) == ("level", ("tideline", 8))
    assert str(level.args[2]) == "(0, 1]"
    assert level.basis.standing == "lawOrStandard"
    assert {"eu-cosmetics-regulation", "label-as-printed"} <= set(level.basis.sources)
    (other,) = facts(WASH, "sodium-laureth-sulfate")
    assert {"cosing-2024", "sccs-1575-16"} <= set(level.basis.sources)
    assert not set(other.basis.sources) & {"cosing-2024", "sccs-1575-16"}


def test_what_custom_adds_is_a_fact_of_its_own() -> None:
    """T18: by law next to nothing is known of the anionic, by custom 8 to 15 %."""
    lawful, usual = facts(WASH, "sodium-laureth-sulfate", practice=True)
    assert str(lawful.args[2]) == "(0, 50)"
    assert lawful.basis.standing == "lawOrStandard"
    assert str(usual.args[2]) == "[8, 15]"
    assert usual.basis.standing == "commonPractice"


@pytest.mark.slow
def test_a_class_that_only_a_name_tells_counts_against_a_limit_of_the_class() -> None:
    """What a sum of a class is at least may come from the member that is not listed."""
    text = "Aqua, Sodium Lauryl Sulfate, Sodium Octeth-2 Sulfate, Glycerin"
    _, usual = facts(text, "sodium-lauryl-sulfate", practice=True)
    assert str(usual.args[2]) == "[5/2, 20)"


def test_levels_are_exact_numbers() -> None:
    """No level passes through floating point."""
    assert all(isinstance(level.high, Fraction) for level in read(WASH))
