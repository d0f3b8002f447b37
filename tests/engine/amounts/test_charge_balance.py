"""Which charge outweighs the other, counted in milliequivalents."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.amounts.charge_balance import Balance, charge_balance, charge_facts
from abluent.engine.amounts.label_levels import label_levels
from abluent.engine.amounts.level_check import check
from abluent.engine.amounts.levels import Item, LineRule, levels
from abluent.engine.amounts.stoichiometry import opposite_mass
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis
from abluent.engine.reading.labels import label_facts
from hypothesis import given, settings
from hypothesis import strategies as st
from rdkit import Chem
from rdkit.Chem import Descriptors

BASE = Base.load()
DAY = "2026-01-31"
RULE = LineRule("eu", basis=Basis("lawOrStandard"))


def balance(text: str, kind: str = "wash") -> Balance:
    """The balance of a label of an invented product, by law and label alone."""
    label = label_facts("tideline", kind, "EU", text, BASE)
    return charge_balance(label_levels(label, BASE, on=DAY), BASE)


def fact(text: str, kind: str = "wash") -> tuple[str, str]:
    """What the reasoner is told, and its standing."""
    label = label_facts("tideline", kind, "EU", text, BASE)
    (found,) = charge_facts(label, BASE, on=DAY)
    assert found.predicate == "chargeExcess"
    return str(found.args[1]), found.basis.standing


def test_an_ordinary_wash_has_anionic_in_excess() -> None:
    """With no cationic surfactant on the label, any anionic is in excess."""
    found = balance("Aqua, Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Glycerin")
    assert found.excess == "certain"
    assert found.least == 0


def test_a_conditioner_has_none() -> None:
    """With no anionic surfactant there is no excess of it."""
    found = balance("Aqua, Cetearyl Alcohol, Behentrimonium Chloride, Glycerin")
    assert (found.excess, found.most) == ("no", 0)


def test_neither_charge_is_no_excess() -> None:
    """A nonionic wash has no anionic in excess."""
    assert balance("Aqua, Decyl Glucoside, Glycerin").excess == "no"


def test_law_alone_leaves_two_charges_open() -> None:
    """A wash may lawfully be all but water, and traces stand in any order."""
    found = balance(
        "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    )
    assert found.excess == "possible"
    assert found.least is not None
    assert found.most is not None
    assert found.least < 0 < found.most


def test_a_printed_figure_settles_it() -> None:
    """12 % of anionic outweighs a cationic after a 1 % marker."""
    text = (
        "Aqua, Sodium Lauryl Sulfate 12%, Glycerin, Phenoxyethanol, "
        "Cetrimonium Chloride"
    )
    found = balance(text)
    assert found.excess == "certain"
    anionic, cationic = 12 * 1000 / 288.38, 1 * 1000 / 320.0
    assert found.least is not None
    assert float(found.least) == pytest.approx(anionic - cationic, abs=0.02)


def test_custom_settles_what_law_leaves_open_and_says_so() -> None:
    """T18: taken as an everyday shampoo, the anionic listed first is in excess."""
    text = "Aqua, Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    assert balance(text).excess == "possible"
    assert fact(text) == ("certain", "commonPractice")


def test_a_mass_drawn_for_a_mixture_makes_the_answer_inferred() -> None:
    """Sodium laureth sulfate is drawn as one homologue, which its mass leans on."""
    text = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    assert fact(text) == ("certain", "inferred")


def test_the_order_counts_above_the_line() -> None:
    """A cationic listed first, both above 1 %, outweighs an anionic of like mass."""
    text = "Aqua, Cetrimonium Chloride 2%, Sodium Cetyl Sulfate 1.5%, Glycerin, Parfum"
    assert balance(text, "conditioner").excess == "no"


def test_an_amine_without_acid_may_bring_no_charge() -> None:
    """The pH decides how much of an amidoamine is charged."""
    found = balance("Aqua, Stearamidopropyl Dimethylamine, Sodium Lauryl Sulfate")
    amine = next(each for each in found.carriers if each.sign > 0)
    assert amine.least == 0
    assert amine.most is not None
    assert float(amine.most) == pytest.approx(1000 / 368.65, rel=1e-3)


def test_a_soap_counts_in_part() -> None:
    """A titration does not count a soap in full; alone it is in excess all the same."""
    found = balance("Aqua, Sodium Oleate, Glycerin")
    assert found.excess == "certain"
    (soap,) = found.carriers
    assert soap.least == 0
    assert soap.most is not None
    assert soap.most > 0


def test_an_unknown_mass_leaves_the_sign_open() -> None:
    """Where no mass is known, nothing is claimed about the greatest excess."""
    found = balance("Aqua, Cetrimonium Chloride, Glyceryl Stearate Citrate")
    assert found.high is None
    assert found.excess == "possible"


@pytest.mark.parametrize(
    ("symbol", "smiles"),
    [
        ("sodium-lauryl-sulfate", "CCCCCCCCCCCCOS(=O)(=O)[O-].[Na+]"),
        ("cetrimonium-chloride", "CCCCCCCCCCCCCCCC[N+](C)(C)C.[Cl-]"),
        ("behentrimonium-chloride", "CCCCCCCCCCCCCCCCCCCCCC[N+](C)(C)C.[Cl-]"),
    ],
)
def test_what_a_gram_brings_follows_from_the_structure(
    symbol: str, smiles: str
) -> None:
    """RDKit's molar mass gives the milliequivalents in a gram."""
    label = levels([Item(1, symbol)], RULE)
    (carrier,) = charge_balance(label, BASE).carriers
    mass = Descriptors.MolWt(Chem.MolFromSmiles(smiles))
    assert float(carrier.least) == pytest.approx(1000 / mass, rel=1e-4)
    assert carrier.most == carrier.least


def test_the_turn_is_where_one_charge_meets_one() -> None:
    """W75: 1 g of cetrimonium chloride meets 0.901 g of sodium dodecyl sulfate."""
    turn = opposite_mass(1, 320.00, 288.38)
    for shift, wanted in ((0.01, "certain"), (-0.01, "no")):
        items = [
            Item(1, "water", ordered=False),
            Item(2, "cetrimonium-chloride", stated=1, ordered=False),
            Item(
                3,
                "sodium-lauryl-sulfate",
                stated=Fraction(str(round(turn + shift, 4))),
                ordered=False,
            ),
        ]
        assert charge_balance(levels(items, RULE), BASE).excess == wanted


TEXTS = st.lists(
    st.sampled_from(
        [
            "Sodium Lauryl Sulfate",
            "Cetrimonium Chloride",
            "Behentrimonium Chloride",
            "Sodium Cetyl Sulfate",
            "Glycerin",
            "Phenoxyethanol",
            "Stearamidopropyl Dimethylamine",
        ]
    ),
    unique=True,
    max_size=6,
)


@settings(max_examples=30, deadline=None)
@given(TEXTS)
def test_both_ends_of_every_balance_are_proven(names: list[str]) -> None:
    """The least and the greatest excess have certificates that hold."""
    found = balance(", ".join(["Aqua", *names]))
    for proof in (found.low, found.high):
        assert proof is not None
        assert check(proof.as_data()) == []
    assert found.least is not None
    assert found.most is not None
    assert found.least <= found.most
