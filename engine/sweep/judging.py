"""A catalogue judged: every wash against every product, by the rules of one question.

Labels are added one by one; of each no more is kept than what judging needs. Then all
is judged at once, in a database, each verdict once for all washes and films of which
the same is so.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from abluent.engine.base import contract as c
from abluent.engine.base.cache import code_stamp
from abluent.engine.base.phrases import product_symbol
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.terms import Term
from abluent.engine.questions.world.sorts import every_sort
from abluent.engine.questions.world.world import World
from abluent.engine.relational.closed import Snapshot
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.portions import Watch
from abluent.engine.relational.spark import Spark
from abluent.engine.relational.things import Reckoning
from abluent.engine.sights.sight import Sight

VARYING = frozenset(
    {
        *(c.PRODUCT, c.KIND, c.LINE, c.STATED, c.SOLD_IN, c.UNORDERED, c.UNREAD_LINE),
        *(c.STATED_AT_MOST, c.MAY_CONTAIN, c.IN_BLEND, c.OUT_OF_ORDER),
        *(c.WITHIN_ANOTHER, c.COULD_FORM, c.IONIC_EXCESS, c.LEVEL),
        *(c.ASKS_WASH, c.ASKS_FILM, c.ASKS_FROM, c.ASKS_ABOUT),
    }
)
"""What labels and the question say, and no base."""

PLACES = frozenset({c.LINE, c.MAY_CONTAIN, c.UNREAD_LINE})
"""What says that there is a place on a label."""

GOALS = (
    *(getattr(c, name, "") for name in ("VERDICT", "LOWER", "UPPER")),
    *(getattr(c, name, "") for name in ("CONTESTED", "DISPUTED")),
    *(c.LEAVES, c.LINE),
)


class Entry(NamedTuple):
    """A label of a catalogue: how it is called and sold, and how it is judged.

    `wash` says that it is judged as a wash. What it leaves is judged in any case.
    """

    name: str
    kind: str
    market: str
    wash: bool


class Told:
    """What is told of the labels themselves."""

    def __init__(self) -> None:
        self._rows: list[tuple[str, str, str, bool, int, int]] = []
        self._unread: Counter[str] = Counter()
        self._on_washes: Counter[str] = Counter()
        self._stands: list[tuple[str, str]] = []

    def add(self, entry: Entry, sight: Sight) -> None:
        """Take a label in."""
        placed = {args[0] for name, args in sight.facts if name in PLACES}
        unread = {name.casefold(): name for _, name in sight.unread}
        row = (*entry, len(placed), len(sight.unread))
        self._rows.append(row)
        self._unread.update(unread.values())
        if entry.wash:
            self._on_washes.update(unread.values())
            self._stands += [(entry.name, name) for name in unread.values()]

    def stands(self) -> Mapping[str, Sequence[Any]]:
        """On which washes each name stands that was not understood."""
        columns = list(zip(*self._stands, strict=True)) or [()] * 2
        return dict(zip(("wash", "name"), columns, strict=True))

    def labels(self) -> Mapping[str, Sequence[Any]]:
        """A row for each label, as columns."""
        names = ("product", "kind", "market", "is_wash", "places", "not_read")
        columns = list(zip(*self._rows, strict=True)) or [()] * len(names)
        return dict(zip(names, columns, strict=True))

    def unread(self) -> Mapping[str, Sequence[Any]]:
        """A row for each name that was not understood, most frequent first."""
        rows = [
            (n, often, self._on_washes[n]) for n, often in self._unread.most_common()
        ]
        columns = list(zip(*rows, strict=True)) or [()] * 3
        return dict(zip(("name", "labels", "washes"), columns, strict=True))


class Catalogue:
    """Labels that are judged together.

    Args:
        world: the base, its rules and how hair is washed; its shelf does not count.
        database: where they are judged.
        goals: the predicates whose facts are wanted.
    """

    def __init__(
        self, world: World, database: Duck | Spark, goals: Sequence[str] = GOALS
    ) -> None:
        self._world, self._database = world, database
        known = world.program.arities
        self.sorts = every_sort(world.base, known)
        """The sorts of wash that it tells."""
        shown = [sort.shown_by for sort in self.sorts]
        shown += [sort.ruled_out_by for sort in self.sorts]
        wanted = dict.fromkeys([*goals, *shown])
        self.goals = [name for name in wanted if name in known]
        self.told = Told()
        self._columns: dict[str, list[list[Term]]] = {}
        self._terms: dict[Term, Term] = {}
        self._said: dict[tuple[str, tuple[Term, ...]], None] = {}
        self._symbols: set[str] = set()

    def add(self, entry: Entry, sight: Sight) -> None:
        """Take a label in."""
        self.told.add(entry, sight)
        symbol = product_symbol(entry.name)
        for name, args in sight.facts:
            self._fact(name, (symbol, *args))
        for args in (sight.balance or ()) if entry.wash else ():
            self._fact(c.IONIC_EXCESS, (symbol, *args))
        if entry.wash:
            self._fact(c.ASKS_WASH, (symbol,))
        self._fact(c.ASKS_FROM, (symbol,))
        self._said.update(dict.fromkeys(sight.told))

    def _fact(self, name: str, args: tuple[Term, ...]) -> None:
        columns = self._columns.get(name)
        if columns is None:
            columns = self._columns[name] = [[] for _ in args]
        terms = self._terms
        for column, term in zip(columns, args, strict=True):
            column.append(terms.setdefault(term, term))

    def judge(self, watch: Watch | None = None) -> Reckoning:
        """Judge all that was added; what was added is let go.

        Args:
            watch: called with how many washes were judged, and of how many.

        Raises:
            Untranslatable: a rule cannot be evaluated in bulk.
            EngineError: the database refused.
        """
        known = self._world.known
        closed = self._closed()
        reckoning = Reckoning(
            known.program, self.goals, closed, VARYING, (c.LINE, 0), self._database
        )
        tables = [Table(name, columns) for name, columns in self._columns.items()]
        self._columns, self._terms = {}, {}
        reckoning.meet(tables)
        while tables:
            reckoning.take([tables.pop()])
        reckoning.finish(watch)
        return reckoning

    def _closed(self) -> Snapshot:
        """What follows whatever stands on the labels; kept from run to run."""
        known, base = self._world.known, self._world.base
        cached = None
        if base.cached is not None and known.program.stamps is not None:
            said = [*sorted(self._said, key=repr), *self._world.stated, *self.goals]
            digest = hashlib.sha256(repr(said).encode("utf-8", "surrogatepass"))
            code = [code_stamp("engine/relational"), code_stamp("engine/sweep")]
            stamps = [known.program.stamps, *code, digest.hexdigest()]
            cached = base.cached.beside("sweep", stamps)
            plain = cached.recall()
            if plain is not None:
                return Snapshot.of_plain(plain)
        model = known.shared.extended([*self._vocabulary()])
        made = Snapshot.of(model, known.program, self.goals, VARYING)
        if cached is not None:
            cached.remember(made.plain())
        return made

    def _vocabulary(self) -> Iterator[Fact]:
        """What is so whatever stands on the labels, every ingredient included."""
        known = self._world.known
        grades = (
            grade
            for symbol in known.ingredients
            for grade in known.base.record(symbol).links("coversGrade")
        )
        named = dict.fromkeys([*sorted(known.ingredients), *known.unlisted_films])
        named |= dict.fromkeys([known.water_symbol, *grades])
        yield from known.base.facts_about(named, known.program.arities)
        yield from (Fact(name, args) for name, args in self._said)
        yield from self._world.circumstances(())
        yield Fact(c.ASKS_WASH, (known.water_symbol,))
