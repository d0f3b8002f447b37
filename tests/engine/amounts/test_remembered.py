"""Balances worked out before: as now, by all they rest on, and still proved."""

from __future__ import annotations

import gc
from collections.abc import Sequence
from pathlib import Path
from weakref import ref

import pytest
from abluent.engine.amounts import remembered
from abluent.engine.amounts.remembered import RememberedBalances
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.questions.world.amounts import Amounts
from abluent.engine.questions.world.world import Product, World

LABEL = "Aqua, Sodium Laureth Sulfate, Cetrimonium Chloride, Cocamidopropyl Betaine"
OTHER = "Aqua, Cetrimonium Chloride, Sodium Laureth Sulfate, Cocamidopropyl Betaine"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that a base is kept in."""
    return tmp_path_factory.mktemp("kept")


def amounts(folder: Path, label: str = LABEL, *, practice: bool = True) -> Amounts:
    """The amounts of a label, in what could be another run."""
    base = Base.load(cache_folder=folder)
    world = World(base, load_rulebook(), [Product("A", "wash", "EU", label)])
    world.amounts.practice = practice
    return world.amounts


@pytest.mark.slow
def test_a_balance_is_worked_out_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the next run it is there as it was; its proof is made where one is asked."""
    first = amounts(folder)
    facts = list(first.balance("A"))
    proved = first.bounded("A")
    assert facts == [each.fact for each in proved]
    worked: list[str] = []
    excess = Amounts._excess

    def watched(self: Amounts, name: str) -> Sequence[object]:
        worked.append(name)
        return excess(self, name)

    monkeypatch.setattr(Amounts, "_excess", watched)
    again = amounts(folder)
    assert list(again.balance("A")) == facts
    assert not worked
    assert [each.fact for each in again.bounded("A")] == facts
    assert worked == ["A"]
    # Another order, or no practice, is another balance; and so is another day.
    for other in (amounts(folder, OTHER), amounts(folder, practice=False)):
        other.balance("A")
    assert worked == ["A"] * 3
    monkeypatch.setattr(remembered.time, "strftime", lambda form: "2000-01-01")
    assert list(amounts(folder).balance("A")) == facts
    assert worked == ["A"] * 4


@pytest.mark.slow
def test_it_is_found_by_all_that_was_read_and_the_day(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also what it rests on, and the day on which it is asked in one long run."""
    known = RememberedBalances(Base.load(cache_folder=folder))
    read = Fact("line", ("A", 1, "cetrimonium-chloride"))
    excess = [Fact("ionicExcess", ("A", 1), Basis("inferred"))]

    def fail() -> Sequence[Fact]:
        raise AssertionError("it was worked out anew")

    known.facts([read], True, lambda: excess)
    assert known.facts([read], True, fail) == excess
    repaired = Fact(*read[:2], Basis("inferred"))
    assert known.facts([repaired], True, list) == []
    monkeypatch.setattr(remembered.time, "strftime", lambda form: "2000-01-01")
    assert known.facts([read], True, list) == []


@pytest.mark.slow
def test_what_is_supposed_of_a_class_is_not_remembered(folder: Path) -> None:
    """It is no matter of the base, and none that the label says."""
    made = amounts(folder)
    known = RememberedBalances.of(made._known.base)
    kept = {*known._known}
    fact = Fact("type", ("cetrimonium-chloride", "Silicone"))
    labels = made._labels.with_type("cetrimonium-chloride", fact)
    Amounts(made._known, labels).balance("A")
    assert {*known._known} == kept


@pytest.mark.slow
def test_a_base_that_was_read_with_is_let_go(folder: Path) -> None:
    """Whoever reads the base anew, as when something is taught, holds one of them."""
    made = amounts(folder, "Aqua, Cetrimonium Chlorid, Sodium Laureth Sulfate, Zork")
    assert made.balance("A")
    made.levels("A", ["cetrimonium-chloride"])
    base = ref(made._known.base)
    del made
    gc.collect()
    assert base() is None
