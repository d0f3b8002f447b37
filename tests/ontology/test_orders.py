"""Mildness and strength are orders, whatever stands on the labels."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from abluent.engine.base.contract import MILDER, STRENGTH_FAMILY, TAKES_AS_MUCH
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World

Pairs = set[tuple[str, str]]

LINES = (
    "Sodium Laureth Sulfate, Sodium Lauryl Sulfate, Ammonium Lauryl Sulfate, "
    "Magnesium Laureth Sulfate, TEA-Lauryl Sulfate, Sodium C14-16 Olefin Sulfonate, "
    "Potassium Cocoate, Sodium Cocoyl Isethionate, Disodium Laureth Sulfosuccinate, "
    "Sodium Lauroyl Glutamate, Sodium Cocoyl Glutamate, Sodium Methyl Cocoyl Taurate, "
    "Cocamidopropyl Betaine, Coco-Betaine, Sodium Cocoamphoacetate, Decyl Glucoside, "
    "Coco-Glucoside, Polysorbate 20, Cetrimonium Chloride, Cocamide MEA, Laureth-4, "
    "Sodium Coco-Sulfate, Diethylhexyl Sodium Sulfosuccinate, Phenoxyethanol, "
    "Sodium Laureth-5 Carboxylate, Merrowex Tidal Complex, Glycerin, "
    "Distearyldimonium Chloride, Sodium Lauryl Phosphate, "
    "Sodium Dodecylbenzenesulfonate"
).split(", ")
WASHES = 80


@cache
def case(seed: int) -> Case:
    """Washes with random labels."""
    random = Random(seed)
    labels = [random.sample(LINES, random.randint(1, 4)) for _ in range(WASHES)]
    made = [
        Product(str(n), "wash", "EU", ", ".join(["Aqua", *lines]))
        for n, lines in enumerate(labels)
    ]
    world = World(Base.load(), load_rulebook(), made)
    world.weighs = False
    return Case.of(world, [each.name for each in made])


def broken(pairs: Pairs) -> list[tuple[str, str, str]]:
    """Where an order does not carry on from one pair to the next."""
    after: dict[str, set[str]] = {}
    for one, other in pairs:
        after.setdefault(one, set()).add(other)
    return [
        (one, other, last)
        for one, other in pairs
        for last in after.get(other, set()) - after[one] - {one}
    ]


@pytest.mark.slow
@pytest.mark.parametrize("seed", [0, 4, 5])
def test_mildness_is_a_strict_order(seed: int) -> None:
    """No wash is milder than one that is milder than it, and the order carries on."""
    rows = case(seed).model.match(MILDER, (None, None))
    pairs = {(str(one), str(other)) for one, other in rows}
    assert len(pairs) > 200
    assert [pair for pair in pairs if pair[::-1] in pairs] == []
    assert broken(pairs) == []


@pytest.mark.parametrize("seed", [0, 4])
def test_strength_is_an_order_on_each_family(seed: int) -> None:
    """What takes at least what another takes takes what that takes as much as."""
    model = case(seed).model
    families = [row[0] for row in model.match(STRENGTH_FAMILY, (None,))]
    assert len(families) > 5
    for family in families:
        rows = model.match(TAKES_AS_MUCH, (None, None, family))
        pairs = {(str(one), str(other)) for one, other, _ in rows}
        assert len(pairs) > 100
        assert broken(pairs) == [], family
