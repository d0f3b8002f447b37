"""The demo shelf and an invented catalogue, each judged once for all tests here."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import pytest
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Product
from abluent.engine.relational import portions
from abluent.engine.sweep.sweep import Options, Swept, sweep
from abluent.engine.sweep.written import opened
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel

sys.path.insert(0, str(Path(__file__).parents[2] / "bench"))
from catalogue import catalogue

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck


class Judged(NamedTuple):
    """A catalogue that was judged: its labels, a session on them, and where it lies."""

    labels: list[Product]
    session: Session
    place: Path
    swept: Swept


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


@pytest.fixture(scope="module")
def database(place: Path) -> Iterator[Duck]:
    """A judged catalogue, opened to be asked: that of `place`."""
    found = opened(place)
    yield found
    found.close()


@pytest.fixture(scope="session")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Judged:
    """Fifty labels of any kind, some of no market, read by two processes.

    They are judged in portions that are put together.
    """
    labels = list(catalogue(Base.load(), 50, seed=3))
    shelved = tuple(ShelfLabel(*each) for each in labels)
    session = Session(Shelf("invented", shelved), taught=False)
    found = tmp_path_factory.mktemp("invented") / "judged.duckdb"
    with pytest.MonkeyPatch.context() as small:
        small.setattr(portions, "PORTION", 20)
        swept = sweep(session.world, labels, found, Options(processes=2))
    return Judged(labels, session, found, swept)
