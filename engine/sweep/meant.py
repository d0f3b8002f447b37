"""What the terms of a question mean in the tables of a catalogue, as SQL.

Which labels are meant is a number of each: 1 for one that surely is, 0 for one that may
be, as a name on it was not understood, and -1 for one that surely is not.
"""

from __future__ import annotations

from collections.abc import Collection

from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.sorts import Sort
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck, quoted
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified


class Meant:
    """The terms of questions over one catalogue.

    Args:
        database: where its tables are.
        world: the base, for names; its shelf does not count.
    """

    def __init__(self, database: Duck, world: World) -> None:
        self._database, self._base = database, world.base
        self._terms = Judge(Nouns(world, {})).terms
        self._nouns = self._terms.nouns

    def labels(self, term: q.Term) -> tuple[str, str]:
        """What some labels are called, and the number that says which are meant."""
        if isinstance(term, q.Quantified):
            return self.labels(term.term)
        if isinstance(term, q.Such):
            things, member = self.labels(term.term)
            parts = [self._condition(each) for each in term.conditions]
            told = " and ".join(words for words, _ in parts)
            return f"{things} {told}", _all([member, *(number for _, number in parts)])
        if isinstance(term, q.Name):
            noun = self._nouns.as_products(term.text)
            if noun is not None and noun.kind:
                return term.text, self._of_kind(term.text, noun.kind)
            sort = self._nouns.sort(term.text)
            if sort is not None:
                return term.text, _of_sort(sort)
        raise Unanswerable("a catalogue is asked of kinds of products", term.span)

    def films(self, said: q.Clears) -> str:
        """The condition that selects the films of some products."""
        parts = []
        thing = said.object
        every = isinstance(thing, q.Quantified) and thing.quantity is q.Quantity.EVERY
        symbols = self.symbols(thing)
        if isinstance(thing, q.Quantified) and not every:
            raise Unanswerable("say which film, or `every` of them", thing.span)
        if symbols is not None:
            if len(symbols) > 1 and not every:
                raise Unanswerable("say which film, or `every` of them", thing.span)
            parts.append(f"film IN {listed(symbols)}")
        if isinstance(said.source, q.Name):
            named = f"lower(product) = {quoted(said.source.text.lower())}"
            self._there(named, said.source)
            parts.append(named)
        elif said.source is not None:
            raise Unanswerable("a catalogue is asked of one product", said.source.span)
        return " AND ".join(parts) or "TRUE"

    def symbols(self, term: q.Term) -> Collection[str] | None:
        """The ingredients that a term means; None for any."""
        return self._terms.wanted(term)

    def _there(self, named: str, term: q.Name) -> None:
        found = self._database.connection.execute(
            f"SELECT product FROM labels WHERE {named} LIMIT 1"
        )
        if not found.fetchall():
            raise Unanswerable(f'the catalogue has no "{term.text}"', term.span)

    def _of_kind(self, name: str, kind: str) -> str:
        if kind == "product":
            return "1"
        base = self._base
        kinds = cleaning_kinds(base) if self._nouns.is_wash(name) else {kind}
        rows = self._database.connection.execute("SELECT DISTINCT kind FROM labels")
        words = [word for (word,) in rows.fetchall()]
        found = [word for word in words if product_kind(word, base) in kinds]
        return f"CASE WHEN l.kind IN {listed(found)} THEN 1 ELSE -1 END"

    def _condition(self, said: q.Predicate) -> tuple[str, str]:
        """What is said of labels, in words and as a number."""
        said = simplified(said)
        if isinstance(said, q.Both):
            parts = [self._condition(each) for each in said.parts]
            return " and ".join(p[0] for p in parts), _all([p[1] for p in parts])
        denied = isinstance(said, q.Not)
        part = said.part if isinstance(said, q.Not) else said
        if isinstance(part, q.Is):
            words, number = self._is_so(part, denied)
        else:
            words, number, denied = self._contains(part, denied)
        return words, f"-({number})" if denied else number

    def _is_so(self, said: q.Is, denied: bool) -> tuple[str, str]:
        term = said.object
        name = term.text if isinstance(term, q.Name) else ""
        sort = self._nouns.sort(name) if name else None
        if sort is None:
            what = "a catalogue knows labels by their kind, their sort and contents"
            raise Unanswerable(what, said.span)
        return f"that are {'not ' * denied}{name}", _of_sort(sort)

    def _contains(self, said: q.Predicate, denied: bool) -> tuple[str, str, bool]:
        if not isinstance(said, q.Contains) or said.level or said.place:
            what = "a catalogue knows labels by what they contain"
            raise Unanswerable(what, said.span)
        thing = said.object
        if isinstance(thing, q.Quantified):
            if thing.quantity is not q.Quantity.NO:
                raise Unanswerable("a catalogue is asked with or without", thing.span)
            denied = not denied
            thing = thing.term
        symbols = self.symbols(thing)
        among = f"symbol IN {listed(symbols)}" if symbols is not None else "TRUE"
        number = (
            f"CASE WHEN l.product IN (SELECT product FROM lines WHERE {among}) THEN 1 "
            "WHEN l.not_read > 0 THEN 0 ELSE -1 END"
        )
        words = thing.text if isinstance(thing, q.Name) else "these"
        return f"{'without' if denied else 'with'} {words}", number, denied


def listed(symbols: Collection[str]) -> str:
    """Some texts as SQL lists them."""
    return f"({', '.join(map(quoted, sorted(symbols))) or 'NULL'})"


def _all(numbers: Collection[str]) -> str:
    """That all of some things are so: as sure as the least sure of them."""
    return f"LEAST({', '.join(numbers)})" if len(numbers) > 1 else next(iter(numbers))


def _of_sort(sort: Sort) -> str:
    """Whether a label is a wash of a sort."""
    named = f"(SELECT wash FROM sorts WHERE sort = {quoted(sort.symbol)} AND "
    return (
        f"CASE WHEN NOT l.is_wash OR l.product IN {named}NOT is_so) THEN -1 "
        f"WHEN l.product IN {named}is_so) THEN 1 ELSE 0 END"
    )
