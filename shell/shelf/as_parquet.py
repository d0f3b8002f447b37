"""Shelves as Parquet: the columns of a CSV shelf, a row for each product."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.ground.extras import needing
from abluent.shell.shelf.shelf import Shelf, ShelfBuilder

if TYPE_CHECKING:
    from pathlib import Path

_AT_ONCE = 10_000


def read_parquet(path: Path) -> Shelf:
    """Read a shelf file.

    Raises:
        CommandError: there is no such file, or DuckDB, which reads it, is missing.
        DataError: it cannot be read.
    """
    return _read(path, "read_parquet(?, hive_partitioning = false)", "Parquet")


def read_partition(path: Path) -> Shelf:
    """Read a part of a table in folders called `name=value`, as Parquet or CSV.

    Raises:
        CommandError: there is no such file, or DuckDB, which reads it, is missing.
        DataError: it cannot be read.
    """
    if path.suffix.casefold() == ".csv":
        way = "read_csv(?, all_varchar = true, header = true, hive_partitioning = true)"
        return _read(path, way, "CSV")
    return _read(path, "read_parquet(?, hive_partitioning = true)", "Parquet")


def _read(path: Path, way: str, form: str) -> Shelf:
    if not path.exists():
        raise CommandError(
            Problem(f'there is no shelf "{path}"', hint="check the path")
        )
    with needing(f"this {form} file", "bulk"):
        import duckdb
    builder = ShelfBuilder(path.stem)
    try:
        with duckdb.connect() as database:
            rows = database.execute(f"SELECT * FROM {way}", [str(path)])
            names = [column[0] for column in rows.description or ()]
            number = 0
            while some := rows.fetchmany(_AT_ONCE):
                for row in some:
                    number += 1
                    cells = {
                        name: value
                        for name, value in zip(names, row, strict=True)
                        if value is not None
                    }
                    builder.add(cells, f"{path}:{number}")
    except duckdb.Error as error:
        what = f'"{path}" cannot be read as {form}: {str(error).splitlines()[0]}'
        raise DataError(Problem(what, hint="write it anew")) from error
    return builder.build()
