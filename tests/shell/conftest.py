"""Every test has a data folder of its own, so that none meets a user's shelves."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that shelves and history are kept in during a test."""
    folder = tmp_path / "data folder"
    monkeypatch.setenv("ABLUENT_DATA", str(folder))
    return folder
