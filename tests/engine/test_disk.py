"""Writing files: all or nothing, and nothing replaced unasked."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine import disk
from abluent.engine.faults import CommandError, DataError


def test_a_file_is_written_whole_and_nothing_else_is_left(tmp_path: Path) -> None:
    disk.write_file(tmp_path / "a.md", "Größe\n")
    assert (tmp_path / "a.md").read_bytes() == "Größe\n".encode()
    assert [p.name for p in tmp_path.iterdir()] == ["a.md"]


def test_a_file_that_is_there_is_left_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "a.md").write_text("mine")
    with pytest.raises(CommandError, match="was left as it is"):
        disk.write_file(tmp_path / "a.md", "other")
    assert (tmp_path / "a.md").read_text() == "mine"
    assert [p.name for p in tmp_path.iterdir()] == ["a.md"]


def test_a_file_made_by_another_in_between_is_left_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "exists", lambda self: False)
    (tmp_path / "a.md").write_text("mine")
    with pytest.raises(CommandError, match="was left as it is"):
        disk.write_file(tmp_path / "a.md", "other")
    assert (tmp_path / "a.md").read_text() == "mine"


def test_a_file_is_replaced_when_asked(tmp_path: Path) -> None:
    (tmp_path / "a.md").write_text("mine")
    disk.write_file(tmp_path / "a.md", "other", overwrite=True)
    assert (tmp_path / "a.md").read_text() == "other"


def test_a_crash_while_writing_keeps_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: int) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "a.md").write_text("mine")
    monkeypatch.setattr(disk.os, "fsync", fail)
    with pytest.raises(DataError, match="No space left"):
        disk.write_file(tmp_path / "a.md", "other", overwrite=True)
    assert (tmp_path / "a.md").read_text() == "mine"
    assert [p.name for p in tmp_path.iterdir()] == ["a.md"]


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="no folder"):
        disk.write_file(tmp_path / "none" / "a.md", "")


def test_bytes_that_are_not_utf8_are_placed() -> None:
    with pytest.raises(DataError, match=r"f\.txt:2:3: byte 0xff is not UTF-8"):
        disk.decode("\ufeffé\nab".encode() + b"\xff", "f.txt")
