"""Advice: one sentence each, for every film that can be asked about."""

from __future__ import annotations

import re

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.nearest_advice import (
    LABEL_CUE,
    LABEL_SILENCE,
    LOOSENED,
    STAYS,
    WASH_DAY,
    WHAT_IT_DOES,
    Advice,
    advice_on,
    takes_most,
    told_at,
)
from abluent.engine.questions.world.world import Product, World
from abluent.engine.routines.how_often import purpose

MATTERS = (LABEL_CUE, LABEL_SILENCE, LOOSENED, STAYS, WASH_DAY, WHAT_IT_DOES)
LONGEST = 160


def told(base: Base, matter: str, symbol: str, side: Role | None = None) -> Advice:
    advice = advice_on(base, matter, symbol, side=side)
    assert advice is not None, f"{symbol}: no {matter}"
    return advice


def test_one_sentence(base: Base) -> None:
    """Each is one sentence, short enough to be said in a breath."""
    for symbol in base.instances("Advice"):
        text = base.record(symbol).text("statement") or ""
        said = re.sub(r"\d[.]\d", "0", text)
        assert re.fullmatch(r"[A-Z][^.!?]*[.]", said), f"{symbol}: {text}"
        assert len(text) <= LONGEST, f"{symbol}: {len(text)} characters"


def test_standing_and_use(base: Base) -> None:
    """Each has a standing and a source, and some kind that it is said of."""
    said = {
        value
        for symbol in base.symbols
        for matter in MATTERS
        for value in base.record(symbol).links(matter)
    }
    advice = base.instances("Advice")
    assert said == set(advice)
    for symbol in advice:
        basis = base.record(symbol).basis
        assert basis.standing, f"{symbol}: no standing"
        assert basis.sources, f"{symbol}: no source"
        if basis.sources == ("common-practice",):
            assert basis.from_memory, f"{symbol}: practice is from memory"


@pytest.mark.parametrize("side", [Role.FILM, Role.CLEANSER])
def test_inherited(base: Base, side: Role) -> None:
    """Whatever can be asked about as a film or a cleanser has a cue and an advice."""
    for symbol in base.instances(base.term(side)):
        told(base, LABEL_CUE, symbol, side)
        told(base, WASH_DAY, symbol, side)


def test_own_of_every_family(base: Base) -> None:
    """No family of films has to do with what is said of all films."""
    film = base.term(Role.FILM)
    for family in base.terms(Role.FILM_FAMILY):
        for matter in MATTERS:
            assert told(base, matter, family, Role.FILM).about != film, family


def test_nearest(base: Base) -> None:
    """The narrowest kind speaks, and the side that is asked about."""
    cue = told(base, LABEL_CUE, "cyclopentasiloxane", Role.FILM)
    assert cue.about == "VolatileSilicone"
    assert told(base, WASH_DAY, "SiliconeFluid").about == "InsolubleSilicone"
    quat = "behentrimonium-methosulfate"
    assert told(base, WASH_DAY, quat, Role.FILM).about == "CationicSurfactant"
    assert told(base, WASH_DAY, "OlefinSulfonate").about == "OlefinSulfonate"
    assert told(base, WASH_DAY, "sodium-lauroyl-sarcosinate").about == "MilderAnionic"
    assert advice_on(base, LABEL_SILENCE, "Solvent") is None
    assert told(base, LOOSENED, "dimethicone").about == "InsolubleSilicone"


def test_what_each_kind_does(base: Base) -> None:
    """Whatever can clean or stay, and what else labels often list, does something."""
    often = [
        e for e in base.instances("Ingredient") if base.record(e).truth("metOften")
    ]
    for symbol in often:
        told(base, WHAT_IT_DOES, symbol)
    for side in (Role.FILM, Role.CLEANSER):
        for symbol in base.instances(base.term(side)):
            told(base, WHAT_IT_DOES, symbol)


def test_own_of_a_thing(base: Base) -> None:
    """What is said of a thing itself goes before what is said of its kind."""
    quat = told(base, WHAT_IT_DOES, "behentrimonium-methosulfate")
    assert quat.about == "behentrimonium-methosulfate"
    assert "no sulfate" in quat.text
    assert told(base, WHAT_IT_DOES, "cetrimonium-chloride").about == "MonoalkylQuat"


def test_told_first(base: Base) -> None:
    """What holds most firmly is told before what a rinse takes along."""
    films = ["cetearyl-alcohol", "amodimethicone", "polyquaternium-37", "cera-alba"]
    told = sorted(films, key=lambda film: told_at(base, film))
    assert told[0] == "amodimethicone"
    assert told[-1] == "cetearyl-alcohol"


def test_read_from_parts(base: Base) -> None:
    """What the base does not list is advised on by its kinds."""
    advice = advice_on(base, LABEL_CUE, "name/Zetyl Dimethicone", kinds=["Silicone"])
    assert advice is not None
    assert advice.about == "Silicone"
    assert advice_on(base, LABEL_CUE, "name/Zetyl") is None


def test_how_often(base: Base) -> None:
    """How often a strong wash is advised stands as practice, from memory."""
    wash = base.record(base.term(Role.WASH))
    names = (
        "gathersAfter",
        "lighterHandAfter",
        "strongWashApart",
        "strongWashApartHarmed",
        "strongWashAtMost",
        "strongWashOneOf",
        "strongWashTooMany",
        "triedApart",
        "triedStrongApart",
    )
    for name in names:
        count, basis = wash.number(name), wash.basis_of(name)
        assert count is not None
        assert count >= 1
        assert basis is not None
        assert (basis.standing, basis.from_memory) == ("commonPractice", True)


@pytest.mark.parametrize(
    ("lines", "against"),
    [
        ("Salicylic Acid, Sodium Benzoate", "Salicylic Acid"),
        ("Benzyl Alcohol, Salicylic Acid", ""),
        # Seldom in a wash for anything else, wherever they are listed.
        ("Phenoxyethanol, Piroctone Olamine", "Piroctone Olamine"),
        ("Benzyl Alcohol, Salicylic Acid, Climbazole", "Climbazole"),
    ],
)
def test_what_a_wash_is_for(base: Base, lines: str, against: str) -> None:
    """Only salicylic acid is common as a preservative and no more."""
    label = f"Aqua, Decyl Glucoside, {lines}"
    world = World(base, load_rulebook(), [Product("it", "wash", "EU", label)])
    found = purpose(world, "it")
    assert (found.ingredient if found else "") == against


@pytest.mark.parametrize(
    ("film", "agent", "most"),
    [
        ("dimethicone-fluid", "sodium-laureth-sulfate", True),
        ("dimethicone-fluid", "decyl-glucoside", False),
        ("pvp", "decyl-glucoside", True),
        ("polyquaternium-10", "sodium-laureth-sulfate", False),
        ("amodimethicone", "sodium-laureth-sulfate", False),
    ],
)
def test_what_practice_counts_on(base: Base, film: str, agent: str, most: bool) -> None:
    """Most of a film that holds by its charge is promised of nothing."""
    assert takes_most(base, film, [agent]) is most
