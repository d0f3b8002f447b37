"""Facts of common practice in the trade, one test each: common practice, no source.

They are what an educator would say; where a measurement exists the base follows the
measurement, and these tests say how the two meet.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf

SULFATE = "Aqua, Sodium Laureth Sulfate, Sodium Chloride"
SULFONATE = "Aqua, Sodium C14-16 Olefin Sulfonate, Sodium Chloride"


@cache
def base() -> Base:
    return Base.load()


def judged(text: str, film: str, kind: str = "wash") -> Verdict:
    """The verdict on a wash of this label and a film by its name."""
    world = World(base(), load_rulebook(), [Product("it", kind, "EU", text)], "soft")
    symbol = base().lookup(film)
    assert symbol, f"{film} is not in the base"
    (verdict,) = verdicts(Case.of(world, ["it"], [symbol]))
    return verdict


@pytest.mark.slow
@pytest.mark.parametrize("film", ["Cetearyl Alcohol", "PVP"])
@pytest.mark.parametrize("label", [SULFATE, SULFONATE])
def test_anionic_surfactants_lift_films_soluble_or_not(label: str, film: str) -> None:
    """The strongest cleansers lift film-formers whether water-soluble or not."""
    assert ENDS[judged(label, film).role][0] is not Role.NONE_OF_IT


@pytest.mark.slow
def test_some_that_are_not_sulfates_are_strong_enough_for_silicone() -> None:
    """An olefin sulfonate against a water-insoluble silicone."""
    verdict = judged(SULFONATE, "Dimethicone")
    assert (verdict.value, verdict.standing) == (
        "atLeastPartlyClears",
        "commonPractice",
    )


def test_names_of_anionic_surfactants_mostly_end_in_ate() -> None:
    """Most of them do; that most names in -ate are one is another claim, and false."""
    names = [base().label(s) for s in base().instances("AnionicSurfactant")]
    ending = [name for name in names if name.lower().endswith("ate")]
    assert len(ending) > len(names) / 2
    everything = [base().label(s) for s in base().instances("Ingredient")]
    in_ate = [name for name in everything if name.lower().endswith("ate")]
    assert len(ending) < 0.7 * len(in_ate)


def test_cationic_surfactants_condition_and_hardly_clean() -> None:
    """A wash of a quat alone does not lift silicone or oil."""
    label = "Aqua, Cetearyl Alcohol, Behentrimonium Chloride"
    assert judged(label, "Dimethicone", "co-wash").value == "atMostPartlyClears"


def test_anionic_and_cationic_together_undo_each_other() -> None:
    """A cationic above the anionic ties it up, and the verdict falls."""
    tied = judged(
        "Aqua, Cetrimonium Chloride, Sodium Laureth Sulfate", "Cetearyl Alcohol"
    )
    assert tied.value == "atMostPartlyClears"
    assert any("undo each other" in reason for reason in tied.reasons)


def test_nonionic_surfactants_seldom_clean_alone() -> None:
    """One alone takes at most part of silicone; that they steady foam is recorded."""
    assert judged("Aqua, Decyl Glucoside", "Dimethicone").value == "atMostPartlyClears"
    foam = base().record("nonionic-steadies-foam")
    assert foam.basis.standing == "commonPractice"


@pytest.mark.slow
def test_a_water_soluble_silicone_does_not_always_rinse_out() -> None:
    """A wash takes at least part of it; whether all, solubility alone does not say."""
    verdict = judged(SULFATE, "PEG-12 Dimethicone")
    assert verdict.value == "atLeastPartlyClears"
    assert verdict.standing in {"commonPractice", "inferred"}


@pytest.mark.slow
def test_a_clarifying_wash_can_be_free_of_sulfates() -> None:
    """One on the built-in shelf lifts silicone and lists no sulfate surfactant."""
    shelf = demo_shelf()
    world = World(base(), load_rulebook(), products(shelf), shelf.water)
    name = "Lamp Room Clarifying Wash"
    (verdict,) = verdicts(Case.of(world, [name], ["dimethicone"]))
    assert ENDS[verdict.role][0] is Role.PART_OF_IT
    listed = [r.ingredient or "" for r in world.read(name).readings]
    kinds = {kind for symbol in listed for kind in base().classes_of(symbol)}
    assert "SulfateSurfactant" not in kinds


@pytest.mark.slow
def test_a_claim_about_one_ingredient_overrides_those_about_its_class(
    tmp_path: Path,
) -> None:
    """A finding about one betaine and one silicone name decides for just these."""
    layer = tmp_path / "trial.ttl"
    layer.write_text(TRIAL, encoding="utf-8")
    taught = Base.load([layer], cache_folder=tmp_path)
    shelf = [
        Product("one", "wash", "EU", "Aqua, Cocamidopropyl Betaine"),
        Product("other", "wash", "EU", "Aqua, Coco-Betaine"),
    ]
    world = World(taught, load_rulebook(), shelf, "soft")
    case = Case.of(world, ["one", "other"], ["phenyl-trimethicone"])
    assert {v.wash: v.value for v in verdicts(case)} == {
        "one": "clears",
        "other": "atMostPartlyClears",
    }


TRIAL = """
@prefix abl: <https://abluent.example/ns#> .
@prefix claim: <https://abluent.example/claim/> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .

claim:trial-betaine a abl:RemovalClaim ;
  abl:agent ing:cocamidopropyl-betaine ; abl:film ing:phenyl-trimethicone ;
  abl:atLeast abl:takesAll ; abl:caveat "Invented for a test." ;
  abl:statement "An invented trial." ;
  abl:source src:common-practice ; abl:standing abl:measured .
"""


@pytest.mark.slow
def test_after_a_strong_wash_one_conditions() -> None:
    """The caution comes with the answer about a strong wash, and with no mild one."""
    strong = cautions([judged(SULFONATE, "Cetearyl Alcohol")])
    mild = cautions([judged("Aqua, Disodium Cocoyl Glutamate", "Cetearyl Alcohol")])
    assert any("condition" in text for text in strong)
    assert not any("After a strong wash" in text for text in mild)
