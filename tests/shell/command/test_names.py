"""`abluent name` says on what each matter rests, and what of it is from memory."""

import pytest
from commanded import Run


def test_each_matter_has_its_own_source(run: Run) -> None:
    """A use from the register, a charge from the structure, the rest recalled."""
    (told,) = run("name", "--json", "Sodium Benzoate").objects
    assert (told["charge"], told["pka"]) == ("anionic", 4.2)
    grounds = {row["matter"]: row for row in told["grounds"] if not row["from_memory"]}
    assert "structure-arithmetic" in grounds["charge"]["sources"]
    assert grounds["use"]["properties"] == ["type"]
    assert "water solubility and volatility" in told["from_memory"]
    assert "charge" not in told["from_memory"]


def test_memory_is_said_in_words(run: Run) -> None:
    """Nobody has to look into JSON for it."""
    shown = run("name", "Sodium Benzoate").out
    assert "Water solubility and volatility: from memory" in shown
    assert "Charge: Computed from the structure" in shown
    assert "Charge: anionic (pKa 4.2)" in shown


def test_a_name_read_from_its_parts_rests_on_memory(run: Run) -> None:
    """What its parts say was recalled, and it says so."""
    name = "Zelkova Serrata Seed Oil"
    (told,) = run("name", "--json", name).objects
    assert told["how"] == "read"
    assert told["from_memory"] == ["parts of the name"]
    assert "Source: from memory: " in run("name", name).out


@pytest.mark.parametrize(
    ("name", "how", "charge", "water"),
    [
        ("Sodium Laureth Sulfate", "listed", "anionic", "soluble"),
        ("Cetrimonium Chloride", "listed", "cationic", "dispersible"),
        ("Coco-Glucoside", "listed", "nonionic", "soluble"),
        ("Cocamidopropyl Betaine", "listed", "amphoteric", "soluble"),
        ("Glycerin", "listed", "none", "soluble"),
        ("Qwxz", "unknown", "unknown", "unknown"),
    ],
)
def test_a_name_is_told_in_the_words_that_scripts_rely_on(
    run: Run, name: str, how: str, charge: str, water: str
) -> None:
    (told,) = run("name", "--json", name).objects
    assert told["printed"] == name
    assert told["ingredient"] == (None if how == "unknown" else name)
    assert (told["how"], told["charge"], told["water"]) == (how, charge, water)
    assert bool(told["classes"]) is bool(told["sources"]) is (how != "unknown")
