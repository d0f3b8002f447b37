"""Cells of chemistry that were once read wrongly, each for its reason."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import Verdict, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World

SOAP, TAURATE, GLUTAMATE = (
    *("Sodium Cocoate", "Sodium Methyl Cocoyl Taurate", "Sodium Cocoyl Glutamate"),
)
GLUCOSIDE, BETAINE = "Decyl Glucoside", "Cocamidopropyl Betaine"
PEARL = "Glycol Distearate"
PART, MOST = "atLeastPartlyClears", "atMostPartlyClears"

CELLS = [
    # Water helps off what dissolves or disperses, in hard water too.
    ("PEG-12 Dimethicone", SOAP, PART),
    ("PEG-12 Dimethicone", BETAINE, PART),
    # What emulsifies a fluid emulsifies one with PEG chains on it.
    ("PEG-10 Dimethicone", GLUTAMATE, PART),
    ("PEG-10 Dimethicone", TAURATE, PART),
    # Without an anionic the insoluble grade stays in part, the other need not.
    ("PEG-10 Dimethicone", GLUCOSIDE, "open"),
    # Few charges, and made to come out again; soap is no shampoo.
    ("Polyquaternium-11", GLUTAMATE, PART),
    ("Polyquaternium-11", TAURATE, PART),
    ("Polyquaternium-11", SOAP, MOST),
    ("Polyquaternium-37", TAURATE, "partlyClears"),
    # Nothing undoes the charge that holds a quat.
    ("Cetrimonium Chloride", GLUCOSIDE, MOST),
    ("Cetrimonium Chloride", BETAINE, MOST),
    # Carbohydrate, with some protein.
    ("Hydrolyzed Oats", GLUCOSIDE, PART),
    # A pearliser is no cleanser.
    ("Cocos Nucifera Oil", PEARL, "open"),
]


@cache
def world() -> World:
    agents = dict.fromkeys(agent for _, agent, _ in CELLS)
    shelf = [Product(f"only {a}", "wash", "EU", f"Aqua, {a}") for a in agents]
    return World(Base.load(), load_rulebook(), shelf)


@cache
def judged() -> dict[tuple[str, str], Verdict]:
    """Every cell in one case."""
    base = world().base
    films = list(dict.fromkeys(str(base.lookup(film)) for film, _, _ in CELLS))
    found = verdicts(Case.of(world(), [*world().products], films))
    return {(v.film, v.wash.removeprefix("only ")): v for v in found}


@pytest.mark.parametrize(("film", "agent", "value"), CELLS)
def test_cell(film: str, agent: str, value: str) -> None:
    verdict = judged()[str(world().base.lookup(film)), agent]
    assert verdict.value == value


def test_oats_may_be_protein() -> None:
    """Whether a label with hydrolysed oats lists a protein is open."""
    base = world().base
    grades = base.record("hydrolyzed-oats").links("coversGrade")
    kinds = [set(base.classes_of(grade)) for grade in grades]
    assert {"Protein" in each for each in kinds} == {True, False}
    assert "Protein" not in base.classes_of("hydrolyzed-oats")
