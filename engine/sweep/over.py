"""Questions of the language asked of a judged catalogue: how many, and what share.

    Over(database, world).answer(parse_query("how many washes leave silicones"))

Counted are the labels of which something is surely so, is surely not so, and is open:
what is open counts for neither end, so a share has two. A verdict counts by its ends,
as it does where one wash is asked about; a product by the film of it that goes worst.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from abluent.engine.base.roles import EFFECTS
from abluent.engine.questions.answers.share import Share
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck, quoted
from abluent.engine.sweep.meant import Meant, listed
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified

_NEEDED = {
    q.Extent.FULLY: 2,
    q.Extent.SURELY: 2,
    q.Extent.AT_LEAST_PARTLY: 1,
}
"""What both ends of a verdict are held against: all of a film, or part of it."""
_SURE: Mapping[int, bool | None] = {1: True, 0: None, -1: False}
ASKED = (
    "how many washes leave F",
    "what share of washes without C at least partly clears F",
    "how many washes clear everything from P",
    "which products does no mild wash clear",
    "which names were not understood",
)
"""What can be asked, to be offered where something else was."""


class Count(NamedTuple):
    """How many labels of some are so.

    Args:
        things: what was looked at, in the words of the question.
        so: the labels of which it is surely so.
        open: those of which nobody can tell.
        doubtful: those that may be so, and may or may not be among what was asked
            about, as a name on their label was not understood.
        share: how many of all they are.
        means: what is counted, where the question leaves it unsaid.
    """

    things: str
    so: Sequence[str]
    open: Sequence[str]
    doubtful: Sequence[str]
    share: Share
    means: str = ""

    @property
    def of(self) -> int:
        """How many labels were surely asked about."""
        return self.share.sure

    @property
    def most(self) -> int:
        """How many it is of if all that is open is so."""
        return self.share.most


class Unread(NamedTuple):
    """A name that was not understood.

    Args:
        name: as printed.
        labels: on how many labels it stands.
        washes: on how many washes.
        not_settled: how many verdicts of these washes have ends that differ.
    """

    name: str
    labels: int
    washes: int
    not_settled: int


def about_one(query: q.Query, name: str) -> q.Query | None:
    """The question that asks of one label what was counted of all.

    The reasoner answers it from that label alone, with a proof.

    Args:
        query: what was counted.
        name: the label.
    """
    asked = query.question if isinstance(query, q.HowMany) else query
    if isinstance(asked, q.Which) and asked.predicate is not None:
        return q.Whether(q.Statement(q.Name(name), asked.predicate))
    if isinstance(asked, q.What) and isinstance(asked.predicate, q.Clears):
        washes = asked.subject
        if isinstance(washes, q.Quantified):
            washes = washes.term
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        extent = asked.predicate.extent
        return q.Which(washes, q.Clears(everything, q.Name(name), extent))
    return None


class Over:
    """A judged catalogue that questions are asked of.

    Args:
        database: where its tables are.
        world: the base, for names; its shelf does not count.
    """

    def __init__(self, database: Duck, world: World) -> None:
        self._database = database
        self._meant = Meant(database, world)
        base = world.base
        self._ranks = {
            base.label(base.term(role)): rank for rank, role in enumerate(EFFECTS)
        }

    def answer(self, query: q.Query) -> Count:
        """Count what a question asks for.

        Raises:
            Unanswerable: it is not of those that a catalogue answers.
            UnknownName: a name stands for nothing.
        """
        asked = query.question if isinstance(query, q.HowMany) else query
        if isinstance(asked, q.Which) and not (asked.order or asked.limit):
            said = simplified(asked.predicate) if asked.predicate else None
            if isinstance(said, q.Leaves):
                return self._leave(asked.subject, said)
            if isinstance(said, q.Clears):
                return self._clear(asked.subject, said)
        if isinstance(asked, q.What) and isinstance(asked.predicate, q.Clears):
            subject = asked.subject
            none = isinstance(subject, q.Quantified) and subject.quantity
            if none is q.Quantity.NO and isinstance(subject, q.Quantified):
                return self._cleared_by_none(subject.term, asked.predicate)
        raise Unanswerable("a catalogue does not answer this", query.span)

    def unread(self, most: int | None = None) -> Sequence[Unread]:
        """The names that were not understood, by how many verdicts they leave open.

        Args:
            most: of how many to tell; of all if none.
        """
        limit = "" if most is None else f"LIMIT {int(most)}"
        rows = self._rows(
            "SELECT name, labels, washes, not_settled FROM unread "
            f"ORDER BY not_settled DESC, labels DESC, name {limit}"
        )
        return [Unread(*row) for row in rows]

    def unsettled(self) -> int:
        """How many verdicts of all have ends that differ."""
        ((found,),) = self._rows(_UNSETTLED)
        return int(found or 0)

    def summary(self, most: int = 10) -> Mapping[str, Sequence[tuple[Any, ...]]]:
        """What it comes to: verdicts by word, films, and names to look up first."""
        none = next(iter(self._ranks))
        return {
            "labels": self._rows(
                "SELECT COUNT(*), COUNT(*) FILTER (is_wash) FROM labels"
            ),
            "verdicts": self._rows(_VERDICTS),
            "films": self._rows(_FILMS.format(limit=int(most), none=quoted(none))),
            "unread": [
                (each.name, each.labels, each.not_settled) for each in self.unread(most)
            ],
        }

    def about(self) -> Mapping[str, str]:
        """What it was judged by."""
        rows = self._rows("SELECT name, value FROM about")
        return {str(name): str(value or "") for name, value in rows}

    def _leave(self, subject: q.Term, said: q.Leaves) -> Count:
        _plain(said)
        things, member = self._meant.labels(subject)
        if isinstance(said.object, q.Quantified):
            what = "a catalogue counts what leaves any of some films, or does not"
            raise Unanswerable(what, said.object.span)
        films = self._meant.symbols(said.object)
        within = f"symbol IN {listed(films)}" if films is not None else "TRUE"
        return self._counted(
            things,
            f"""SELECT l.product, {member} AS member, CASE
                WHEN l.product IN (SELECT product FROM films WHERE {within}) THEN 1
                WHEN l.not_read > 0 THEN 0 ELSE -1 END AS truth
            FROM labels AS l""",
            "A name that was not understood leaves it open.",
        )

    def _clear(self, subject: q.Term, said: q.Clears) -> Count:
        need = _needed(said)
        things, member = self._meant.labels(subject)
        films = self._meant.films(said)
        # Every wash clears all of nothing.
        join = "LEFT JOIN" if self._meant.symbols(said.object) is None else "JOIN"
        told = "" if said.source else "Counted from every product that leaves it."
        low = f"COALESCE(e.low, {need}) >= {need}"
        return self._counted(
            things,
            f"""WITH wanted AS (
                SELECT DISTINCT judged AS product, film FROM film_alike WHERE {films}
            ), ends AS (
                SELECT j.wash, {self._worst("at_least")} AS low,
                    {self._worst("at_most")} AS high
                FROM judged AS j JOIN wanted USING (product, film) GROUP BY j.wash
            )
            SELECT l.product, {member} AS member, CASE WHEN {low} THEN 1
                WHEN e.high < {need} THEN -1 ELSE 0 END AS truth FROM labels AS l
            {join} wash_alike AS a ON a.wash = l.product
            {join} ends AS e ON e.wash = a.judged WHERE l.is_wash""",
            told,
        )

    def _cleared_by_none(self, washes: q.Term, said: q.Clears) -> Count:
        need = _needed(said)
        named, which = self._meant.labels(washes)
        things, member = self._meant.labels(said.object)
        # A wash that may be meant may clear it, and never surely does.
        return self._counted(
            things,
            f"""WITH some_washes AS (
                SELECT a.judged, MAX({which}) AS sure FROM labels AS l
                JOIN wash_alike AS a ON a.wash = l.product
                WHERE l.is_wash AND {which} >= 0 GROUP BY a.judged
            ), ends AS (
                SELECT f.product, j.wash, ANY_VALUE(s.sure) AS sure,
                    {self._worst("at_least")} AS low, {self._worst("at_most")} AS high
                FROM film_alike AS f
                JOIN judged AS j ON j.product = f.judged AND j.film = f.film
                JOIN some_washes AS s ON s.judged = j.wash
                GROUP BY f.product, j.wash
            ), e AS (
                SELECT product, MAX(low) FILTER (sure = 1) AS low, MAX(high) AS high
                FROM ends GROUP BY product
            )
            SELECT l.product, {member} AS member, CASE WHEN e.low >= {need} THEN -1
                WHEN e.high < {need} THEN 1 ELSE 0 END AS truth
            FROM e JOIN labels AS l USING (product)""",
            f"Counted are those that leave a film, and any {named} of the catalogue.",
        )

    def _counted(self, things: str, text: str, means: str) -> Count:
        rows = self._rows(
            f"SELECT product, member, truth FROM ({text}) WHERE member >= 0 "
            "ORDER BY product"
        )

        def named(member: int, *truths: int) -> list[str]:
            return [name for name, m, truth in rows if m == member and truth in truths]

        return Count(
            things,
            named(1, 1),
            named(1, 0),
            named(0, 0, 1),
            Share.of((_SURE[member], _SURE[truth]) for _, member, truth in rows),
            means,
        )

    def _rows(self, text: str) -> Sequence[tuple[Any, ...]]:
        try:
            return self._database.connection.execute(text).fetchall()
        except self._database.failed as error:
            raise Unanswerable(f"the tables cannot be asked this: {error}") from error

    def _worst(self, end: str) -> str:
        """The least of an end; where there is none, no wash is needed."""
        cases = " ".join(
            f"WHEN {quoted(word)} THEN {rank}" for word, rank in self._ranks.items()
        )
        return f"MIN(CASE j.{end} {cases} ELSE 2 END)"


_VERDICTS = """
    WITH often AS (
        SELECT judged, film, COUNT(*) AS times FROM film_alike GROUP BY ALL
    ), washes AS (
        SELECT judged, COUNT(*) AS times FROM wash_alike GROUP BY ALL
    )
    SELECT j.verdict, CAST(SUM(o.times * w.times) AS BIGINT) AS found
    FROM judged AS j JOIN often AS o ON o.judged = j.product AND o.film = j.film
    JOIN washes AS w ON w.judged = j.wash
    GROUP BY j.verdict ORDER BY found DESC, j.verdict"""

_UNSETTLED = """
    WITH often AS (
        SELECT judged, film, COUNT(*) AS times FROM film_alike GROUP BY ALL
    ), washes AS (
        SELECT a.judged, COUNT(*) AS times FROM wash_alike AS a
        JOIN labels AS l ON l.product = a.wash WHERE l.is_wash GROUP BY ALL
    )
    SELECT CAST(SUM(o.times * w.times) AS BIGINT) FROM judged AS j
    JOIN often AS o ON o.judged = j.product AND o.film = j.film
    JOIN washes AS w ON w.judged = j.wash WHERE j.at_least <> j.at_most"""

_FILMS = """
    WITH often AS (
        SELECT judged, film, COUNT(*) AS times FROM film_alike GROUP BY ALL
    ), washes AS (
        SELECT a.judged, COUNT(*) AS times FROM wash_alike AS a
        JOIN labels AS l ON l.product = a.wash WHERE l.is_wash GROUP BY ALL
    ), leaving AS (
        SELECT symbol, ANY_VALUE(name) AS name, COUNT(*) AS products
        FROM films GROUP BY symbol
    ), found AS (
        SELECT j.film, SUM(o.times * w.times) AS total,
            SUM(o.times * w.times) FILTER (COALESCE(j.at_least, '') <> {none}) AS sure,
            SUM(o.times * w.times) FILTER (COALESCE(j.at_most, '') <> {none}) AS most
        FROM judged AS j
        JOIN often AS o ON o.judged = j.product AND o.film = j.film
        JOIN washes AS w ON w.judged = j.wash GROUP BY j.film
    )
    SELECT l.name, l.products, CAST(f.total AS BIGINT),
        CAST(COALESCE(f.sure, 0) AS BIGINT), CAST(COALESCE(f.most, 0) AS BIGINT)
    FROM leaving AS l JOIN found AS f ON f.film = l.symbol
    ORDER BY l.products DESC, l.name LIMIT {limit}"""


def _needed(said: q.Clears) -> int:
    _plain(said)
    if said.extent not in _NEEDED or said.rounds != 1:
        what = "a catalogue counts what clears, or at least partly clears"
        raise Unanswerable(what, said.span)
    return _NEEDED[said.extent]


def _plain(said: q.Leaves | q.Clears) -> None:
    if said.circumstances:
        what = "a catalogue was judged under its own conditions"
        raise Unanswerable(f"{what}; sweep it under these", said.span)
