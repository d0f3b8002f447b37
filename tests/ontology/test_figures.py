"""Figures of the base against published ways to work them out from a structure."""

import pytest
from abluent.engine.base.store import Base
from rdkit import Chem
from rdkit.Chem import Descriptors

# Group numbers of Davies 1957, Proc. 2nd Int. Congr. Surface Activity 1:426-438:
# HLB = 7 + group - 0.475 for each carbon of the chain.
DAVIES = {
    "sodium-lauryl-sulfate": ("OS(=O)(=O)[O-]", 38.7),
    "sodium-oleate": ("C(=O)[O-]", 19.1),
    "potassium-oleate": ("C(=O)[O-]", 21.1),
}
OXYETHYLENE = 44.053
# S and A, the saponification and acid numbers worked out in Griffin 1954, J. Soc.
# Cosmet. Chem. 5:249-256: HLB = 20 (1 - S/A).
GRIFFIN = {"glyceryl-stearate": (161, 198), "polysorbate-20": (45.5, 276)}
ETHOXYLATES = ("laureth", "ceteth", "steareth", "oleth")


def structure(base: Base, symbol: str) -> Chem.Mol:
    return Chem.MolFromSmiles(base.record(symbol).text("smiles"))


def stated(base: Base, symbol: str) -> float:
    """The HLB that the base gives an ingredient."""
    low = base.record(f"hlb-{symbol}").number("low")
    assert low is not None
    return float(low)


@pytest.mark.parametrize("symbol", DAVIES)
def test_davies(base: Base, symbol: str) -> None:
    """The HLB of an ionic surfactant is that of its Davies group numbers."""
    group, number = DAVIES[symbol]
    molecule = structure(base, symbol)
    (head,) = molecule.GetSubstructMatches(Chem.MolFromSmarts(group))
    chain = {a.GetIdx() for a in molecule.GetAtoms() if a.GetSymbol() == "C"}
    worked_out = 7 + number - 0.475 * len(chain - set(head))
    assert worked_out == pytest.approx(stated(base, symbol), abs=0.1)


def test_griffin_ethoxylates(base: Base) -> None:
    """The HLB of an ethoxylated alcohol is a fifth of its share of oxyethylene."""
    unit = Chem.MolFromSmarts("[OX2][CH2][CH2][OX2]")
    checked = 0
    for measurement in base.instances("Measurement"):
        symbol = measurement.removeprefix("hlb-")
        if symbol == measurement or not symbol.startswith(ETHOXYLATES):
            continue
        molecule = structure(base, symbol)
        units = len(molecule.GetSubstructMatches(unit))
        share = 100 * units * OXYETHYLENE / Descriptors.MolWt(molecule)
        assert share / 5 == pytest.approx(stated(base, symbol), abs=0.1), symbol
        checked += 1
    assert checked >= 10


@pytest.mark.parametrize("symbol", GRIFFIN)
def test_griffin_esters(base: Base, symbol: str) -> None:
    """The HLB of an ester follows from its saponification and acid numbers."""
    saponification, acid = GRIFFIN[symbol]
    worked_out = 20 * (1 - saponification / acid)
    assert worked_out == pytest.approx(stated(base, symbol), abs=0.1)


def test_figures_are_ranges(base: Base) -> None:
    """No figure has its lower end above its upper end."""
    for symbol in base.instances("Measurement"):
        record = base.record(symbol)
        low, high = record.number("low"), record.number("high")
        assert low is not None, symbol
        assert high is not None, symbol
        assert low <= high, symbol


def test_calcium_bound_by_a_chelant(base: Base) -> None:
    """10 g with 0.1 % of disodium EDTA dihydrate, 372.24 g/mol, binds 1.08 mg Ca."""
    worked_out = 10 * 0.001 / 372.24 * 40.078 * 1000
    figure = base.record("edta-calcium-bound").number("high")
    assert figure is not None
    assert float(figure) == pytest.approx(worked_out, abs=0.005)
