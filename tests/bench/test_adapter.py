"""The benchmark's adapter, on a base small enough to be worked out by hand."""

from __future__ import annotations

import importlib
from pathlib import Path
from types import ModuleType

import pytest

BASE = {
    "class": "film_former oil surfactant sulfate line_marker cationic_polymer "
    "cationic_surfactant",
    "subclass": "oil,film_former sulfate,surfactant cationic_polymer,film_former "
    "cationic_surfactant,surfactant",
    "isa": "castor,oil sls,sulfate phenoxy,line_marker guar,cationic_polymer",
    "charge": "castor,nonionic sls,anionic phenoxy,nonionic guar,cationic",
    "solubility": "castor,insoluble sls,soluble phenoxy,soluble guar,soluble",
    "persistent": "castor guar",
    "kind": "wash,wash late,wash mask,conditioner spray,leave_in rinse,conditioner",
    # `late` has its surfactant behind the marker; `spray` holds both films.
    "contains": "wash,1,sls wash,2,phenoxy late,1,phenoxy late,2,sls mask,1,castor "
    "spray,1,castor spray,2,guar rinse,1,sls",
    "removes": "surfactant,oil",
    "exception": "cationic_surfactant,oil",
}


@pytest.fixture
def adapter(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.syspath_prepend(str(Path(__file__).parent))
    return importlib.import_module("adapter")


@pytest.fixture
def data(tmp_path: Path) -> str:
    for name, rows in BASE.items():
        text = "".join(f"{row}\n" for row in rows.split())
        (tmp_path / f"{name}.csv").write_text(text, "utf-8")
    return str(tmp_path)


def test_answers(adapter: ModuleType, data: str) -> None:
    """The wash lifts oil, a late surfactant lifts nothing, guar stays on."""
    clears, dirty, stuck = adapter.answers(data)
    assert set(clears) == {("wash", "mask"), ("wash", "rinse"), ("late", "rinse")}
    assert list(dirty) == []
    assert list(stuck) == ["spray"]


def test_explanations(adapter: ModuleType, data: str) -> None:
    """Yes with what lifts each film, no with the films that stay."""
    assert adapter.explain(data, "wash", "mask") == (True, [("castor", "sls")], [], [])
    yes, lifts, left, dirty = adapter.explain(data, "wash", "spray")
    assert (yes, lifts, left, dirty) == (False, [("castor", "sls")], ["guar"], [])


def test_proofs(adapter: ModuleType, data: str) -> None:
    """One proof for the answer, and one derivation for every lift and deposit."""
    assert "wash clears mask" in adapter.proof(data, "wash", "mask")
    assert "does not lift the cationic_polymer" in adapter.proof(data, "wash", "spray")
    derivations = list(adapter.proofs(data))
    last = sorted(text.splitlines()[-1].partition(". ")[2] for text in derivations)
    assert [line.partition(" by ")[0] for line in last] == [
        "deposits(mask, castor)",
        "deposits(spray, castor)",
        "deposits(spray, guar)",
        "lift(wash, oil)",
    ]
