"""What two things on one label make of each other, by the rules of the base."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World


@cache
def _case(text: str) -> Case:
    world = World(Base.load(), load_rulebook(), [Product("Zork", "wash", "EU", text)])
    return Case.of(world, washes=["Zork"])


def _found(text: str, predicate: str, *rest: str | None) -> set[tuple[object, ...]]:
    found = _case(text).model.match(predicate, ("product/Zork", *rest))
    return {row[1:] for row in found}


def test_acid_and_alkali_side_by_side_make_soap() -> None:
    """Fatty acids with an alkali close below them wash as the soap they make."""
    text = "Aqua, Lauric Acid, Potassium Hydroxide, Glycerin, Parfum"
    made = ("soap-formed", "lauric-acid", "potassium-hydroxide")
    assert _found(text, "formed", None, None, None) == {made}
    assert ("soap-formed",) in _found(text, "acts", None)


@pytest.mark.parametrize(
    "text",
    [
        "Aqua, Stearic Acid, Glycerin, Parfum, Betaine, Citral, Sodium Hydroxide",
        "Aqua, Lauric Acid, Citric Acid",
        "Benzyl Alcohol, Citral, Glycerin, Lauric Acid, Panthenol, Potassium Hydroxide",
    ],
    ids=["far down", "no alkali", "alphabetical"],
)
def test_a_little_alkali_makes_no_soap(text: str) -> None:
    """An alkali far below sets the pH, and an alphabet proves nothing."""
    assert _found(text, "formed", None, None, None) == set()


def test_an_acid_charges_an_amine() -> None:
    """An amidoamine with an acid on the list is a cation."""
    text = "Aqua, Stearamidopropyl Dimethylamine, Lactic Acid"
    charged = ("stearamidopropyl-dimethylamine", "lactic-acid")
    assert charged in _found(text, "chargedBy", None, None)
    alone = "Aqua, Stearamidopropyl Dimethylamine, Glycerin"
    assert _found(alone, "chargedBy", None, None) == set()


def test_an_alkali_neutralises_an_acrylate() -> None:
    """A carboxylated fixative with an alkali on the list is a salt."""
    text = "Aqua, Acrylates Copolymer, Aminomethyl Propanol"
    salt = ("acrylates-copolymer", "aminomethyl-propanol")
    assert _found(text, "neutralisedBy", None, None) == {salt}


def test_a_counter_ion_is_not_the_active_ion() -> None:
    """A methosulfate is a cation, and nothing anionic follows from its counter-ion."""
    model = _case("Aqua, Behentrimonium Methosulfate").model
    kinds = {
        row[1] for row in model.match("isa", ("behentrimonium-methosulfate", None))
    }
    assert "CationicSurfactant" in kinds
    assert "AnionicSurfactant" not in kinds


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "kind", "short"),
    [
        ("Sodium Octeth-2 Sulfate", "ShortChainEtherSulfate", True),
        ("Zinc Decyl Sulfate", "ShortChainAlkylSulfate", True),
        ("Zinc Myristyl Sulfate", "ShortChainAlkylSulfate", False),
    ],
)
def test_a_read_name_tells_whether_its_chain_is_short(
    name: str, kind: str, short: bool
) -> None:
    """Ten carbons or fewer make a short-chain sulfate, listed or read."""
    model = _case(f"Aqua, {name}").model
    assert (
        (f"name/{name}", kind) in set(model.match("isa", (f"name/{name}", kind)))
    ) == short
