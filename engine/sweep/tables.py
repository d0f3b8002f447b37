"""A judged catalogue as tables that any tool can read; `TABLES` says what they hold.

Verdicts are kept once for all that is alike: `judged` has them for one wash and one
film of each kind, `wash_alike` and `film_alike` say for which others these stand.
`verdicts` is all of them: a view in a DuckDB file, and otherwise written only where it
is asked for, as it may be a thousand times as long as the catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from abluent.engine.base import contract as c
from abluent.engine.logic.terms import Term
from abluent.engine.questions.world.sorts import Sort
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck, quoted
from abluent.engine.relational.things import Reckoning
from abluent.engine.sweep.judging import Told

TABLES: Mapping[str, str] = {
    "labels": "a row for each product: its kind and market as the catalogue has "
    "them, whether it was judged as a wash, how many places its label has, and how "
    "many of these were not understood",
    "lines": "a row for each place that was understood: the product, the place, and "
    "the ingredient by symbol and by name",
    "films": "a row for each film that a product leaves: the product, and the film by "
    "symbol and by name",
    "sorts": "a row for each wash and each sort of wash, such as mild, that it is or "
    "is not: the wash, the sort by symbol and by name, and whether it is; where there "
    "is no row, nobody can tell",
    "unread": "a row for each name that was not understood: on how many labels it "
    "stands, on how many washes, and how many verdicts of these are not settled, their "
    "ends being apart",
    "judged": "a row for each verdict that was worked out: a wash, a film and a "
    "product that stand for all of which the same is so, the verdict, both its ends "
    "where the rules have ends, and whether sources part over it",
    "wash_alike": "for each wash the wash of `judged` that stands for it",
    "film_alike": "for each product and film the product of `judged` that stands for "
    "it",
    "verdicts": "a row for each wash, product and film of the product",
    "about": "what the catalogue was judged by: names and values",
}
"""Every table, with what it holds."""

ENDS = {
    column: getattr(c, name)
    for column, name in (("at_least", "LOWER"), ("at_most", "UPPER"))
    if hasattr(c, name)
}
"""The columns of the ends of a verdict, and the predicates that give them."""
DISPUTE = getattr(c, "CONTESTED", "") or getattr(c, "DISPUTED", "")


class Tables:
    """The tables of a judged catalogue, in its own database.

    Args:
        reckoning: what judging came to.
        told: what is told of the labels themselves.
        world: the base, for names.
        sorts: the sorts of wash that were told apart.
    """

    def __init__(
        self, reckoning: Reckoning, told: Told, world: World, sorts: Sequence[Sort] = ()
    ) -> None:
        self._reckoning, self._world, self._sorts = reckoning, world, sorts
        database = reckoning.database
        assert isinstance(database, Duck), "tables are laid down from DuckDB"
        self._database = database
        self._run: Callable[[str], None] = database.execute
        database.columns("labels", told.labels())
        database.columns("unread_", told.unread())
        database.columns("stands_", told.stands())
        in_words: tuple[tuple[str, tuple[str, int], Callable[[Term], str]], ...] = (
            ("thing_", (c.LINE, 0), world.name),
            ("place_", (c.LINE, 1), str),
            ("symbol_", (c.LINE, 2), str),
            ("title_", (c.LINE, 2), self._title),
            ("word_", (c.VERDICT, 3), self._title),
            *((f"{end}_", (ENDS[end], 3), self._title) for end in self._ends),
        )
        for name, column, say in in_words:
            reckoning.texts(name, column, say)
        for name, text in self._texts():
            self._run(f"CREATE TABLE {name} AS {text}")
        self._run(f"CREATE VIEW verdicts AS {VERDICTS}")

    def add_about(self, about: Mapping[str, str]) -> None:
        """Keep with the tables what they were judged by."""
        columns = {"name": [*about], "value": [*about.values()]}
        self._database.columns("about", columns)

    def count(self, name: str) -> int:
        """How many rows a table has."""
        return self._database.size(name)

    @property
    def _ends(self) -> list[str]:
        """The columns of the ends, where the rules have ends."""
        return [end for end, of in ENDS.items() if of in self._reckoning.tables]

    def _title(self, term: Term) -> str:
        base = self._world.base
        return base.label(str(term)) if str(term) in base else str(term)

    def _texts(self) -> Iterator[tuple[str, str]]:
        """The tables that are selected from what judging came to."""
        view, alike = self._reckoning.view, self._reckoning.alike
        thing, named = "JOIN thing_ AS {0} ON {0}.code = ".format, _NAMED.format
        yield (
            "lines",
            "SELECT p.text AS product, CAST(o.text AS INTEGER) AS place, "
            f"s.text AS symbol, n.text AS name FROM ({view(c.LINE)}) AS l "
            f"{thing('p')} l.c0 "
            f"JOIN place_ AS o ON o.code = l.c1 {named('l.c2')}",
        )
        yield (
            "films",
            "SELECT p.text AS product, s.text AS symbol, n.text AS name "
            f"FROM ({view(c.LEAVES)}) AS l {thing('p')} l.c0 {named('l.c1')}",
        )
        yield "judged", self._judged()
        yield (
            "wash_alike",
            "SELECT p.text AS wash, q.text AS judged "
            f"FROM ({alike(c.VERDICT, 0)}) AS a {thing('p')} a.thing "
            f"{thing('q')} a.stands WHERE q.text IN (SELECT wash FROM judged)",
        )
        yield (
            "film_alike",
            "SELECT p.text AS product, s.text AS film, q.text AS judged "
            f"FROM ({alike(c.VERDICT, 2)}) AS a {thing('p')} a.thing "
            f"{thing('q')} a.stands JOIN symbol_ AS s ON s.code = a.partner",
        )
        yield "sorts", self._told_apart()
        yield "unread", self._unread()

    def _told_apart(self) -> str:
        """Which washes are of which sort, and which surely are not."""
        parts = [
            "SELECT NULL AS wash, NULL AS sort, NULL AS name, NULL AS is_so WHERE 1 = 0"
        ]
        for sort in self._sorts:
            named = f"{quoted(sort.symbol)}, {quoted(self._title(sort.symbol))}"
            for so, goal in (("TRUE", sort.shown_by), ("FALSE", sort.ruled_out_by)):
                parts.append(
                    f"SELECT p.text, {named}, {so} FROM "
                    f"({self._reckoning.view(goal)}) AS v "
                    "JOIN thing_ AS p ON p.code = v.c0"
                )
        return " UNION ALL ".join(parts)

    def _unread(self) -> str:
        """The names that were not understood, with what they leave open."""
        if not self._ends:
            apart = "0 = 1"
        else:
            apart = f"j.{self._ends[0]} <> j.{self._ends[-1]}"
        return f"""
            WITH often AS (
                SELECT judged, film, COUNT(*) AS times FROM film_alike GROUP BY ALL
            ), unsettled AS (
                SELECT w.wash, SUM(o.times) AS times FROM judged AS j
                JOIN often AS o ON o.judged = j.product AND o.film = j.film
                JOIN wash_alike AS w ON w.judged = j.wash
                WHERE {apart} GROUP BY w.wash
            ), left_open AS (
                SELECT s.name, SUM(u.times) AS times FROM stands_ AS s
                JOIN unsettled AS u ON u.wash = s.wash GROUP BY s.name
            )
            SELECT u.*, CAST(COALESCE(l.times, 0) AS BIGINT) AS not_settled
            FROM unread_ AS u LEFT JOIN left_open AS l ON l.name = u.name
            ORDER BY not_settled DESC, labels DESC, u.name"""

    def _judged(self) -> str:
        tables = self._reckoning.tables
        about = " AND ".join(f"{{0}}.c{at} = v.c{at}" for at in range(3))
        columns = ["w.text AS wash", "s.text AS film", "p.text AS product"]
        columns.append("word_.text AS verdict")
        joins = [
            "JOIN thing_ AS w ON w.code = v.c0 JOIN symbol_ AS s ON s.code = v.c1",
            "JOIN thing_ AS p ON p.code = v.c2 JOIN word_ ON word_.code = v.c3",
        ]
        for end in self._ends:
            table = tables[ENDS[end]].name
            columns.append(f"{end}_.text AS {end}")
            joins.append(f"LEFT JOIN {table} AS {end}s ON {about.format(f'{end}s')}")
            joins.append(f"LEFT JOIN {end}_ ON {end}_.code = {end}s.c3")
        if DISPUTE in tables:
            columns.append("d.c0 IS NOT NULL AS disputed")
            parted = f"SELECT DISTINCT c0, c1, c2 FROM {tables[DISPUTE].name}"
            joins.append(f"LEFT JOIN ({parted}) AS d ON {about.format('d')}")
        joined = "\n".join(joins)
        return (
            f"SELECT {', '.join(columns)} FROM {tables[c.VERDICT].name} AS v {joined}"
        )


_NAMED = "JOIN symbol_ AS s ON s.code = {0} JOIN title_ AS n ON n.code = {0}"

VERDICTS = (
    "SELECT w.wash, f.product, f.film, j.* EXCLUDE (wash, film, product) "
    "FROM judged AS j JOIN wash_alike AS w ON w.judged = j.wash "
    "JOIN film_alike AS f ON f.judged = j.product AND f.film = j.film"
)
"""How all verdicts are selected from those that were worked out."""
