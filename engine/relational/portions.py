"""Things judged in portions, and put together by what came of them.

What rules conclude about one thing alone needs no other thing to be there. So it is
worked out for some things at a time, and of those of which the same came out one is
kept: however many things there are, no more of it is there at once than a portion
makes, and what was found to differ.

Things are put together exactly: what is so of one, but for itself, is a list of the
numbers of such facts, and lists are compared whole.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from abluent.engine.relational import plan as p
from abluent.engine.relational._reducing import kept_text, map_name
from abluent.engine.relational._roles import Leaf, Role
from abluent.engine.relational.duck import Duck

PORTION = 1000
_SOME = "portion_"
_SIGNS = "signs_"

Watch = Callable[[int, int], object]
"""Called with how many things were judged, and of how many."""


class Portions:
    """Works a plan out in portions.

    Args:
        database: where.
        plan: what follows about one thing alone.
        before: the role whose things are taken in portions.
        after: what it becomes once they are put together.
        tables: the tables of all predicates.
        whole: tables of the plan that are wanted of every thing.
        needed: tables that later portions, or what comes after, look at.
    """

    def __init__(  # noqa: PLR0913, PLR0917 - one evaluation, described in full
        self,
        database: Duck,
        plan: p.Plan,
        before: Role,
        after: Role,
        tables: Mapping[str, p.Table],
        whole: Collection[str],
        needed: Collection[str],
    ) -> None:
        self._database, self._plan, self._tables = database, plan, tables
        self._before, self._after = before, after
        self._whole, self._needed = {*whole}, {*needed}
        self._map = map_name(after)
        made = {step.table.name for step in plan.steps if isinstance(step, p.Define)}
        for step in plan.steps:
            if isinstance(step, p.Loop):
                made |= {define.table.name for define in step.first}
        self._made = made
        self._leaves = [(leaf, tables[leaf.predicate]) for leaf in after.leaves]
        self._kept = {tables[leaf.name].name for leaf in before.leaves}

    def run(self, watch: Watch | None = None) -> None:
        """Work everything out.

        Raises:
            EngineError: the database refused.
        """
        database = self._database
        self._begin()
        stands = f"SELECT DISTINCT stands FROM {map_name(self._before)}"
        database.make(
            "stands_",
            f"SELECT stands, row_number() OVER (ORDER BY stands) - 1 AS number "
            f"FROM ({stands}) AS each_",
        )
        total = database.size("stands_")
        for start in range(0, max(total, 1), PORTION):
            number = f"number BETWEEN {start} AND {start + PORTION - 1}"
            database.make(_SOME, f"SELECT stands FROM stands_ WHERE {number}")
            self._portion()
            database.execute(f"DROP TABLE {_SOME}")
            if watch is not None:
                watch(min(start + PORTION, total), total)
        for name in self._whole:
            database.execute(f"ALTER TABLE {name}_all RENAME TO {name}")
        for name in ("stands_", _SIGNS, *self._numbers()):
            database.execute(f"DROP TABLE {name}")

    def _begin(self) -> None:
        """Lay down what portions add to."""
        run = self._database.execute
        run(f"CREATE TABLE {_SIGNS} (facts BIGINT[], stands BIGINT)")
        run(f"CREATE TABLE {self._map} (thing BIGINT, stands BIGINT)")
        for leaf, table in self._leaves:
            kept = self._tables[leaf.name]
            run(f"CREATE TABLE {kept.name} ({_columns(table.columns)})")
        for name, each in zip(self._numbers(), self._leaves, strict=True):
            run(f"CREATE TABLE {name} ({_columns([*_rest(*each), 'number'])})")
        for name in self._whole:
            columns = next(
                t.columns for t in self._plan.tables.values() if t.name == name
            )
            run(f"CREATE TABLE {name}_all ({_columns(columns)})")

    def _portion(self) -> None:
        database = self._database
        for leaf in self._before.leaves:
            text = kept_text(self._before, leaf, self._tables)
            some = f"SELECT stands FROM {_SOME}"
            database.make(
                self._tables[leaf.name].name, f"{text} AND c{leaf.place} IN ({some})"
            )
        read = {table.name for _, table in self._leaves}
        database.run(self._plan, (self._needed - self._made) | read | self._whole)
        self._put_together()
        for name in self._whole:
            database.execute(f"INSERT INTO {name}_all SELECT * FROM {name}")
        for name in (read & self._made) | self._whole | self._kept:
            database.execute(f"DROP TABLE IF EXISTS {name}")

    def _put_together(self) -> None:
        database = self._database
        facts = [self._facts(at) for at in range(len(self._leaves))]
        database.make(
            "facts_",
            "SELECT thing, list_sort(list(fact)) AS facts FROM "
            f"({' UNION ALL '.join(facts)}) AS each_ GROUP BY thing",
        )
        database.execute(
            f"INSERT INTO {_SIGNS} SELECT facts, MIN(thing) FROM facts_ AS f "
            f"WHERE NOT EXISTS (SELECT 1 FROM {_SIGNS} AS s WHERE s.facts = f.facts) "
            "GROUP BY facts"
        )
        database.execute(
            f"INSERT INTO {self._map} SELECT f.thing, s.stands FROM facts_ AS f "
            f"JOIN {_SIGNS} AS s ON s.facts = f.facts"
        )
        database.execute("DROP TABLE facts_")
        for leaf, table in self._leaves:
            columns = ", ".join(table.columns)
            database.execute(
                f"INSERT INTO {self._tables[leaf.name].name} "
                f"SELECT DISTINCT {columns} FROM {table.name} "
                f"WHERE c{leaf.place} IN (SELECT stands FROM {_SIGNS})"
            )

    def _facts(self, at: int) -> str:
        """Select the facts of a leaf by number, after numbering what is new."""
        leaf, table = self._leaves[at]
        name, rest = self._numbers()[at], _rest(leaf, table)
        if not rest:
            thing = f"SELECT DISTINCT c{leaf.place} AS thing"
            return f"{thing}, {at} AS fact FROM {table.name}"
        columns = ", ".join(rest)
        self._database.execute(
            f"INSERT INTO {name} SELECT {columns}, row_number() OVER () + "
            f"(SELECT COUNT(*) FROM {name}) FROM (SELECT {columns} FROM {table.name} "
            f"EXCEPT SELECT {columns} FROM {name}) AS new_"
        )
        same = " AND ".join(f"n.{each} = t.{each}" for each in rest)
        return (
            f"SELECT t.c{leaf.place} AS thing, "
            f"n.number * {len(self._leaves)} + {at} AS fact "
            f"FROM {table.name} AS t JOIN {name} AS n ON {same}"
        )

    def _numbers(self) -> list[str]:
        """The tables that number the facts of each leaf."""
        return [f"numbers_{at}_" for at in range(len(self._leaves))]


def _rest(leaf: Leaf, table: p.Table) -> list[str]:
    return [name for name in table.columns if name != f"c{leaf.place}"]


def _columns(names: Collection[str]) -> str:
    return ", ".join(f"{name} BIGINT" for name in names)
