"""Plans run by DuckDB, in the process and in memory or over a file."""

from __future__ import annotations

import os
import secrets
import shutil
import tempfile
from collections.abc import Collection, Iterator, Mapping, Sequence
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from abluent.engine.errors import EngineError
from abluent.engine.relational import plan as p
from abluent.engine.relational.sql import define_text

if TYPE_CHECKING:
    import duckdb


def quoted(text: str) -> str:
    """A text as SQL writes it."""
    return "'" + text.replace("'", "''") + "'"


_RUN = secrets.token_hex(8)
"""Tells this run's folders from those of others."""


def _spill(path: str) -> str:
    """A folder of a database's own; the same file has the same, as DuckDB wants it."""
    own = sha256(os.path.abspath(path).encode()).hexdigest() if path else ""
    name = f"abluent-{_RUN}-{own[:16] or secrets.token_hex(8)}"
    return os.path.join(tempfile.gettempdir(), name)


class Duck:
    """A DuckDB database that plans run in.

    Args:
        path: a file; in memory if empty.
        threads: how many threads it may use; its own choice if nought.
        memory: how much memory it may use, such as `1GB`, before it spills to disk.

        reading: whether only to read the file.

    Raises:
        ModuleNotFoundError: DuckDB is not installed.
        EngineError: the file cannot be opened.
    """

    def __init__(
        self,
        path: str = "",
        threads: int = 0,
        memory: str = "",
        *,
        reading: bool = False,
    ) -> None:
        import duckdb  # noqa: PLC0415 - heavy, and an extra

        self._folder = _spill(path)
        # What does not fit into memory goes there, and not into the user's folder.
        settings: dict[str, Any] = {
            "preserve_insertion_order": False,
            "temp_directory": self._folder,
        }
        if threads:
            settings["threads"] = threads
        if memory:
            settings["memory_limit"] = memory
        self.failed = duckdb.Error
        """What is raised where it refuses."""
        try:
            self.connection: duckdb.DuckDBPyConnection = duckdb.connect(
                path or ":memory:", read_only=reading and bool(path), config=settings
            )
        except duckdb.Error as error:
            raise EngineError(f"DuckDB cannot open {path}: {error}") from error

    def execute(self, text: str) -> None:
        """Run a statement.

        Raises:
            EngineError: the database refused, for one a number that is too large.
        """
        try:
            self.connection.execute(text)
        except self.failed as error:
            raise EngineError(f"DuckDB refused: {error}") from error

    def make(self, name: str, text: str) -> None:
        """Make a table of what a selection gives.

        Raises:
            EngineError: the database refused.
        """
        self.execute(f"CREATE TABLE {name} AS\n{text}")

    def load(self, table: p.Table, columns: Sequence[Sequence[int]]) -> None:
        """Make a table of columns of whole numbers."""
        names = ", ".join(f"{name} BIGINT" for name in table.columns)
        self.execute(f"CREATE TABLE {table.name} ({names})")
        self.append(table, columns)

    def append(self, table: p.Table, columns: Sequence[Sequence[int]]) -> None:
        """Add rows to a table, as columns."""
        import numpy  # noqa: PLC0415 - with DuckDB

        if not columns or not len(columns[0]):
            return
        arrays = {
            name: numpy.asarray(column, dtype=numpy.int64)
            for name, column in zip(table.columns, columns, strict=True)
        }
        self.connection.register("loaded_", arrays)
        self.execute(f"INSERT INTO {table.name} SELECT DISTINCT * FROM loaded_")
        self.connection.unregister("loaded_")

    def make_distinct(self, table: p.Table) -> None:
        """Let every row of a table be there once."""
        name, columns = table.name, ", ".join(table.columns)
        self.execute(f"ALTER TABLE {name} RENAME TO {name}_before")
        self.make(name, f"SELECT DISTINCT {columns} FROM {name}_before")
        self.execute(f"DROP TABLE {name}_before")

    def columns(self, name: str, columns: Mapping[str, Sequence[Any]]) -> None:
        """Make a table of named columns of texts, numbers or truths."""
        import numpy  # noqa: PLC0415 - with DuckDB

        arrays = {n: numpy.asarray(each) for n, each in columns.items()}
        if not all(len(each) for each in arrays.values()):
            texts = ", ".join(f'"{n}" VARCHAR' for n in arrays)
            self.execute(f"CREATE TABLE {name} ({texts})")
            return
        objects = {
            n: each.astype(object) if each.dtype.kind == "U" else each
            for n, each in arrays.items()
        }
        self.connection.register("loaded_", objects)
        self.execute(f"CREATE TABLE {name} AS SELECT * FROM loaded_")
        self.connection.unregister("loaded_")

    def count(self, table: p.Table) -> int:
        """How many rows a table has."""
        return self.size(table.name)

    def size(self, name: str) -> int:
        """How many rows a table or a view of some name has."""
        found = self.connection.execute(f"SELECT COUNT(*) FROM {name}")
        ((number,),) = found.fetchall()
        return int(number)

    def rows(self, table: p.Table) -> Iterator[tuple[int, ...]]:
        """The rows of a table, in no particular order."""
        columns = ", ".join(table.columns)
        return self.select(f"SELECT {columns} FROM {table.name}")

    def select(self, text: str) -> Iterator[tuple[int, ...]]:
        """The rows of a selection, in no particular order."""
        cursor = self.connection.cursor()
        cursor.execute(text)
        while found := cursor.fetchmany(10_000):
            yield from found

    def run(self, plan: p.Plan, keep: Collection[str]) -> None:
        """Run a plan whose given tables are there.

        Args:
            plan: the plan.
            keep: the tables that are wanted afterwards; others are dropped as soon as
                no step needs them.
        """
        kept = set(keep)
        for step, done in zip(plan.steps, _last_uses(plan), strict=True):
            if isinstance(step, p.Define):
                self.make(step.table.name, define_text(step))
            else:
                self._loop(step)
            for name in done - kept:
                self.execute(f"DROP TABLE IF EXISTS {name}")

    def _loop(self, loop: p.Loop) -> None:
        """Fill tables that need each other, each round from what the last found."""
        for define in loop.first:
            self.make(define.table.name, define_text(define))
            new = p.fresh(define.table.name)
            self.execute(f"CREATE TABLE {new} AS SELECT * FROM {define.table.name}")
        waiting = any(self.count(each.table) for each in loop.first)
        while waiting:
            for define in loop.more:
                name, found = define.table.name, f"{define.table.name}_found"
                columns = ", ".join(define.table.columns)
                self.execute(
                    f"CREATE TABLE {found} AS SELECT {columns} FROM "
                    f"({define_text(define)}) AS found_ "
                    f"EXCEPT SELECT {columns} FROM {name}"
                )
            waiting = False
            for define in loop.more:
                name, new = define.table.name, p.fresh(define.table.name)
                self.execute(f"DROP TABLE {new}")
                self.execute(f"ALTER TABLE {name}_found RENAME TO {new}")
                self.execute(f"INSERT INTO {name} SELECT * FROM {new}")
                fresh = p.Table(new, define.table.columns)
                waiting = waiting or self.count(fresh) > 0
        for define in loop.first:
            self.execute(f"DROP TABLE {p.fresh(define.table.name)}")

    def close(self) -> None:
        """Let go of it, and remove what it wrote beside."""
        self.connection.close()
        shutil.rmtree(self._folder, ignore_errors=True)


def _last_uses(plan: p.Plan) -> list[set[str]]:
    """For every step the tables that no later step reads."""
    last: dict[str, int] = {}
    for at, step in enumerate(plan.steps):
        for name in _reads(step):
            last[name] = at
    found: list[set[str]] = [set() for _ in plan.steps]
    for name, at in last.items():
        found[at].add(name)
    return found


def _reads(step: p.Step) -> Iterator[str]:
    defines = [step] if isinstance(step, p.Define) else [*step.first, *step.more]
    for define in defines:
        yield define.table.name
        for select in define.selects:
            yield from _tables(select)


def _tables(select: p.Select) -> Iterator[str]:
    for source in select.sources:
        if isinstance(source, p.Source):
            yield source.table
        else:
            yield from _tables(source.rows)
    for condition in select.where:
        if isinstance(condition, p.Nothing):
            yield condition.table
