"""Cells of chemistry that were once read wrongly, each for its reason."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.roles import EFFECTS
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
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
    # One of the milder anionics, and no stronger than a sulfate on charge.
    ("Behentrimonium Chloride", "Sodium Lauryl Sulfoacetate", MOST),
    ("Polyquaternium-67", GLUTAMATE, MOST),
    # What calcium leaves of soap still takes some.
    ("Isopropyl Myristate", SOAP, PART),
    ("Cetearyl Alcohol", SOAP, PART),
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


_TIERS = (
    ("Sodium Laureth Sulfate", "Sodium Lauryl Sulfate", "Ammonium Lauryl Sulfate"),
    (TAURATE, "Sodium Cocoyl Isethionate", "Sodium Lauryl Sulfoacetate"),
    (GLUTAMATE, "Sodium Cocoyl Glycinate", "Sodium Cocoyl Amino Acids"),
    (BETAINE, GLUCOSIDE),
)
"""Cleansers, the stronger before the milder."""

_FILMS = (
    *("Dimethicone", "Amodimethicone", "Phenyl Trimethicone", "PEG-3 Dimethicone"),
    *("Polyquaternium-10", "Polyquaternium-11", "Behentrimonium Chloride", "Cera Alba"),
    *("Petrolatum", "Cocos Nucifera Oil", "Isopropyl Myristate", "Cetearyl Alcohol"),
    *("PVP", "Acrylates Copolymer", "Hydrolyzed Wheat Protein", "Xanthan Gum"),
)


def test_no_milder_cleanser_is_shown_to_take_more() -> None:
    """Of no film; lime soap, where dispersing counts and not strength, is apart."""
    agents = [agent for tier in _TIERS for agent in tier]
    shelf = [Product(f"only {a}", "wash", "EU", f"Aqua, {a}") for a in agents]
    world = World(Base.load(), load_rulebook(), shelf)
    films = [str(world.base.lookup(film)) for film in _FILMS]
    found = verdicts(Case.of(world, [*world.products], films))
    least = {
        (v.film, v.wash.removeprefix("only ")): EFFECTS.index(ENDS[v.role][0])
        for v in found
    }
    wrong = [
        (film, strong, mild)
        for above, tier in enumerate(_TIERS)
        for strong in tier
        for mild in (agent for below in _TIERS[above + 1 :] for agent in below)
        for film in films
        if least[film, strong] < least[film, mild]
    ]
    assert wrong == []
