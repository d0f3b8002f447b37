"""Every write fails once, with every fault: nothing is lost, and it is said."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from abluent.engine.disk import write_file
from abluent.engine.faults import DataError, ShellError
from abluent.engine.teach.hand_over import parts_in
from abluent.engine.teach.layer import Layer, Part
from abluent.shell.shelf.own import OwnShelf
from abluent.shell.shelf.save import save_shelf
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from fuzz.faults import ERRORS, faulty

OLD, NEW = (
    ShelfLabel("Old", "wash", "EU", "Aqua"),
    ShelfLabel("New", "wash", "EU", "Oil"),
)
MOST = 60


def write(folder: Path) -> None:
    write_file(folder / "page.txt", "new", overwrite=True)


def add(folder: Path) -> None:
    OwnShelf("mine", folder).add(NEW)


def undo(folder: Path) -> None:
    OwnShelf("mine", folder).undo()


def teach(folder: Path) -> None:
    part = Part("foam", ".ttl", "# nothing\n")
    Layer(folder).keep([part, part], Layer(folder).paths())


def save(folder: Path) -> None:
    save_shelf(Shelf("mine", (OLD, NEW)), folder / "shelf.jsonl", overwrite=True)


def laid_out(folder: Path) -> None:
    write_file(folder / "page.txt", "old")
    own = OwnShelf("mine", folder)
    own.add(OLD)
    own.set_condition("water", "hard")
    save_shelf(Shelf("mine", (OLD,)), folder / "shelf.jsonl")


def contents(folder: Path) -> dict[str, str]:
    """What a user would miss, by file; locks, drafts and earlier states are none."""
    files = [p for p in folder.rglob("*") if p.is_file() and p.suffix != ".lock"]
    kept = [p for p in files if p.suffix != ".part" and p.parent.name != "earlier"]
    return {str(p.relative_to(folder)): p.read_text("utf-8") for p in kept}


@pytest.mark.parametrize("change", [write, add, undo, teach, save])
def test_a_fault_at_any_call_leaves_the_old_or_the_new(
    tmp_path: Path, change: Callable[[Path], None]
) -> None:
    """And raises an error that a user can read, or nothing."""
    whole = tmp_path / "whole"
    whole.mkdir()
    laid_out(whole)
    before = contents(whole)
    with faulty(-1, 0) as counted:
        change(whole)
    after = contents(whole)
    assert 0 < counted.calls < MOST
    for at in range(counted.calls):
        code = ERRORS[at % len(ERRORS)]
        folder = tmp_path / f"{at}"
        folder.mkdir()
        laid_out(folder)
        with suppress(ShellError), faulty(at, code):
            change(folder)
        assert contents(folder) in (before, after), at
        drafts = [p for p in folder.rglob("*.part") if p.is_file()]
        assert len(drafts) <= 1, at


def test_what_is_no_plain_file_is_written_into(tmp_path: Path) -> None:
    """A full device says so and stays what it is."""
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("there is no /dev/full here")
    with pytest.raises(DataError, match="No space left"):
        write_file(full, "text", overwrite=True)
    assert full.is_char_device()


def packed(path: Path, *files: tuple[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files:
            archive.writestr(name, data)
    return path


def test_members_that_cannot_be_unpacked_are_refused(tmp_path: Path) -> None:
    """Encrypted, of an unknown method, broken: each with a place and a hint."""
    good = packed(tmp_path / "good.zip", ("a.ttl", b"# text\n" * 9))
    data = good.read_bytes()
    assert [part.name for part in parts_in(good)] == ["a"]
    directory = data.index(b"PK\x01\x02")
    changes = {"encrypted": (6, 1), "method": (8, 99), "broken": (35, 255)}
    for name, (at, byte) in changes.items():
        broken = bytearray(data)
        broken[at] = byte
        if name != "broken":
            broken[directory + at + 2] = byte
        path = tmp_path / f"{name}.zip"
        path.write_bytes(bytes(broken))
        with pytest.raises(DataError, match="could not be read"):
            parts_in(path)


def test_all_members_together_have_a_limit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So that a small archive does not fill the memory."""
    monkeypatch.setattr("abluent.engine.teach.hand_over._MOST", 100)
    files = [(f"{n}.ttl", b"# text " * 9) for n in range(3)]
    with pytest.raises(DataError, match="too large together"):
        parts_in(packed(tmp_path / "large.zip", *files))
