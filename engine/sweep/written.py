"""The tables of a catalogue as files: one DuckDB file, or a folder of Parquet or CSV.

What is written appears whole or not at all, in place of what was there.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from abluent.engine.errors import EngineError
from abluent.engine.relational.duck import Duck, quoted
from abluent.engine.sweep.tables import TABLES, VERDICTS

_VIEWS = ("verdicts",)


def form_of(place: Path) -> str:
    """The form that a name asks for: a `.duckdb` file, else a folder of Parquet."""
    return "duckdb" if place.suffix == ".duckdb" else "parquet"


def write(database: Duck, place: Path, form: str, *, whole: bool = False) -> None:
    """Write the tables of a catalogue.

    Args:
        database: where they are.
        place: the file or the folder.
        form: one of the `FORMS` of this package.
        whole: whether to write every verdict, and not only what stands for all.

    Raises:
        OSError: the place cannot be written.
        EngineError: the database refused.
    """
    with _in_place_of(place) as draft:
        if form == "duckdb":
            _write_file(database, draft, whole=whole)
            return
        draft.mkdir()
        for name in _names(whole):
            _write_table(database, draft, name, form)


def read_about(place: Path, form: str) -> dict[str, str]:
    """What the tables in a place were judged by; empty if there are none."""
    if not place.exists():
        return {}
    source = {
        "duckdb": "about",
        "parquet": f"read_parquet({quoted(str(place / 'about.parquet'))})",
        "csv": f"read_csv({quoted(str(place / 'about.csv'))}, all_varchar = true)",
    }[form]
    try:
        database = Duck(str(place) if form == "duckdb" else "", reading=True)
    except EngineError:
        return {}
    try:
        rows = database.connection.execute(f"SELECT name, value FROM {source}")
        return {str(name): str(value) for name, value in rows.fetchall()}
    except database.failed:
        return {}
    finally:
        database.close()


def opened(place: Path) -> Duck:
    """Open the tables of a catalogue to read them, in whatever form they are.

    Raises:
        EngineError: there are none.
    """
    if place.is_file():
        database = Duck(str(place), reading=True)
    else:
        database = Duck()
    try:
        if place.is_dir():
            for name in _names(whole=False):
                database.execute(f"CREATE VIEW {name} AS FROM {_source(place, name)}")
            database.execute(f"CREATE VIEW verdicts AS {VERDICTS}")
        for name in _names(whole=False):
            database.execute(f"SELECT 1 FROM {name} LIMIT 1")
    except EngineError:
        database.close()
        raise
    return database


def _source(place: Path, name: str) -> str:
    """A table of a folder, as DuckDB reads it."""
    if (place / f"{name}.csv").exists():
        return f"read_csv({quoted(str(place / f'{name}.csv'))}, header = true)"
    if (place / name).is_dir():
        parts = quoted(str(place / name / "*" / "*.parquet"))
        return f"read_parquet({parts}, hive_partitioning = true)"
    return f"read_parquet({quoted(str(place / f'{name}.parquet'))})"


def _names(whole: bool) -> Sequence[str]:
    return [name for name in TABLES if whole or name not in _VIEWS]


def _write_file(database: Duck, draft: Path, *, whole: bool) -> None:
    database.execute(f"ATTACH {quoted(str(draft))} AS written_")
    try:
        for name in _names(whole):
            database.execute(f"CREATE TABLE written_.{name} AS SELECT * FROM {name}")
            database.execute(
                f"COMMENT ON TABLE written_.{name} IS {quoted(TABLES[name])}"
            )
        if not whole:
            database.execute("USE written_")
            database.execute(f"CREATE VIEW verdicts AS {VERDICTS}")
            database.execute("USE memory")
    finally:
        database.execute("DETACH written_")


def _write_table(database: Duck, draft: Path, name: str, form: str) -> None:
    if form == "csv":
        target, options = draft / f"{name}.csv", "FORMAT csv, HEADER"
    elif name in {"judged", "verdicts"}:
        target, options = draft / name, "FORMAT parquet, PARTITION_BY (verdict)"
    else:
        target, options = draft / f"{name}.parquet", "FORMAT parquet"
    database.execute(
        f"COPY (SELECT * FROM {name}) TO {quoted(str(target))} ({options})"
    )


@contextmanager
def _in_place_of(place: Path) -> Iterator[Path]:
    """A draft that takes the place of a file or folder once it is done."""
    room = Path(tempfile.mkdtemp(prefix=f".{place.name}.", dir=place.parent))
    draft = room / place.name
    try:
        yield draft
        if place.is_dir():
            place.rename(room / "before")
        os.replace(draft, place)
    finally:
        shutil.rmtree(room, ignore_errors=True)
