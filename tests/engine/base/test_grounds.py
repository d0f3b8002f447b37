"""Each fact rests on sources that can carry it, and says so if it was recalled."""

from pathlib import Path

import pytest
from abluent.engine.base.matters import told_of
from abluent.engine.base.store import Base

HEAD = """
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .
"""


def based(folder: Path, text: str) -> Base:
    """The base with a user's file over it."""
    path = folder / "mine.ttl"
    path.write_text(HEAD + text, encoding="utf-8")
    return Base.load([path], cache_folder=folder)


@pytest.mark.slow
def test_an_annex_carries_a_use_and_no_solubility(tmp_path: Path) -> None:
    """What the annex cannot say is from memory, and no longer stands as law."""
    base = based(
        tmp_path,
        'ing:nova a abl:Preservative ; abl:inci "Nova" ;\n'
        "  abl:charge abl:none ; abl:waterSolubility abl:soluble ;\n"
        "  abl:source src:cosing-2024 ; abl:standing abl:lawOrStandard .",
    )
    nova = base.record("nova")
    use = nova.basis_of("type", "Preservative")
    water = nova.basis_of("waterSolubility", "soluble")
    assert use is not None
    assert water is not None
    assert (use.sources, use.standing) == (("cosing-2024",), "lawOrStandard")
    assert (water.sources, water.standing) == (("trade-handbooks",), "handbook")
    assert (use.from_memory, water.from_memory) == (False, True)


@pytest.mark.slow
def test_what_was_worked_out_takes_the_place_of_memory(tmp_path: Path) -> None:
    """The same fact is not told twice, and rests on the way that bears it out."""
    base = Base.load(cache_folder=tmp_path)
    record = base.record("sodium-laureth-sulfate")
    facts = base.facts_about([record.symbol], {"type"})
    assert len(facts) == len({fact.args for fact in facts})
    told = record.basis_of("type", "AlkylEtherSulfate")
    assert told is not None
    assert told.sources == ("structure-arithmetic", "name-parts")
    assert not told.from_memory


@pytest.mark.slow
def test_a_user_may_say_the_same_on_other_grounds(tmp_path: Path) -> None:
    """Both are kept: a fact may rest on two files."""
    base = based(
        tmp_path,
        "ing:glycerin abl:waterSolubility abl:soluble ; abl:source src:evans-2011 ;\n"
        "  abl:standing abl:measured .",
    )
    facts = base.facts_about(["glycerin"], {"waterSolubility"})
    assert {fact.basis.standing for fact in facts} == {"handbook", "measured"}


def test_every_fact_of_an_ingredient_is_carried() -> None:
    """No source carries a matter that sources of its kind cannot tell."""
    base = Base.load()
    wrong = set()
    for symbol in base.instances("Ingredient"):
        for row in told_of(base.record(symbol), base):
            wrong |= {
                (row.matter, s)
                for s in row.basis.sources
                if not _can(base, row.matter, s)
            }
    assert wrong == set()


@pytest.mark.parametrize(
    ("source", "matter", "can"),
    [
        ("cosing-2024", "solubilityMatter", False),
        ("cosing-2024", "useMatter", True),
        ("eu-inventory", "kindMatter", False),
        ("rosen-surfactants", "behaviourMatter", False),
        ("rosen-surfactants", "measurementMatter", True),
        ("inci-conventions", "kindMatter", False),
        ("name-parts", "solubilityMatter", False),
        ("structure-arithmetic", "chargeMatter", True),
    ],
)
def test_what_can_carry_what(source: str, matter: str, can: bool) -> None:
    """The table of the base, read here without the code that applies it."""
    assert _can(Base.load(), matter, source) is can


def test_every_measurement_is_carried() -> None:
    """A figure comes from a work that gives figures."""
    base = Base.load()
    found = [base.record(each) for each in base.instances("Measurement")]
    assert len(found) > 50
    wrong = {
        (record.symbol, source)
        for record in found
        for source in record.basis.sources
        if not _can(base, "measurementMatter", source)
    }
    assert wrong == set()


def _can(base: Base, matter: str, source: str) -> bool:
    work = base.source(source)
    if only := work.links("carries"):
        return matter in only
    return work.link("sourceKind") in base.record(matter).links("carriedBy")
