"""A catalogue is judged as the reasoner judges it, row by row, and laid down whole."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from abluent.engine.base import contract as c
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.engine.sights import reader
from abluent.engine.sweep.sweep import Options, Watched, digest_of, sweep
from abluent.engine.sweep.tables import TABLES
from abluent.engine.sweep.written import opened, write
from abluent.shell.shelf.demo import demo_shelf

if TYPE_CHECKING:
    from abluent.shell.session.session import Session
    from conftest import Judged

duckdb = pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
pytest.importorskip("numpy", reason="a sweep needs numpy")

sys.path.insert(0, str(Path(__file__).parents[2] / "bench"))
from catalogue import catalogue  # noqa: E402 - lies beside the benchmarks

ENDS = {"at_least": c.LOWER, "at_most": c.UPPER}


@pytest.fixture(scope="module")
def base() -> Base:
    return Base.load()


@pytest.fixture(scope="module")
def shelf() -> list[Product]:
    return [Product(x.product, x.kind, x.market, x.text) for x in demo_shelf().labels]


def world_of(base: Base, labels: Sequence[Product], *stated: str) -> World:
    return World(base, load_rulebook(), labels, stated)


def reasoned(world: World) -> set[tuple[Any, ...]]:
    """Every row that the reasoner finds for the washes of a world."""
    base, cleaning = world.base, cleaning_kinds(world.base)
    washes = [
        each.name
        for each in world.products.values()
        if product_kind(each.kind, base) in cleaning
    ]
    model = Case.of(world, washes, [], world.products).model
    ends = {
        end: {row[:3]: base.label(str(row[3])) for row in model.match(of)}
        for end, of in ENDS.items()
    }
    disputed = {row[:3] for row in model.match(c.CONTESTED)}
    return {
        (
            *(world.name(row[0]), str(row[1]), world.name(row[2])),
            base.label(str(row[3])),
            *(ends[end].get(row[:3]) for end in ENDS),
            row[:3] in disputed,
        )
        for row in model.match(c.VERDICT)
    }


def rows_in(place: Path) -> Iterator[tuple[Any, ...]]:
    with duckdb.connect(str(place), read_only=True) as file:
        yield from file.execute(
            "SELECT wash, film, product, verdict, at_least, at_most, disputed "
            "FROM verdicts WHERE wash != 'water'"
        ).fetchall()


def stopped_after(count: int) -> Watched:
    """Stops a sweep when so many labels were read."""
    seen = 0

    def stop() -> None:
        nonlocal seen
        seen += 1
        if seen == count:
            raise KeyboardInterrupt

    return Watched(read=stop)


def rows_of(source: str) -> int:
    with duckdb.connect() as database:
        found = database.execute(f"SELECT COUNT(*) FROM {source}").fetchone()
    return int(found[0])


@pytest.mark.slow
def test_the_demo_shelf_is_judged_as_by_the_reasoner(
    demo: Session, place: Path
) -> None:
    """Each verdict with both ends and its disputes, in the water of the shelf."""
    found = list(rows_in(place))
    assert set(found) == reasoned(demo.world)
    assert len(found) == len(set(found))


@pytest.mark.slow
def test_it_is_judged_so_in_any_water(
    base: Base, shelf: list[Product], tmp_path: Path
) -> None:
    """Where nobody says how hard it is; much is alike, and judged once."""
    world = world_of(base, shelf)
    swept = sweep(world, shelf, tmp_path / "out.duckdb")
    assert set(rows_in(tmp_path / "out.duckdb")) == reasoned(world)
    assert swept.judged < swept.verdicts


@pytest.mark.slow
def test_random_labels_are_judged_as_by_the_reasoner(invented: Judged) -> None:
    """Fifty labels of any kind, read by two processes, some of no market."""
    assert set(rows_in(invented.place)) == reasoned(invented.session.world)


@pytest.mark.slow
def test_unread_names_are_ranked_by_what_they_leave_open(invented: Judged) -> None:
    """As many as there are verdicts with ends apart on washes that list the name."""
    labels = invented.labels
    with duckdb.connect(str(invented.place), read_only=True) as file:
        told = dict(file.execute("SELECT name, not_settled FROM unread").fetchall())
        apart = dict(
            file.execute(
                "SELECT wash, COUNT(*) FROM verdicts WHERE at_least <> at_most "
                "GROUP BY wash"
            ).fetchall()
        )
    listed = {
        name: [p.name for p in labels if f"{name}," in p.text or f"{name}." in p.text]
        for name in told
    }
    assert told == {n: sum(apart.get(w, 0) for w in on) for n, on in listed.items()}
    assert any(told.values())


@pytest.mark.long
def test_a_thousand_labels_are_judged_as_by_the_reasoner(
    base: Base, tmp_path: Path
) -> None:
    """A thousand labels, and every verdict of them."""
    labels = list(catalogue(base, 1000))
    world = world_of(base, labels)
    sweep(world, labels, tmp_path / "out.duckdb")
    assert set(rows_in(tmp_path / "out.duckdb")) == reasoned(world)


@pytest.mark.slow
def test_every_form_holds_the_same_tables(place: Path, tmp_path: Path) -> None:
    """Parquet, CSV and DuckDB, with every verdict where that is asked for."""
    database = opened(place)
    write(database, tmp_path / "parquet", "parquet", whole=True)
    write(database, tmp_path / "csv", "csv")
    database.close()
    with duckdb.connect(str(place), read_only=True) as file:
        counts = {
            name: file.execute(f"SELECT COUNT(*) FROM {name}").fetchone()[0]
            for name in TABLES
        }
        said = dict(
            file.execute("SELECT table_name, comment FROM duckdb_tables()").fetchall()
        )
    assert all(said[name] == TABLES[name] for name in TABLES if name != "verdicts")
    for name in TABLES:
        parts = tmp_path / "parquet" / name
        source = f"{parts}/*/*" if parts.is_dir() else f"{parts}"
        assert rows_of(f"read_parquet('{source}.parquet')") == counts[name], name
    for name in TABLES:
        if name != "verdicts":
            file_name = f"{tmp_path}/csv/{name}.csv"
            assert rows_of(f"read_csv('{file_name}')") == counts[name], name
    assert not list(tmp_path.glob(".*")), "no draft is left behind"


@pytest.mark.slow
def test_what_is_there_is_not_done_again(
    base: Base, shelf: list[Product], tmp_path: Path
) -> None:
    """The same labels are not judged twice, and one label more is judged.

    The tables are written as is asked for.
    """
    place, options = tmp_path / "out", Options(form="csv", whole=True)
    few = shelf[:3]
    first = sweep(world_of(base, few), few, place, options)
    assert rows_of(f"read_csv('{place}/verdicts.csv')") == first.verdicts > 0
    again = sweep(world_of(base, few), few, place, options)
    assert first.done
    assert not again.done
    assert first._replace(done=False) == again
    assert sweep(world_of(base, shelf[:4]), shelf[:4], place, options).done
    digests = {
        digest_of(world_of(base, few), few, options),
        digest_of(world_of(base, few, "hard"), few, options),
        digest_of(world_of(base, few), few, Options(form="csv")),
        digest_of(world_of(base, shelf[:4]), shelf[:4], options),
    }
    assert len(digests) == 4


@pytest.mark.slow
def test_a_sweep_that_is_stopped_loses_nothing(
    base: Base,
    demo: Session,
    place: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What stood there stays whole, and what was read is not read again.

    What was stopped can be done after all.
    """
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    labels = list(demo.world.products.values())
    few, there = labels[:3], tmp_path / "out.duckdb"
    shutil.copy(place, there)
    before = there.read_bytes()
    look, looked_at = reader._looked_at, 0

    def looking(jobs: Sequence[Any], *how: Any) -> Any:
        nonlocal looked_at
        looked_at += len(jobs)
        return look(jobs, *how)

    monkeypatch.setattr(reader, "_looked_at", looking)
    with pytest.raises(KeyboardInterrupt):
        sweep(world_of(base, few), few, there, watch=stopped_after(2))
    assert looked_at == len(few)
    assert there.read_bytes() == before
    assert not list(tmp_path.glob(".*"))
    assert not sweep(demo.world, labels, there).done
    after = sweep(world_of(base, few), few, there)
    assert looked_at == len(few)
    assert (after.done, after.labels) == (True, len(few))
    found = set(rows_in(there))
    assert found
    assert found == reasoned(world_of(base, few))


@pytest.mark.slow
def test_an_empty_catalogue_has_empty_tables(base: Base, tmp_path: Path) -> None:
    """No label is no fault."""
    swept = sweep(world_of(base, []), [], tmp_path / "out.duckdb")
    assert (swept.labels, swept.verdicts) == (0, 0)
    with duckdb.connect(str(tmp_path / "out.duckdb"), read_only=True) as file:
        assert file.execute("SELECT COUNT(*) FROM labels").fetchone() == (0,)
