"""Plans run by Spark, the same plan in its dialect: for more than one machine holds.

Spark needs Java 17 with its vector module (Debian's `openjdk-17-jre-headless` has it)
and `pip install pyspark sqlglot`. Without a cluster it runs in this process.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Collection, Iterator, Sequence
from typing import Any

from abluent.engine.errors import EngineError
from abluent.engine.relational import plan as p
from abluent.engine.relational.sql import define_text, in_dialect

_DIALECT = "spark"
_LOCAL = "local[2]"
_SETTINGS = {
    # A sum or product that does not fit is refused, as DuckDB does.
    "spark.sql.ansi.enabled": "true",
    "spark.sql.shuffle.partitions": "2",
    "spark.default.parallelism": "2",
    "spark.ui.enabled": "false",
    "spark.sql.adaptive.enabled": "false",
}


class Spark:
    """A Spark session that plans run in; tables are views that it keeps in memory.

    Args:
        master: where it runs, as Spark names it; in this process if left out.

    Raises:
        ModuleNotFoundError: Spark, or what prints its dialect, is not installed.
        EngineError: Spark did not start, for one because there is no Java.
    """

    def __init__(self, master: str = _LOCAL) -> None:
        import sqlglot  # noqa: F401, PLC0415 - to say at once that it is missing
        from pyspark.sql import SparkSession  # noqa: PLC0415 - heavy, and optional

        self._folder = tempfile.mkdtemp(prefix="abluent-spark-")
        builder = SparkSession.builder.master(master).appName("abluent")
        settings = {**_SETTINGS, "spark.sql.warehouse.dir": self._folder}
        for name, value in settings.items():
            builder = builder.config(name, value)
        try:
            self._session: Any = builder.getOrCreate()
        except Exception as error:
            shutil.rmtree(self._folder, ignore_errors=True)
            raise EngineError(f"Spark did not start: {error}") from error
        self._session.sparkContext.setLogLevel("ERROR")

    def load(self, table: p.Table, columns: Sequence[Sequence[int]]) -> None:
        """Make a table of columns of whole numbers."""
        schema = ", ".join(f"{name} BIGINT" for name in table.columns)
        rows = list(zip(*columns, strict=True)) if columns else []
        frame = self._session.createDataFrame(rows, schema).distinct()
        self._put(table.name, frame)

    def append(self, table: p.Table, columns: Sequence[Sequence[int]]) -> None:
        """Add rows to a table, as columns."""
        if columns and len(columns[0]):
            more = p.Table(f"{table.name}_more", table.columns)
            self.load(more, columns)
            names = ", ".join(table.columns)
            both = f"SELECT {names} FROM {table.name} UNION SELECT {names} FROM "
            self.make(table.name, both + more.name)

    def make_distinct(self, table: p.Table) -> None:
        """Let every row of a table be there once."""
        columns = ", ".join(table.columns)
        self.make(table.name, f"SELECT DISTINCT {columns} FROM {table.name}")

    def select(self, text: str) -> Iterator[tuple[int, ...]]:
        """The rows of a selection, in no particular order."""
        return (tuple(row) for row in self._select(text).toLocalIterator())

    def _put(self, name: str, frame: Any) -> None:
        # Cut off from how it was made, or each step would make all before it again.
        frame.localCheckpoint().createOrReplaceTempView(name)

    def _select(self, text: str) -> Any:
        try:
            return self._session.sql(in_dialect(text, _DIALECT))
        except Exception as error:
            raise EngineError(f"Spark refused: {error}") from error

    def make(self, name: str, text: str) -> None:
        """Make a table of what a selection gives.

        Raises:
            EngineError: Spark refused, for one a number that is too large.
        """
        frame = self._select(text)
        try:
            self._put(name, frame)
        except Exception as error:
            raise EngineError(f"Spark refused: {error}") from error

    def run(self, plan: p.Plan, keep: Collection[str]) -> None:
        """Run a plan whose given tables are there; all its tables stay."""
        del keep
        for step in plan.steps:
            if isinstance(step, p.Define):
                self.make(step.table.name, define_text(step))
            else:
                self._loop(step)

    def _loop(self, loop: p.Loop) -> None:
        """Fill tables that need each other, each round from what the last found."""
        for define in loop.first:
            self.make(define.table.name, define_text(define))
            self.make(p.fresh(define.table.name), f"SELECT * FROM {define.table.name}")
        while any(self._size(p.fresh(each.table.name)) for each in loop.first):
            for define in loop.more:
                name, columns = define.table.name, ", ".join(define.table.columns)
                self.make(
                    f"{name}_found",
                    f"SELECT {columns} FROM ({define_text(define)}) AS found_ "
                    f"EXCEPT SELECT {columns} FROM {name}",
                )
            for define in loop.more:
                name = define.table.name
                self.make(p.fresh(name), f"SELECT * FROM {name}_found")
                both = f"SELECT * FROM {name} UNION ALL SELECT * FROM {name}_found"
                self.make(name, both)

    def _size(self, name: str) -> int:
        return int(self._session.table(name).count())

    def count(self, table: p.Table) -> int:
        """How many rows a table has."""
        return self._size(table.name)

    def rows(self, table: p.Table) -> Iterator[tuple[int, ...]]:
        """The rows of a table, in no particular order."""
        frame = self._session.table(table.name).select(*table.columns)
        return (tuple(row) for row in frame.toLocalIterator())

    def close(self) -> None:
        """End it, and remove what it wrote."""
        self._session.stop()
        shutil.rmtree(self._folder, ignore_errors=True)
