"""Signatures: who made a trace, held against a public key without any network."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest
from abluent.engine.trace import signature
from abluent.shell.command.cli import main
from traced import samples

pytest.importorskip("cryptography")


@pytest.fixture
def trace(tmp_path: Path) -> Path:
    path = tmp_path / "why.json"
    path.write_text(json.dumps(samples()["family"][1]), "utf-8")
    return path


def keyed(tmp_path: Path, name: str = "my.key") -> Path:
    path = tmp_path / name
    assert main(["sign", "--new-key", str(path)]) == 0
    return path


def checked(trace: Path, key: Path) -> int:
    return main(["check", "--alone", "--signed-by", f"{key}.pub", str(trace)])


def test_what_is_signed_is_known_to_be(tmp_path: Path, trace: Path) -> None:
    """And its key can be read by its owner only."""
    key = keyed(tmp_path)
    assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert main(["sign", "--key", str(key), str(trace)]) == 0
    assert checked(trace, key) == 0


def test_another_key_or_another_trace_is_refused(
    tmp_path: Path, trace: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key, other = keyed(tmp_path), keyed(tmp_path, "other.key")
    main(["sign", "--key", str(key), str(trace)])
    assert checked(trace, other) == 1
    assert "is not signed by the owner of" in capsys.readouterr().out
    trace.write_text(json.dumps(samples()["birds"][1]), "utf-8")
    assert checked(trace, key) == 1


def test_what_does_not_hold_is_not_signed(
    tmp_path: Path, trace: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = keyed(tmp_path)
    false = {**samples()["family"][1], "question": "is it otherwise?"}
    trace.write_text(json.dumps(false), "utf-8")
    assert main(["sign", "--key", str(key), str(trace)]) == 1
    assert "does not hold" in capsys.readouterr().err
    assert not Path(f"{trace}.sig").exists()


@pytest.mark.parametrize("what", ["key", "pub", "sig"])
def test_broken_files_are_named(
    tmp_path: Path, trace: Path, what: str, capsys: pytest.CaptureFixture[str]
) -> None:
    key = keyed(tmp_path)
    main(["sign", "--key", str(key), str(trace)])
    places = {"key": key, "pub": Path(f"{key}.pub"), "sig": Path(f"{trace}.sig")}
    places[what].write_text("broken\n")
    again = ["sign", "--overwrite", "--key", str(key), str(trace)]
    assert (main(again) if what == "key" else checked(trace, key)) == 1
    said = capsys.readouterr()
    assert str(places[what]) in said.err or "is not signed" in said.out


def test_a_key_is_never_replaced(tmp_path: Path) -> None:
    key = keyed(tmp_path)
    before = key.read_text()
    assert main(["sign", "--new-key", str(key)]) == 2
    assert key.read_text() == before


def test_a_signature_is_of_one_digest() -> None:
    private, public = signature.new_key()
    line = signature.signed("abc", private)
    assert signature.is_signed("abc", line, public)
    assert not signature.is_signed("abd", line, public)
    assert not signature.is_signed("abc", line.replace("abc ", "abc !"), public)
