"""Shelves that last: changes, undo, and files other hands have been in."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.faults import CommandError, DataError
from abluent.shell.shelf import own
from abluent.shell.shelf.own import OwnShelf, data_folder
from abluent.shell.shelf.shelf import ShelfLabel
from filelock import FileLock

EBB = ShelfLabel("Ebb Wash", "wash", "EU", "Aqua,\nParfum")
BAY = ShelfLabel("Bay Oil", "oil", "", "Olea Europaea Fruit Oil")


def test_a_shelf_that_was_never_written_is_empty(tmp_path: Path) -> None:
    assert OwnShelf("mine", tmp_path).load().labels == ()
    assert list(tmp_path.iterdir()) == []


def test_products_last_and_a_new_object_finds_them(tmp_path: Path) -> None:
    OwnShelf("salon", tmp_path).add(EBB)
    OwnShelf("salon", tmp_path).add(BAY)
    OwnShelf("salon", tmp_path).set_condition("water", "hard")
    shelf = OwnShelf("salon", tmp_path).load()
    assert shelf.labels == (EBB, BAY)
    assert shelf.water == "hard"


def test_changes_are_taken_back_one_by_one(tmp_path: Path) -> None:
    shelf = OwnShelf("mine", tmp_path)
    shelf.add(EBB)
    shelf.add(BAY)
    shelf.drop("ebb wash")
    assert shelf.load().labels == (BAY,)
    assert shelf.undo() == 2
    assert shelf.load().labels == (EBB, BAY)
    assert shelf.undo() == 1
    assert shelf.undo() == 0
    assert shelf.load().labels == ()
    with pytest.raises(CommandError, match="nothing was changed"):
        shelf.undo()


def test_only_so_many_changes_are_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(own, "EARLIER_KEPT", 3)
    shelf = OwnShelf("mine", tmp_path)
    for number in range(6):
        shelf.add(ShelfLabel(f"Wash {number}", "wash", "", "Aqua"))
    assert [shelf.undo(), shelf.undo(), shelf.undo()] == [2, 1, 0]
    assert len(shelf.load().labels) == 3


def test_a_line_this_program_cannot_read_survives_every_change(tmp_path: Path) -> None:
    shelf = OwnShelf("mine", tmp_path)
    shelf.add(EBB)
    with shelf.path.open("a") as file:
        file.write('{"product": "half\n')
    shelf.add(BAY)
    shelf.drop("Ebb Wash")
    assert '{"product": "half\n' in shelf.path.read_text()
    assert len(shelf.load().problems) == 1


def test_a_second_product_of_one_name_is_refused(tmp_path: Path) -> None:
    shelf = OwnShelf("mine", tmp_path)
    shelf.add(EBB)
    with pytest.raises(DataError, match="is on the shelf"):
        shelf.add(ShelfLabel("EBB wash", "wash", "EU", "Aqua"))
    assert shelf.load().labels == (EBB,)


def test_a_product_that_is_not_there_cannot_be_dropped(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match='no product "Ebb"'):
        OwnShelf("mine", tmp_path).drop("Ebb")


def test_a_shelf_in_use_by_another_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(own, "LOCK_SECONDS", 0.05)
    shelf = OwnShelf("mine", tmp_path)
    shelf.add(EBB)
    with (
        FileLock(f"{shelf.path}.lock"),
        pytest.raises(DataError, match="another abluent"),
    ):
        shelf.add(BAY)
    assert shelf.load().labels == (EBB,)


@pytest.mark.parametrize("name", ["", "../mine", "a/b", ".hidden", "a" * 70])
def test_a_shelf_name_cannot_leave_the_folder(name: str) -> None:
    with pytest.raises(CommandError, match="cannot name a shelf"):
        OwnShelf(name)


def test_the_data_folder_can_be_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ABLUENT_DATA", "/somewhere/else")
    assert data_folder() == Path("/somewhere/else")
    monkeypatch.delenv("ABLUENT_DATA")
    assert data_folder().name == "abluent"


def test_a_product_is_changed_and_renamed_and_that_is_taken_back(
    tmp_path: Path,
) -> None:
    shelf = OwnShelf("mine", tmp_path)
    shelf.add(EBB)
    shelf.add(BAY)
    shelf.replace("ebb wash", ShelfLabel("Flow Wash", "co-wash", "EU", "Aqua"))
    assert [x.product for x in shelf.load().labels] == ["Flow Wash", "Bay Oil"]
    with pytest.raises(DataError, match="already"):
        shelf.replace("Flow Wash", BAY)
    with pytest.raises(CommandError, match="no product"):
        shelf.replace("Ebb Wash", BAY)
    shelf.undo()
    assert shelf.load().labels == (EBB, BAY)
