"""Many things judged once for each that differs; see `alike`.

reckoning = Reckoning(program, goals, closed, varying, ("line", 0), Duck())
for tables in ...: reckoning.meet(tables)  # every term, before the first fact
for tables in ...: reckoning.take(tables)  # facts of whole things, in portions
reckoning.finish()
for row in reckoning.match("verdict"): ...
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from abluent.engine.logic.clauses import NO_PLACE, Atom, Rule, Variable, body_atoms
from abluent.engine.logic.facts import Table
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.strata import components
from abluent.engine.logic.terms import Term
from abluent.engine.relational import plan as p
from abluent.engine.relational._bodies import Naming
from abluent.engine.relational._reducing import (
    alike_text,
    composed_text,
    expanded_text,
    kept_text,
    map_name,
    whole_name,
)
from abluent.engine.relational._roles import Leaf, Role
from abluent.engine.relational.alike import Parted
from abluent.engine.relational.closed import Closed
from abluent.engine.relational.domains import Domains
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.evaluate import Decoder, load_columns
from abluent.engine.relational.portions import Portions, Watch
from abluent.engine.relational.spark import Spark
from abluent.engine.relational.translate import Planner, tables_of

Columns = Sequence[Sequence[Term]]


class Reckoning:
    """What follows about many things, worked out once for those that are alike.

    Args:
        program: the rules.
        goals: the predicates whose facts are wanted.
        closed: the model of all facts that do not come in bulk.
        varying: the predicates of which facts come in bulk.
        thing: one of them, and the place where a thing stands in it.
        database: where to work it out.

    Raises:
        Untranslatable: a rule cannot be evaluated so.
    """

    def __init__(  # noqa: PLR0913, PLR0917 - one evaluation, described in full
        self,
        program: Program,
        goals: Iterable[str],
        closed: Closed,
        varying: Collection[str],
        thing: tuple[str, int],
        database: Duck | Spark,
    ) -> None:
        self.parted = parted = Parted(program, goals, closed, varying, thing)
        self.database = database
        leaves = [leaf for r in (*parted.roles, *parted.again) for leaf in r.leaves]
        # What is kept for a role holds the same terms as what it is taken from.
        copies = [_copy(leaf, parted.arities) for leaf in leaves]
        self.domains = Domains([*parted.rules, *copies], parted.arities)
        self._early = Early(parted.early, closed)
        self._taken: dict[str, p.Table] = {}
        self._closed = {name: self._known(closed, name) for name in parted.given}
        for name, columns in self._closed.items():
            self._add(name, columns)
        self._first: p.Plan | None = None

    def _known(self, closed: Closed, name: str) -> Columns:
        """The columns of what is known beforehand of a predicate."""
        rows = list(closed.match(name)) if name in closed.predicates() else []
        if any(rule.head.predicate == name for rule in self.parted.early):
            return []
        if any(rule.head.predicate == name for rule in self.parted.rules):
            # It has rules besides, and what these conclude is for the plan to say.
            rows = [row for row in rows if closed.asserted(name, row)]
        if not self.parted.arities[name]:
            return [[1]] if rows else []
        return list(zip(*rows, strict=True))

    # -- facts ------------------------------------------------------------------------

    def meet(self, tables: Iterable[Table]) -> None:
        """Take in the terms of facts to come."""
        for table in tables:
            self._early.take(table)
            if table.predicate in self.parted.given:
                self._add(table.predicate, table.columns)

    def _add(self, name: str, columns: Columns) -> None:
        domains = self.domains.columns(name)
        if domains and columns:
            for domain, column in zip(domains, columns, strict=True):
                domain.add(set(column))

    def take(self, tables: Iterable[Table]) -> None:
        """Take in facts, whose terms were met before.

        Raises:
            Untranslatable: a rule cannot be evaluated on terms such as were met.
            EngineError: the database refused.
        """
        first, _, last = self._plans
        for table in tables:
            name = table.predicate
            given = first.given.get(name) or last.given.get(name)
            if given is not None:
                self._load(given, name, table.columns)
                self._taken.setdefault(given.name, given)

    @cached_property
    def _plans(self) -> tuple[p.Plan, p.Plan, p.Plan]:
        """The plans of all parts; what is known beforehand is there from then on."""
        parted, domains = self.parted, self.domains
        for name, columns in self._early.found():
            if name in parted.given:
                self._closed[name] = columns
                self._add(name, columns)
        domains.refuse()
        naming = Naming(self.tables, domains)
        roles = (*parted.roles, *parted.again)
        kept = {leaf.name for role in roles for leaf in role.leaves}
        given = parted.given | kept
        first = Planner(parted.rules, naming, parted.given, parted.first)
        made = first.made
        middle = Planner(parted.rules, naming, given - made, parted.middle)
        beyond = given - made - middle.made
        last = Planner(parted.rules, naming, beyond, parted.last)
        plans = first.plan(), middle.plan(), last.plan()
        for name in sorted(parted.given):
            table = plans[0 if name in made else 2].given[name]
            self.database.load(table, [])
            self._load(table, name, self._closed[name])
        return plans

    @cached_property
    def tables(self) -> Mapping[str, p.Table]:
        """The tables of all predicates."""
        return tables_of(self.domains, self.parted.arities)

    def _load(self, table: p.Table, name: str, columns: Columns) -> None:
        if len(columns):
            domains = self.domains.columns(name)
            self.database.append(table, load_columns(domains, [columns]))

    def finish(self, watch: Watch | None = None) -> None:
        """Bring the things together: work out the goals, once for those alike.

        Args:
            watch: called with how many things were judged, and of how many.

        Raises:
            Untranslatable: a rule cannot be evaluated on terms such as were met.
            EngineError: the database refused.
        """
        first, middle, last = self._plans
        database, parted, tables = self.database, self.parted, self.tables
        leaves = {leaf.predicate for role in parted.roles for leaf in role.leaves}
        needed = {table.name for table in last.given.values()}
        needed |= {tables[name].name for name in {*parted.goals} | leaves}
        needed |= _read(parted.rules, parted.second, tables)
        for given in self._taken.values():
            # What was known beforehand, or came in another portion, is told once.
            database.make_distinct(given)
        database.run(first, needed)
        turn = parted.turn
        in_turn = turn is not None and isinstance(database, Duck)
        for role in parted.roles:
            if role.places:
                database.make(map_name(role), alike_text(role, tables))
            if not (in_turn and turn is not None and role is turn[0]):
                self._keep(role)
        if turn is not None and isinstance(database, Duck):
            read = {a.predicate for at in parted.last for a in _atoms(parted, at)}
            whole = {tables[n].name for n in read & {*_made(parted, parted.middle)}}
            Portions(database, middle, *turn, tables, whole, needed).run(watch)
        elif turn is not None:
            after = {leaf.predicate for role in parted.again for leaf in role.leaves}
            wanted = {tables[name].name for name in after} | needed
            database.run(middle, wanted)
        for role in parted.again:
            if not (in_turn and turn is not None and role is turn[1]):
                if role.places:
                    database.make(map_name(role), alike_text(role, tables))
                self._keep(role)
            if role.places:
                text = composed_text(role, self._before(role))
                database.make(whole_name(role), text)
        database.run(last, {tables[name].name for name in parted.goals})

    def _keep(self, role: Role) -> None:
        """Keep what is so of the things that stand for others in a role."""
        for leaf in role.leaves:
            text = kept_text(role, leaf, self.tables)
            self.database.make(self.tables[leaf.name].name, text)

    def _before(self, role: Role) -> Role | None:
        """The role that a role of stand-ins was before these were put together."""
        places = {*role.places}
        return next(
            (r for r in self.parted.roles if not places.isdisjoint(r.places)), None
        )

    @property
    def _standing(self) -> Mapping[Role, str]:
        """The roles in which things stand for others in goals, each with its table."""
        parted = self.parted
        if parted.turn is None:
            return {role: map_name(role) for role in parted.roles if role.places}
        return {role: whole_name(role) for role in parted.again if role.places}

    # -- what follows -----------------------------------------------------------------

    def view(self, goal: str) -> str:
        """A selection of all facts of a goal, of every thing."""
        return expanded_text(goal, self._standing, self.tables)

    def alike(self, goal: str, place: int) -> str:
        """A selection of what is alike: each thing, its partner, and its stand-in.

        The partner is null where things are alike whole; what stands for itself alone
        is left out.
        """
        for role, table in self._standing.items():
            for name, at, _ in role.places:
                if (name, at) == (goal, place):
                    partner = "partner" if role.paired else "NULL"
                    return f"SELECT thing, {partner} AS partner, stands FROM {table}"
        return "SELECT 0 AS thing, NULL AS partner, 0 AS stands WHERE 1 = 0"

    def bring(self, database: Duck) -> None:
        """Take what follows over into another database, to be looked at there."""
        here, tables = self.database, self.tables
        brought = [tables[name] for name in self.parted.goals]
        brought += [
            p.Table(table, ("thing", *("partner",) * role.paired, "stands"))
            for role, table in self._standing.items()
        ]
        for table in brought:
            rows = list(here.rows(table))
            database.load(table, list(zip(*rows, strict=True)))
        self.database = database

    def texts(
        self, name: str, column: tuple[str, int], say: Callable[[Term], str]
    ) -> None:
        """Make a table of the terms that a column may hold, in words, by number."""
        pairs = list(self.domains.column(*column).single())
        codes = [code for code, _ in pairs]
        words = [say(term) for _, term in pairs]
        assert isinstance(self.database, Duck), "what follows was brought there"
        self.database.columns(name, {"code": codes, "text": words})

    def judged(self, goal: str) -> int:
        """How many facts of a goal were worked out."""
        return self.database.count(self.tables[goal])

    def match(self, goal: str) -> Iterator[tuple[Term, ...]]:
        """The facts of a goal, of every thing, in no particular order."""
        decode = Decoder(self.domains.columns(goal))
        return map(decode, self.database.select(self.view(goal)))


class Early:
    """What the reasoner works out from given facts, before they go to a database.

    Args:
        rules: the rules that it works with.
        closed: the model of what is known beforehand.
    """

    def __init__(self, rules: Sequence[Rule], closed: Closed) -> None:
        self._rules, self._closed = tuple(rules), closed
        made = {rule.head.predicate for rule in rules}
        looked_at = {a.predicate for rule in rules for a in body_atoms(rule.body)}
        self._inputs = looked_at | made
        self._made = made
        self._tables: list[Table] = []

    def take(self, table: Table) -> None:
        """Take in facts that come in bulk, if they bear on it."""
        if table.predicate in self._inputs:
            self._tables.append(table)

    def found(self) -> Iterator[tuple[str, Columns]]:
        """The columns of every predicate that its rules conclude."""
        if not self._rules:
            return
        known = self._closed.predicates()
        tables = list(self._tables)
        for name in sorted(self._inputs.intersection(known)):
            rows = self._closed.match(name)
            if name in self._made:
                rows = (row for row in rows if self._closed.asserted(name, row))
            columns = list(zip(*rows, strict=True))
            tables += [Table(name, columns)] if columns else []
        program = Program(self._rules, (), (), components(self._rules))
        model = evaluate(program, (), tables)
        for name in sorted(self._made):
            columns = list(zip(*model.match(name), strict=True))
            if columns:
                yield name, columns


def _copy(leaf: Leaf, arities: Mapping[str, int]) -> Rule:
    args = tuple(Variable(f"x{at}") for at in range(arities[leaf.predicate]))
    body = (Atom(leaf.predicate, args),)
    return Rule(leaf.name, Atom(leaf.name, args), body, "", (), "", False, NO_PLACE)


def _read(
    rules: Sequence[Rule], part: Iterable[int], tables: Mapping[str, p.Table]
) -> set[str]:
    """The tables that some rules look at."""
    return {tables[a.predicate].name for at in part for a in body_atoms(rules[at].body)}


def _atoms(parted: Parted, at: int) -> Iterator[Atom]:
    return body_atoms(parted.rules[at].body)


def _made(parted: Parted, part: Iterable[int]) -> Iterator[str]:
    """The predicates that some rules conclude."""
    return (parted.rules[at].head.predicate for at in part)
