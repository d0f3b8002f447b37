"""Every test has a data folder of its own, so that none meets a user's shelves.

Most commands are tried in this process: `run` tells what each printed.
"""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from commanded import SHELF, Ran, Run


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that shelves and history are kept in during a test."""
    folder = tmp_path / "data folder"
    monkeypatch.setenv("ABLUENT_DATA", str(folder))
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command, with bytes on its standard input."""

    def ran(*words: str, typed: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(typed)))
        try:
            code = main(words)
        except SystemExit as error:
            code = int(str(error.code))
        return Ran(code, *capsys.readouterr())

    return ran


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A shelf of two products."""
    path = tmp_path / "shelf.jsonl"
    path.write_text("\n".join(map(json.dumps, SHELF)))
    return path
