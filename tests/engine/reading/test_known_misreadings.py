"""Names that were once read wrong, each by the rule that reads it now."""

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading.names import Names

BASE = Base.load()


@pytest.mark.parametrize(
    ("name", "kind", "charge", "water"),
    [
        # a quaternary nitrogen counts by what it sits on
        ("Lauryl PG-Trimonium Chloride", "CationicSurfactant", "cationic", None),
        ("Stearoyl PG-Trimonium Chloride", "EsterQuat", "cationic", None),
        ("PG-Trimonium Dimethicone Chloride", "SiliconeQuat", "cationic", "insoluble"),
        ("Bis-Hydroxypropyltrimonium Dimethicone", "SiliconeQuat", "cationic", None),
        (
            "Hydroxypropyltrimonium Hydrolyzed Lupine Protein",
            "Protein",
            "cationic",
            None,
        ),
        (
            "Dextrin Hydroxypropyltrimonium Chloride",
            "CationicPolymer",
            "cationic",
            None,
        ),
        ("Sucrose Hydroxypropyltrimonium Chloride", None, "cationic", "soluble"),
        # a phosphate with three alcohols has no acid group left
        ("Dioleth-8 Phosphate", "PhosphateEster", "anionic", None),
        ("Trilaureth-4 Phosphate", "NonionicSurfactant", "nonionic", None),
        ("Trioleyl Phosphate", "EmollientEster", "none", "insoluble"),
        # the last figure is the share of ethylene oxide
        ("Poloxamer 188", "Poloxamer", "nonionic", "soluble"),
        ("Poloxamer 101", "Poloxamer", "nonionic", "insoluble"),
        ("Meroxapol 171", "Poloxamer", "nonionic", "insoluble"),
        ("Meroxapol 258", "Poloxamer", "nonionic", "soluble"),
        # a metal of two charges takes a soap or sulfonate out of water
        ("Calcium Laurate", "Particulate", "none", "insoluble"),
        ("Calcium Dodecylbenzenesulfonate", "Sulfonate", "anionic", "insoluble"),
        ("Sodium Dodecylbenzenesulfonate", "Sulfonate", "anionic", "soluble"),
        # one plant, two oils
        ("Citrus Limon Seed Oil", "VegetableOil", "none", "insoluble"),
        ("Citrus Limon Peel Oil", "EssentialOil", "none", "insoluble"),
        ("Rosmarinus Officinalis Seed Oil", "VegetableOil", "none", "insoluble"),
        ("Carum Carvi Seed Oil", "EssentialOil", "none", "insoluble"),
        ("Apium Graveolens Seed Oil", "EssentialOil", "none", "insoluble"),
    ],
)
def test_read_by_its_parts(
    name: str, kind: str | None, charge: str, water: str | None
) -> None:
    """By its parts alone, whether or not it is listed."""
    reading = Names.of(BASE).from_parts(name)
    assert reading is not None
    assert kind is None or kind in reading.classes
    assert kind is not None or "FilmFormer" not in reading.classes
    assert reading.charge == charge
    assert water in {None, reading.water}


@pytest.mark.parametrize("name", ["Ethyl Butyrate", "Benzyl Acetate", "Hexyl Acetate"])
def test_a_short_ester_of_perfumery_is_no_film(name: str) -> None:
    """What evaporates from hair is not read as an oily ester."""
    reading = Names.of(BASE).resolve(name)
    assert "FilmFormer" not in reading.classes


def test_bromide_and_chloride_of_one_quat_are_alike() -> None:
    """The counter-ion tells of solubility next to nothing, and of kind nothing."""
    pairs = 0
    for symbol in BASE.instances("CationicSurfactant"):
        name = BASE.label(symbol)
        other = BASE.ingredient(name.replace(" Bromide", " Chloride"))
        if not name.endswith(" Bromide") or other is None:
            continue
        pairs += 1
        record = BASE.record(symbol)
        for trait in ("type", "charge", "waterSolubility"):
            assert set(record.links(trait)) == set(other.links(trait)), (name, trait)
    assert pairs >= 4


def test_sparingly_soluble_solids() -> None:
    """Some milligrams in a litre are no solution."""
    for name in ("Triclosan", "Triclocarban"):
        record = BASE.ingredient(name)
        assert record is not None
        assert record.link("waterSolubility") == "insoluble"
