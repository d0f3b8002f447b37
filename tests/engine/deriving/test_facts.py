"""What was worked out stands in the base as it comes out today."""

from pathlib import Path

import pytest
from abluent.engine.base.store import Base
from abluent.engine.deriving.facts import Deriver
from abluent.engine.deriving.files import derived_files
from abluent.engine.deriving.systematic import spelling_names

ONTOLOGY = Path(__file__).parents[3] / "ontology"
BASE = Base.load()

# Where the structure shows another kind than the record has, and why that is right.
DIFFERENCES = {
    "sodium-cocoyl-apple-amino-acids": "drawn with one of several amino acids",
    "sodium-lauroyl-oat-amino-acids": "drawn with one of several amino acids",
    "sodium-lauroyl-silk-amino-acids": "drawn with one of several amino acids",
}


@pytest.fixture(scope="module")
def deriver() -> Deriver:
    return Deriver(BASE)


@pytest.mark.slow
def test_the_files_are_those_that_come_out() -> None:
    """Nobody edits them; `python -m abluent.engine.deriving` makes them anew."""
    kept = {
        path.relative_to(ONTOLOGY).as_posix(): path.read_text(encoding="utf-8")
        for path in (ONTOLOGY / "derived").rglob("*.ttl")
    }
    assert kept == derived_files(BASE)
    assert len(kept) > 50


@pytest.mark.slow
def test_where_memory_and_structure_differ(deriver: Deriver) -> None:
    """Each difference of kind is known, with its reason."""
    found = {s for s in BASE.instances("Ingredient") if list(deriver.differences(s))}
    assert found == set(DIFFERENCES)


@pytest.mark.slow
def test_a_structure_counts_as_more_than_memory_only_with_a_witness(
    deriver: Deriver,
) -> None:
    """Of a bare structure nothing is more than recalled; a name that agrees helps."""
    assert deriver.of("octocrylene")["structures"].recalled
    assert not deriver.of("sodium-laureth-sulfate")["structures"].recalled
    assert deriver.of("salicylic-acid")["spelt"].texts == (("spelt", "Salicylic Acid"),)


@pytest.mark.slow
def test_a_name_bears_out_only_the_structure_that_it_spells() -> None:
    """The right structure is spelt by the name; another is not, nor by a brand."""
    names = {"a": ["Salicylic Acid"], "b": ["Salicylic Acid"], "c": ["Tideline"]}
    structures = {
        "a": "OC(=O)c1ccccc1O",
        "b": "OC(=O)c1ccc(O)cc1",
        "c": "OC(=O)c1ccccc1O",
    }
    assert spelling_names(structures, names) == {"a": "Salicylic Acid"}
