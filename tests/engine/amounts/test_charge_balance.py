"""Which charge outweighs the other, counted in milliequivalents."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.amounts.bounded import Bounded
from abluent.engine.amounts.charge_balance import (
    Carrier,
    carriers,
    excess_bounds,
    excess_terms,
    is_decided,
)
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Interval, more
from abluent.engine.reading.labels import label_facts
from certificates import faults
from hypothesis import given, settings
from hypothesis import strategies as st
from rdkit import Chem
from rdkit.Chem import Descriptors
from stoichiometry import opposite_mass

BASE = Base.load()
DAY = "2026-01-31"


MOST = 1.1
"""The greatest share of what a formula gives that a gram may carry."""


def label(text: str, kind: str = "wash", market: str = "EU") -> LabelFacts:
    """The label of an invented product."""
    return LabelFacts(
        label_facts("tideline", kind, market, text, BASE).facts, BASE, DAY
    )


def balance(text: str, kind: str = "wash") -> Bounded:
    """The excess by law and label alone, all they say."""
    return excess_bounds(label(text, kind), practice=False)[-1]


def ends(found: Bounded) -> tuple[Fraction | int | None, Fraction | int | None]:
    """The least and the greatest excess."""
    between = found.quantity
    if isinstance(between, Interval):
        return between.low, between.high
    return between, between


def answer(found: Bounded) -> str:
    """Whether anionic is in excess, as the rules conclude it."""
    return {True: "certain", False: "no", None: "possible"}[more(found.quantity, 0)]


def fact(text: str, kind: str = "wash") -> tuple[str, str]:
    """What follows for the reasoner, and the standing of what it rests on."""
    found = excess_bounds(label(text, kind))
    decided = [each for each in found if is_decided(each)] or found
    return answer(decided[0]), decided[0].fact.basis.standing


def test_an_ordinary_wash_has_anionic_in_excess() -> None:
    """With no cationic surfactant on the label, any anionic is in excess."""
    found = balance("Aqua, Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Glycerin")
    assert answer(found) == "certain"
    assert ends(found)[0] == 0


def test_a_conditioner_has_none() -> None:
    """With no anionic surfactant there is no excess of it."""
    found = balance("Aqua, Cetearyl Alcohol, Behentrimonium Chloride, Glycerin")
    assert (answer(found), ends(found)[1]) == ("no", 0)


def test_neither_charge_is_no_excess() -> None:
    """A nonionic wash has no anionic in excess."""
    assert answer(balance("Aqua, Decyl Glucoside, Glycerin")) == "no"


def test_law_alone_leaves_two_charges_open() -> None:
    """A wash may lawfully be all but water, and traces stand in any order."""
    found = balance(
        "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    )
    assert answer(found) == "possible"
    least, most = ends(found)
    assert least is not None
    assert most is not None
    assert least < 0 < most


def test_a_printed_figure_settles_it() -> None:
    """12 % of anionic outweighs a cationic after a 1 % marker."""
    text = (
        "Aqua, Sodium Lauryl Sulfate 12%, Glycerin, Phenoxyethanol, "
        "Cetrimonium Chloride"
    )
    found = balance(text)
    assert answer(found) == "certain"
    anionic, cationic = 12 * 1000 / 288.38 * 0.9, 1 * 1000 / 320.0 * 1.1
    least, _ = ends(found)
    assert least is not None
    assert float(least) == pytest.approx(anionic - cationic, abs=0.02)


def test_custom_settles_what_law_leaves_open_and_says_so() -> None:
    """T18: taken as an everyday shampoo, the anionic listed first is in excess."""
    text = "Aqua, Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    assert answer(balance(text)) == "possible"
    assert fact(text) == ("certain", "commonPractice")


def test_a_mass_drawn_for_a_mixture_makes_the_answer_inferred() -> None:
    """Sodium laureth sulfate is drawn as one homologue, which its mass leans on."""
    text = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Cetrimonium Chloride"
    assert fact(text) == ("certain", "inferred")


def test_the_order_counts_above_the_line() -> None:
    """A cationic listed first, both above 1 %, outweighs an anionic of like mass."""
    text = "Aqua, Cetrimonium Chloride 2%, Sodium Cetyl Sulfate 1.5%, Glycerin, Parfum"
    assert answer(balance(text, "conditioner")) == "no"


def test_a_name_that_leaves_the_ethoxylation_open_has_a_wider_margin() -> None:
    """Laureth may be 1 to 3 moles of ethylene oxide, 332 to 420 g, for 376 drawn."""
    found = carrier("Aqua, Sodium Laureth Sulfate, Glycerin", 1)
    assert found.most is not None
    for moles in (1, 2, 3):
        mass = 288.38 + 44.05 * moles
        assert found.least <= 1000 / mass <= found.most
    lauryl = carrier("Aqua, Sodium Lauryl Sulfate, Glycerin", 1)
    assert lauryl.most is not None
    assert found.most / found.least > lauryl.most / lauryl.least


def carrier(text: str, sign: int) -> Carrier:
    """The only ionic surfactant of a sign."""
    (found,) = (each for each in carriers(label(text)) if each.sign == sign)
    return found


def test_an_amine_without_acid_may_bring_no_charge() -> None:
    """The pH decides how much of an amidoamine is charged."""
    text = "Aqua, Stearamidopropyl Dimethylamine, Sodium Lauryl Sulfate"
    amine = carrier(text, -1)
    assert amine.least == 0
    assert amine.most is not None
    assert float(amine.most) == pytest.approx(1000 / 368.65 * MOST, rel=1e-3)


def test_a_soap_counts_in_part() -> None:
    """A titration does not count a soap in full; at some pH it brings nothing."""
    soap = carrier("Aqua, Sodium Oleate, Glycerin", 1)
    assert soap.least == 0
    assert soap.most is not None
    assert soap.most > 0
    assert answer(balance("Aqua, Sodium Oleate, Glycerin")) == "possible"


def test_an_unknown_mass_leaves_the_sign_open() -> None:
    """Where no mass is known, nothing is claimed about the greatest excess."""
    found = balance("Aqua, Cetrimonium Chloride, Glyceryl Stearate Citrate")
    assert found.high is None
    assert ends(found)[1] is None
    assert answer(found) == "possible"


@pytest.mark.slow
def test_what_only_a_name_tells_is_counted_too() -> None:
    """A cationic read from the parts of its name may outweigh a known anionic."""
    found = balance("Aqua, Sodium Lauryl Sulfate 12%, Cocotrimonium Bromide")
    assert found.low is None
    assert answer(found) == "possible"


def test_what_may_be_part_of_another_brings_nothing_for_certain() -> None:
    """The same portion may be printed twice; of a cationic it may be two."""
    twice = "Aqua, Sodium Lauryl Sulfate, Sodium Lauryl Sulfate"
    first, again = carriers(label(twice))
    assert first.most == again.most
    assert first.least > again.least == 0


@pytest.mark.parametrize(
    ("name", "smiles"),
    [
        ("Sodium Lauryl Sulfate", "CCCCCCCCCCCCOS(=O)(=O)[O-].[Na+]"),
        ("Cetrimonium Chloride", "CCCCCCCCCCCCCCCC[N+](C)(C)C.[Cl-]"),
        ("Behentrimonium Chloride", "CCCCCCCCCCCCCCCCCCCCCC[N+](C)(C)C.[Cl-]"),
    ],
)
def test_what_a_gram_brings_follows_from_the_structure(name: str, smiles: str) -> None:
    """RDKit's molar mass gives the milliequivalents in a gram, to within a margin."""
    (found,) = carriers(label(name))
    mass = Descriptors.MolWt(Chem.MolFromSmiles(smiles))
    varies = 0.15 if BASE.record(found.symbol).truth("hydrophobicModel") else 0.1
    assert float(found.least) == pytest.approx(1000 / mass * (1 - varies), rel=1e-4)
    assert float(found.most) == pytest.approx(1000 / mass * (1 + varies), rel=1e-4)


