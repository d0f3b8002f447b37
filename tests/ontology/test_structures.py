"""The structures of the base against RDKit: valid, of the right charge and mass."""

import pytest
from abluent.engine.base.store import Base
from rdkit import Chem, RDLogger
from rdkit.Chem import Descriptors

# The net charge that a surfactant of each kind of charge is drawn with.
NET = {
    "anionic": {-1, -2, -3},
    "cationic": {1, 2, 3},
    "amphoteric": {-1, 0},
    "nonionic": {0},
}


def faults(
    smiles: str, charge: str | None, net_charge: float, mass: float
) -> list[str]:
    """What RDKit says against a structure and the figures stated with it."""
    RDLogger.DisableLog("rdApp.*")
    molecule = Chem.MolFromSmiles(smiles)
    if molecule is None:
        return ["no structure"]
    found = []
    net = Chem.GetFormalCharge(molecule)
    if net != net_charge:
        found.append(f"net charge {net}, not {net_charge}")
    if charge in NET and net not in NET[charge]:
        found.append(f"net charge {net} is not {charge}")
    exact = Descriptors.MolWt(molecule)
    if abs(exact - mass) > mass / 1000:
        found.append(f"mass {exact:.2f}, not {mass}")
    return found


def test_structures_of_the_base(base: Base) -> None:
    """Every structure is valid and agrees with its charge, class and mass."""
    wrong = {}
    checked = 0
    surfactants = set(base.instances("Surfactant"))
    for symbol in sorted(base.symbols):
        record = base.record(symbol)
        smiles = record.text("smiles")
        if smiles is None:
            continue
        checked += 1
        charge, mass = record.number("ionCharge"), record.number("ionMass")
        assert charge is not None, symbol
        assert mass is not None, symbol
        ionic = record.link("charge") if symbol in surfactants else None
        found = faults(smiles, ionic, float(charge), float(mass))
        if found:
            wrong[symbol] = found
    assert wrong == {}
    assert checked > 150


# The masses are those of sodium dodecyl sulfate's ion and of cetrimonium, which
# Rosen's table of surfactants and any table of atomic masses give.
DODECYL_SULFATE = "CCCCCCCCCCCCOS(=O)(=O)[O-]"
GOOD = [
    (DODECYL_SULFATE, "anionic", -1, 265.39),
    ("CCCCCCCCCCCCCCCC[N+](C)(C)C", "cationic", 1, 284.55),
]
BAD = [
    ("CCCCC(C", "anionic", -1, 265.39, "no structure"),
    (DODECYL_SULFATE, "anionic", -2, 265.39, "net charge -1, not -2"),
    (DODECYL_SULFATE, "cationic", -1, 265.39, "net charge -1 is not cationic"),
    (DODECYL_SULFATE, "anionic", -1, 288.38, "mass 265.39, not 288.38"),
    (DODECYL_SULFATE, "anionic", -1, 265.80, "mass 265.39, not 265.8"),
]


@pytest.mark.parametrize(("smiles", "charge", "net", "mass"), GOOD)
def test_a_right_structure(smiles: str, charge: str, net: int, mass: float) -> None:
    """A structure with its own charge and mass is not faulted."""
    assert faults(smiles, charge, net, mass) == []


@pytest.mark.parametrize(("smiles", "charge", "net", "mass", "fault"), BAD)
def test_a_wrong_structure(
    smiles: str, charge: str, net: int, mass: float, fault: str
) -> None:
    """A broken structure, a wrong charge and a wrong mass are each told."""
    assert faults(smiles, charge, net, mass) == [fault]
