"""What structures show, against what any book of organic chemistry says of them."""

import pytest
from abluent.engine.base.store import Base
from abluent.engine.deriving.structures import StructureError, Structures

BASE = Base.load()
STRUCTURES = Structures(BASE)


@pytest.mark.parametrize(
    ("smiles", "charge"),
    [
        ("CCCCCCCCCCCCOS(=O)(=O)[O-]", "anionic"),
        ("CCCCCCCCCCCCOS(=O)(=O)O", "anionic"),  # a strong acid is never neutral
        ("CC(=O)O", "depends"),
        ("CC(=O)[O-]", "anionic"),
        ("OC(=O)c1ccccc1O", "depends"),
        ("NCCO", "depends"),
        ("CCCCCCCCCCCCCCCC[N+](C)(C)C", "cationic"),
        ("CCCCCCCCCCCC(=O)NCCCN(C)C", "depends"),
        ("NCC(=O)O", "amphoteric"),
        ("C[N+](C)(C)CC(=O)[O-]", "amphoteric"),
        ("CCCCCCCCCCCC[N+](C)(C)[O-]", "amphoteric"),
        ("OC(=O)CN(CCN(CC(=O)O)CC(=O)O)CC(=O)O", "anionic"),
        ("OCC(O)CO", "none"),
        ("COC(=O)c1ccc(O)cc1", "none"),  # a phenol, pKa above 8
        ("NC(=O)N", "none"),  # an amide is no amine
        ("OC(Br)([N+](=O)[O-])CO", "none"),  # a nitro group is no charge
        ("OCC(O)C1OC(=O)C(O)=C1O", "depends"),
    ],
)
def test_charge_at_the_ph_of_hair_care(smiles: str, charge: str) -> None:
    """Groups decide the charge, not how the structure happens to be drawn."""
    assert STRUCTURES.read(smiles).charge == charge


@pytest.mark.parametrize(
    ("smiles", "kind", "chain", "units"),
    [
        ("CCCCCCCCCCCCOCCOCCOS(=O)(=O)[O-]", "AlkylEtherSulfate", 12, 2),
        ("CCCCCCCCOCCOS(=O)(=O)[O-]", "ShortChainEtherSulfate", 8, 1),
        ("CCCCCCCCCCCCOS(=O)(=O)[O-]", "AlkylSulfate", 12, None),
        ("CCCCCCCCCCCC(=O)N(C)CC(=O)[O-]", "Sarcosinate", 12, None),
        ("CCCCCCCCCCCC(=O)NCC(=O)[O-]", "Glycinate", 12, None),
        ("CCCCCCCCCCCC(=O)OCCS(=O)(=O)[O-]", "Isethionate", 12, None),
        ("CCCCCCCCCCCC(=O)NCCS(=O)(=O)[O-]", "Taurate", 12, None),
        ("CCCCCCCCCCCCOCCOCCOCCO", "AlcoholEthoxylate", 12, 3),
        ("CCCCCCCCCCCCCCCCCC[N+](C)(C)CCCCCCCCCCCCCCCCCC", "DialkylQuat", 18, None),
        ("CCCCCCCCCCCCCCCC[N+](C)(C)C", "MonoalkylQuat", 16, None),
        ("CCCCCCCCCCCC(=O)[O-]", "Soap", 12, None),
    ],
)
def test_kind_chain_and_ethylene_oxide(
    smiles: str, kind: str, chain: int, units: int | None
) -> None:
    """One kind of surfactant each, with its chain and its ethylene oxide."""
    drawn = STRUCTURES.read(smiles)
    assert set(drawn.kinds) - drawn.shared == {kind}
    assert (drawn.chain, drawn.ethoxylation) == (chain, units)


@pytest.mark.parametrize(
    ("smiles", "water"),
    [
        ("OCC(O)CO", "soluble"),
        ("CCO", None),  # too small for the estimate
        ("CCCCCCCCCCCCCCCCO", "insoluble"),
        ("Oc1cc(Cl)ccc1Oc1ccc(Cl)cc1Cl", "insoluble"),
        ("CC(C)c1ccc(C)cc1O", None),  # near the limits nothing is said
    ],
)
def test_water_solubility_only_where_it_is_clear(
    smiles: str, water: str | None
) -> None:
    """Glycerol dissolves, a wax alcohol and triclosan do not, thymol is left open."""
    assert STRUCTURES.read(smiles).water == water


def test_what_is_no_structure() -> None:
    """Broken SMILES is named and what to write is said."""
    with pytest.raises(StructureError, match="`C1CC` is no structure; write it as"):
        STRUCTURES.read("C1CC")
