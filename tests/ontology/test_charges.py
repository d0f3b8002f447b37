"""Charge means charge: an ion is never uncharged, and still no surfactant."""

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading.names import Names


@pytest.mark.parametrize(
    ("name", "charge"),
    [
        ("Disodium EDTA", "anionic"),
        ("Tetrasodium EDTA", "anionic"),
        ("EDTA", "anionic"),
        ("Trisodium Ethylenediamine Disuccinate", "anionic"),
        ("Sodium Phytate", "anionic"),
        ("Sodium Benzoate", "anionic"),
        ("Potassium Sorbate", "anionic"),
        ("Sodium Salicylate", "anionic"),
        ("Sodium Methylparaben", "anionic"),
        ("Methylparaben", "none"),
        ("Phenoxyethanol", "none"),
        ("CI 19140", "anionic"),
        ("CI 42090", "anionic"),
        ("CI 60730", "anionic"),
        ("Basic Red 51", "cationic"),
        ("CI 77491", "none"),
        ("Benzophenone-4", "anionic"),
        ("Benzophenone-3", "none"),
        ("Phenylbenzimidazole Sulfonic Acid", "anionic"),
        ("Citric Acid", "depends"),
        ("Lactic Acid", "depends"),
        ("Stearic Acid", "depends"),
        ("Triethanolamine", "depends"),
        ("Aminomethyl Propanol", "depends"),
        ("Sodium Chloride", "bothIons"),
        ("Magnesium Sulfate", "bothIons"),
        ("Sodium Hydroxide", "bothIons"),
        ("Glycine", "amphoteric"),
        ("Glycerin", "none"),
        ("Urea", "none"),
    ],
)
def test_charge_of_what_is_no_surfactant(base: Base, name: str, charge: str) -> None:
    """Small ions, chelants, preservatives, dyes and filters have their sign."""
    record = base.ingredient(name)
    assert record is not None
    assert record.links("charge") == [charge]
    assert "Surfactant" not in base.classes_of(record.symbol)


@pytest.mark.slow
def test_a_name_that_says_an_ion_is_never_uncharged(base: Base) -> None:
    """Of all whose name is that of a salt of a small acid, none has no charge."""
    read = {
        s: Names.of(base).from_parts(base.label(s))
        for s in base.instances("Ingredient")
    }
    salts = [
        s for s, r in read.items() if r is not None and r.shape == "shape-small-salt"
    ]
    assert len(salts) > 20
    plain = [s for s in salts if base.record(s).link("charge") in {"none", None}]
    assert plain == []


@pytest.mark.parametrize(
    ("name", "half"),
    [
        ("Citric Acid", 4.76),
        ("Lactic Acid", 3.86),
        ("Benzoic Acid", 4.20),
        ("Sodium Benzoate", 4.20),
        ("Salicylic Acid", 2.97),
        ("Sorbic Acid", 4.76),
        ("Ethanolamine", 9.50),
        ("Triethanolamine", 7.76),
    ],
)
def test_weak_acids_and_bases_have_their_pka(
    base: Base, name: str, half: float
) -> None:
    """The figures of any table of acids."""
    record = base.ingredient(name)
    assert record is not None
    assert float(record.number("pKa") or 0) == half


def test_what_counts_in_the_balance_is_a_surfactant(base: Base) -> None:
    """The balance goes by classes, and no small ion is in one of them."""
    counted = {
        member
        for kind in ("AnionicSurfactant", "CationicSurfactant")
        for member in base.instances(kind)
    }
    assert len(counted) > 350
    for member in counted:
        assert "Surfactant" in base.classes_of(member), member
    strays = {"sodium-benzoate", "disodium-edta", "citric-acid", "sodium-chloride"}
    assert counted.isdisjoint(strays)