def test_the_turn_is_where_one_charge_meets_one() -> None:
    """W75: 1 g of cetrimonium chloride meets 0.901 g of sodium dodecyl sulfate.

    Near it, to within the margin of both masses, neither is in excess.
    """
    turn = opposite_mass(1, 320.00, 288.38)
    margin = 1.1 / 0.9
    for share, wanted in (
        (turn * margin + 0.01, "certain"),
        (turn * margin - 0.01, "possible"),
        (turn, "possible"),
        (turn / margin + 0.01, "possible"),
        (turn / margin - 0.01, "no"),
    ):
        text = f"Cetrimonium Chloride 1%, Sodium Lauryl Sulfate {share:.4f}%"
        facts = label_facts("tideline", "wash", "", f"Aqua, {text}", BASE).facts
        loose = LabelFacts([*facts, Fact("unordered", ("tideline",))], BASE, DAY)
        assert answer(excess_bounds(loose)[-1]) == wanted


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
    """The least and the greatest excess have certificates that hold.

    Without these they come to the same.
    """
    listed = label(", ".join(["Aqua", *names]))
    bounds = excess_bounds(listed)
    assert excess_terms(listed) == [found.fact.args for found in bounds]
    for found in bounds:
        for proof in (found.low, found.high):
            assert proof is not None
            assert faults(proof, found.levels.caps) == []


def test_small_ions_do_not_count() -> None:
    """A chelant, a preservative and a salt have a sign and bring no charge here."""
    plain = "Aqua, Sodium Laureth Sulfate, Cetrimonium Chloride"
    salted = f"{plain}, Disodium EDTA, Sodium Benzoate, Citric Acid, Sodium Chloride"
    assert [c.symbol for c in carriers(label(salted))] == [
        c.symbol for c in carriers(label(plain))
    ]
