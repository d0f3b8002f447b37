"""Questions of the language asked of a judged catalogue: how many, and what share.

    Over(database, world).answer(parse_query("how many washes leave silicones"))

Counted are the labels of which something is surely so, is surely not so, and is open:
what is open counts for neither end, so a share has two. A verdict counts by its ends,
as it does where one wash is asked about; a product by the film of it that goes worst.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any, NamedTuple

from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.base.roles import EFFECTS
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck, quoted
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified

_NEEDED = {
    q.Extent.FULLY: 2,
    q.Extent.SURELY: 2,
    q.Extent.AT_LEAST_PARTLY: 1,
}
"""What both ends of a verdict are held against: all of a film, or part of it."""
ASKED = (
    "how many washes leave F",
    "how many washes without C at least partly clear F",
    "how many washes clear everything from P",
    "which products does no wash without C clear",
)
"""What can be asked, to be offered where something else was."""


class Count(NamedTuple):
    """How many labels of some are so.

    Args:
        things: what was looked at, in the words of the question.
        so: the labels of which it is surely so.
        open: those of which nobody can tell.
        of: how many were looked at.
        means: what is counted, where the question leaves it unsaid.
    """

    things: str
    so: Sequence[str]
    open: Sequence[str]
    of: int
    means: str = ""

    @property
    def most(self) -> int:
        """How many it is of if all that is open is so."""
        return len(self.so) + len(self.open)


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
        self._database, self._world = database, world
        self._terms = Judge(Nouns(world, {})).terms
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

    def summary(self, most: int = 10) -> Mapping[str, Sequence[tuple[Any, ...]]]:
        """What it comes to: verdicts by word, films, and names to look up first."""
        none = next(iter(self._ranks))

        def rows(text: str) -> Sequence[tuple[Any, ...]]:
            return self._database.connection.execute(text).fetchall()

        return {
            "labels": rows("SELECT COUNT(*), COUNT(*) FILTER (is_wash) FROM labels"),
            "verdicts": rows(
                "WITH often AS (SELECT judged, film, COUNT(*) AS times FROM film_alike "
                "GROUP BY ALL), washes AS (SELECT judged, COUNT(*) AS times "
                "FROM wash_alike GROUP BY ALL) "
                "SELECT j.verdict, CAST(SUM(o.times * w.times) AS BIGINT) AS found "
                "FROM judged AS j JOIN often AS o ON o.judged = j.product "
                "AND o.film = j.film JOIN washes AS w ON w.judged = j.wash "
                "GROUP BY j.verdict ORDER BY found DESC, j.verdict"
            ),
            "films": rows(_FILMS.format(limit=int(most), none=quoted(none))),
            "unread": rows(
                "SELECT name, labels, not_settled FROM unread "
                f"ORDER BY not_settled DESC, labels DESC, name LIMIT {int(most)}"
            ),
        }

    def _leave(self, subject: q.Term, said: q.Leaves) -> Count:
        self._plain(said)
        things, where = self._labels(subject)
        if isinstance(said.object, q.Quantified):
            what = "a catalogue counts what leaves any of some films, or does not"
            raise Unanswerable(what, said.object.span)
        films = self._symbols(said.object)
        within = f"symbol IN {_listed(films)}" if films is not None else "TRUE"
        return self._counted(
            things,
            f"""SELECT l.product, CASE
                WHEN l.product IN (SELECT product FROM films WHERE {within}) THEN 1
                WHEN l.not_read > 0 THEN 0 ELSE -1 END AS truth
            FROM labels AS l WHERE {where}""",
            "A name that was not understood leaves it open.",
        )

    def _clear(self, subject: q.Term, said: q.Clears) -> Count:
        need = self._needed(said)
        things, where = self._labels(subject)
        films = self._films(said)
        # Every wash clears all of nothing.
        join = "LEFT JOIN" if self._symbols(said.object) is None else "JOIN"
        told = "" if said.source else "Counted from every product that leaves it."
        return self._counted(
            things,
            f"""WITH wanted AS (
                SELECT DISTINCT judged AS product, film FROM film_alike WHERE {films}
            ), ends AS (
                SELECT j.wash, {self._worst("at_least")} AS low,
                    {self._worst("at_most")} AS high
                FROM judged AS j JOIN wanted USING (product, film) GROUP BY j.wash
            )
            SELECT l.product, {_truth(need)} AS truth FROM labels AS l
            {join} wash_alike AS a ON a.wash = l.product
            {join} ends AS e ON e.wash = a.judged WHERE {where} AND l.is_wash""",
            told,
        )

    def _cleared_by_none(self, washes: q.Term, said: q.Clears) -> Count:
        need = self._needed(said)
        named, which = self._labels(washes)
        things, where = self._labels(said.object)
        return self._counted(
            things,
            f"""WITH some_washes AS (
                SELECT DISTINCT a.judged FROM labels AS l
                JOIN wash_alike AS a ON a.wash = l.product WHERE {which} AND l.is_wash
            ), ends AS (
                SELECT f.product, j.wash, {self._worst("at_least")} AS low,
                    {self._worst("at_most")} AS high
                FROM film_alike AS f JOIN labels AS l ON l.product = f.product
                JOIN judged AS j ON j.product = f.judged AND j.film = f.film
                JOIN some_washes AS s ON s.judged = j.wash
                WHERE {where} GROUP BY f.product, j.wash
            ), e AS (
                SELECT product, MAX(low) AS low, MAX(high) AS high
                FROM ends GROUP BY product
            )
            SELECT product, -({_truth(need)}) AS truth FROM e""",
            f"Counted are those that leave a film, and any {named} of the catalogue.",
        )

    def _counted(self, things: str, text: str, means: str) -> Count:
        try:
            cursor = self._database.connection.execute(
                f"SELECT product, truth FROM ({text}) ORDER BY product"
            )
        except self._database.failed as error:
            raise Unanswerable(f"the tables cannot be asked this: {error}") from error
        rows = cursor.fetchall()
        so = [name for name, truth in rows if truth > 0]
        unsettled = [name for name, truth in rows if truth == 0]
        return Count(things, so, unsettled, len(rows), means)

    def about(self) -> Mapping[str, str]:
        """What it was judged by."""
        rows = self._database.connection.execute("SELECT name, value FROM about")
        return {str(name): str(value or "") for name, value in rows.fetchall()}

    # -- the parts of a question ----------------------------------------------

    def _labels(self, term: q.Term) -> tuple[str, str]:
        """What some labels are called, and the condition that selects them."""
        if isinstance(term, q.Quantified):
            return self._labels(term.term)
        if isinstance(term, q.Such):
            things, where = self._labels(term.term)
            parts = [self._condition(each) for each in term.conditions]
            told = " and ".join(words for words, _ in parts)
            return f"{things} {told}", " AND ".join(
                [where, *(text for _, text in parts)]
            )
        if isinstance(term, q.Name):
            noun = self._terms.nouns.as_products(term.text)
            if noun is not None and noun.kind:
                return term.text, self._of_kind(term.text, noun.kind)
        raise Unanswerable("a catalogue is asked of kinds of products", term.span)

    def _of_kind(self, name: str, kind: str) -> str:
        if kind == "product":
            return "TRUE"
        base, nouns = self._world.base, self._terms.nouns
        kinds = cleaning_kinds(base) if nouns.is_wash(name) else {kind}
        rows = self._database.connection.execute("SELECT DISTINCT kind FROM labels")
        words = [word for (word,) in rows.fetchall()]
        found = [word for word in words if product_kind(word, base) in kinds]
        return f"l.kind IN {_listed(found)}"

    def _condition(self, said: q.Predicate) -> tuple[str, str]:
        said = simplified(said)
        if isinstance(said, q.Both):
            parts = [self._condition(each) for each in said.parts]
            return " and ".join(p[0] for p in parts), " AND ".join(p[1] for p in parts)
        denied = isinstance(said, q.Not)
        part = said.part if isinstance(said, q.Not) else said
        if not isinstance(part, q.Contains) or part.level or part.place:
            raise Unanswerable(
                "a catalogue knows labels by what they contain", said.span
            )
        thing = part.object
        if isinstance(thing, q.Quantified):
            if thing.quantity is not q.Quantity.NO:
                raise Unanswerable("a catalogue is asked with or without", thing.span)
            denied = not denied
            thing = thing.term
        symbols = self._symbols(thing)
        among = f"symbol IN {_listed(symbols)}" if symbols is not None else "TRUE"
        text = f"l.product IN (SELECT product FROM lines WHERE {among})"
        words = f"{'without' if denied else 'with'} {_words(thing)}"
        return words, f"NOT {text}" if denied else text

    def _films(self, said: q.Clears) -> str:
        """The condition that selects the films of some products."""
        parts = []
        thing = said.object
        every = isinstance(thing, q.Quantified) and thing.quantity is q.Quantity.EVERY
        symbols = self._symbols(thing)
        if isinstance(thing, q.Quantified) and not every:
            raise Unanswerable("say which film, or `every` of them", thing.span)
        if symbols is not None:
            if len(symbols) > 1 and not every:
                raise Unanswerable("say which film, or `every` of them", thing.span)
            parts.append(f"film IN {_listed(symbols)}")
        if isinstance(said.source, q.Name):
            named = f"lower(product) = {quoted(said.source.text.lower())}"
            self._there(named, said.source)
            parts.append(named)
        elif said.source is not None:
            raise Unanswerable("a catalogue is asked of one product", said.source.span)
        return " AND ".join(parts) or "TRUE"

    def _there(self, named: str, term: q.Name) -> None:
        found = self._database.connection.execute(
            f"SELECT product FROM labels WHERE {named} LIMIT 1"
        )
        if not found.fetchall():
            raise Unanswerable(f'the catalogue has no "{term.text}"', term.span)

    def _symbols(self, term: q.Term) -> Collection[str] | None:
        return self._terms.wanted(term)

    def _needed(self, said: q.Clears) -> int:
        self._plain(said)
        if said.extent not in _NEEDED or said.rounds != 1:
            what = "a catalogue counts what clears, or at least partly clears"
            raise Unanswerable(what, said.span)
        return _NEEDED[said.extent]

    def _plain(self, said: q.Leaves | q.Clears) -> None:
        if said.circumstances:
            what = "a catalogue was judged under its own conditions"
            raise Unanswerable(f"{what}; sweep it under these", said.span)

    def _worst(self, end: str) -> str:
        """The least of an end; where there is none, no wash is needed."""
        cases = " ".join(
            f"WHEN {quoted(word)} THEN {rank}" for word, rank in self._ranks.items()
        )
        return f"MIN(CASE j.{end} {cases} ELSE 2 END)"


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


def _truth(need: int) -> str:
    low = f"COALESCE(e.low, {need}) >= {need}"
    return f"CASE WHEN {low} THEN 1 WHEN e.high < {need} THEN -1 ELSE 0 END"


def _words(term: q.Term) -> str:
    return term.text if isinstance(term, q.Name) else "these"


def _listed(symbols: Collection[str]) -> str:
    return f"({', '.join(map(quoted, sorted(symbols))) or 'NULL'})"
