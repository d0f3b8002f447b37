"""The demo shelf, judged once for all tests here."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.sweep.sweep import sweep
from abluent.shell.session.session import Session


@pytest.fixture(scope="session")
def demo() -> Session:
    """A session on the demo shelf."""
    return Session.open(taught=False)


@pytest.fixture(scope="session")
def place(demo: Session, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo shelf, judged into a DuckDB file."""
    found = tmp_path_factory.mktemp("swept") / "judged.duckdb"
    sweep(demo.world, demo.world.products.values(), found)
    return found
