"""Limits and cautions: none missing, and salt limits follow from molar masses."""

import re
from collections import defaultdict
from fractions import Fraction

import pytest
from abluent.engine.base.store import Base
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import evaluate
from rdkit import Chem
from rdkit.Chem import Descriptors

# How many entries each group has: label rules, cationics, preservatives, restricted
# ingredients, ultraviolet filters, solvents and silicones, contaminants and
# conditions, use levels, what law forbids or bounds by name ("b").
GROUPS = {"l": 13, "b": 14, "c": 8, "p": 42, "a": 20, "u": 3, "s": 6, "n": 10, "t": 31}


def test_no_limit_is_missing(base: Base) -> None:
    """Every numbered entry of every group is there."""
    found = {match[1] for s in base.instances("Limit") if (match := _number(s))}
    wanted = {f"{g}{n:02}" for g, count in GROUPS.items() for n in range(1, count + 1)}
    assert found == wanted


def test_no_caution_is_missing(base: Base) -> None:
    """All 26 cautions are there, and every verdict carries the first."""
    numbered = [s for s in base.instances("Caution") if _number(s)]
    assert {s[:3] for s in numbered} == {f"k{n:02}" for n in range(1, 27)}
    carried = base.record(numbered[0]).links("appliesTo")
    assert set(carried) == set(base.instances("Verdict"))


def _number(symbol: str) -> re.Match[str] | None:
    return re.match(r"([a-z]\d\d)-", symbol)


# The acid and the salt of each limit stated as acid in Annex V, with the limit.
SALTS = {
    "l11-potassium-sorbate": ("C/C=C/C=C/C(=O)O", "C/C=C/C=C/C(=O)[O-].[K+]", "0.6"),
    "l11-sodium-benzoate-leave-on": (
        "OC(=O)c1ccccc1",
        "[Na+].[O-]C(=O)c1ccccc1",
        "0.5",
    ),
    "l11-sodium-benzoate-rinse-off": (
        "OC(=O)c1ccccc1",
        "[Na+].[O-]C(=O)c1ccccc1",
        "2.5",
    ),
    "l11-sodium-dehydroacetate": (
        "CC(=O)C1C(=O)C=C(C)OC1=O",
        "CC(=O)[C-]1C(=O)C=C(C)OC1=O.[Na+]",
        "0.6",
    ),
    "l11-sodium-salicylate": (
        "OC(=O)c1ccccc1O",
        "[Na+].[O-]C(=O)c1ccccc1O",
        "0.5",
    ),
}


@pytest.mark.parametrize("symbol", SALTS)
def test_limits_as_acid(base: Base, symbol: str) -> None:
    """The limit of a salt is that of its acid times the ratio of their masses."""
    acid, salt, limit = SALTS[symbol]
    ratio = _mass(salt) / _mass(acid)
    stated = base.record(symbol).number("high")
    assert stated is not None
    assert float(stated) == pytest.approx(float(limit) * ratio, abs=0.006)


def _mass(smiles: str) -> float:
    return float(Descriptors.MolWt(Chem.MolFromSmiles(smiles)))


KNOWN = {
    # Regulation (EU) No 866/2014, Annex III 286 and 287
    "c01-cetrimonium-rinse-off": ("cetrimonium-chloride", "2.5"),
    "c05-behentrimonium-leave-on": ("behentrimonium-chloride", "3"),
    # Annex V 29 and 39
    "p01-phenoxyethanol": ("phenoxyethanol", "1"),
    "p07-mci-mi": ("methylchloroisothiazolinone", "0.0015"),
    # REACH Annex XVII, entry 70
    "s01-d4-d5-wash-off": ("cyclopentasiloxane", "0.1"),
}


@pytest.mark.parametrize("symbol", KNOWN)
def test_known_limits(base: Base, symbol: str) -> None:
    """Limits read elsewhere are those of the base."""
    ingredient, high = KNOWN[symbol]
    record = base.record(symbol)
    assert ingredient in record.links("appliesTo")
    assert record.number("high") == Fraction(high)


def test_markers_are_capped(base: Base, rules: Program) -> None:
    """What shows the 1 % line by law may stand above 1 % by no entry of the EU."""
    highest: dict[str, Fraction | int] = defaultdict(int)
    for symbol in base.instances("ConcentrationLimit"):
        record = base.record(symbol)
        high = record.number("high")
        assert high is not None
        if "eu" in record.links("market"):
            for ingredient in record.links("appliesTo"):
                highest[ingredient] = max(highest[ingredient], high)
    model = evaluate(rules, base.facts_about(base.symbols, rules.arities))
    markers = {row[0] for row in model.match("isa", (None, "LawfulLineMarker"))}
    assert markers >= {"phenoxyethanol", "potassium-sorbate", "methylisothiazolinone"}
    assert [marker for marker in markers if not 0 < highest[str(marker)] <= 1] == []


def test_dual_use_names_are_no_markers(base: Base, rules: Program) -> None:
    """Preservatives that another entry allows above 1 % do not show the line."""
    model = evaluate(rules, base.facts_about(base.symbols, rules.arities))
    dual = base.record("l12-eu-dual-use").links("appliesTo")
    assert len(dual) == 8
    assert not any(model.holds("isa", (name, "LawfulLineMarker")) for name in dual)
