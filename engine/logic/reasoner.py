"""The reasoner: every fact that follows from a program and a base.

Predicates are finished component by component, each after those it depends on, so
a negated condition always looks at a finished predicate and the answer is the one
perfect model. Inside a component evaluation is semi-naive: a round joins only
what the last round added. Nothing is recursive in Python, so depth is no limit.

A component is evaluated when its first predicate is asked for; a question about
one product does not pay for predicates it never reaches.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from contextlib import suppress

from abluent.engine.errors import EngineError, FactError
from abluent.engine.logic._assertions import Assertions
from abluent.engine.logic._bits import Row
from abluent.engine.logic._evaluate import finish, uncollected
from abluent.engine.logic._relation import Relation
from abluent.engine.logic._revise import Change, Edits, Overlaid, Revision
from abluent.engine.logic.clauses import body_atoms
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import Program
from abluent.engine.logic.strata import Component
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.terms import Term


class Model:
    """All facts of a program and a base, asserted and inferred.

    Made by `evaluate`. Terms go in and come out as values; the numbers that stand
    for them inside are nobody else's business.
    """

    def __init__(
        self, program: Program, facts: Iterable[Fact], tables: Iterable[Table] = ()
    ) -> None:
        self.program = program
        self.recipes = program.recipes
        self._assertions = Assertions(facts, tables)
        # Kept for the modules that read instances off a finished model.
        self.readers: dict[Hashable, object] = {}
        self._relations: dict[str, Relation] = {}
        self._stages: dict[str, dict[Row, int]] = {}
        self._rounds: dict[str, list[Relation]] = {}
        self._tables: dict[int, Symbols] = {}
        self._columns: dict[str, tuple[Symbols, ...]] = {}

    # -- questions ----------------------------------------------------------------

    def predicates(self) -> tuple[str, ...]:
        """Every predicate that is asserted, declared or named by a rule."""
        asserted = self._assertions.predicates()
        return tuple(dict.fromkeys([*self.program.arities, *asserted]))

    def count(self, predicate: str) -> int:
        """How many facts of a predicate hold."""
        return len(self.relation(predicate))

    def holds(self, predicate: str, args: Sequence[Term]) -> bool:
        """Whether a fact holds, asserted or inferred."""
        row = self._row(predicate, args)
        return row is not None and row in self.relation(predicate)

    def match(
        self, predicate: str, pattern: Sequence[Term | None] | None = None
    ) -> Iterator[tuple[Term, ...]]:
        """The facts that agree with a pattern, in no particular order.

        Args:
            predicate: the predicate.
            pattern: one term per place, `None` where any will do; all facts if left
                out.

        Raises:
            FactError: the pattern has another number of places than the predicate.
        """
        relation = self.relation(predicate)
        columns = [table.terms for table in self.symbols(predicate)]
        if pattern is None:
            return relation.decoded(columns)
        rows = self._rows(predicate, relation, pattern)
        if len(columns) == 1:
            (only,) = columns
            return iter([(only[number],) for (number,) in rows])
        getters = [terms.__getitem__ for terms in columns]
        return (
            tuple([get(n) for get, n in zip(getters, row, strict=True)]) for row in rows
        )

    def asserted(self, predicate: str, args: Sequence[Term]) -> tuple[Fact, ...]:
        """The assertions of a fact, each with its basis, in the order given.

        Empty for a fact that is only inferred, or does not hold.
        """
        return self._assertions.find(predicate, tuple(args))

    def shares(self, predicate: str) -> bool:
        """Whether another model, which this one begins with, says all about it."""
        return False

    def stage(self, predicate: str, args: Sequence[Term]) -> int | None:
        """The round of its component in which a fact was found; `None` if it fails.

        An asserted fact has stage 0. An inferred fact has a rule instance whose
        premises of the same component all have smaller stages.
        """
        row = self._row(predicate, args)
        if row is None or row not in self.relation(predicate):
            return None
        stages = self._stages.get(predicate)
        if stages is None:
            stages = self._stages[predicate] = self._read_stages(predicate)
        return stages.get(row, 1)

    def _read_stages(self, predicate: str) -> dict[Row, int]:
        if predicate not in self._rounds:
            self._rounds |= self._replay(predicate)
        rounds = self._rounds[predicate]
        return {row: number for number, rows in enumerate(rounds) for row in rows}

    def _replay(self, predicate: str) -> dict[str, list[Relation]]:
        """The rounds of a component that was finished in another way."""
        position = self.program.component_of.get(predicate)
        part = None if position is None else self.program.components[position]
        if part is None or not part.recursive:
            return {predicate: [self._base(predicate)]}
        fresh = {name: self._base(name) for name in part.predicates}
        rules = [self.program.rules[number] for number in part.rules]
        return finish(rules, part.predicates, fresh, Overlaid(self, fresh))

    # -- other facts -----------------------------------------------------------------

    def revise(self, added: Iterable[Fact] = (), removed: Iterable[Fact] = ()) -> Model:
        """The model of the same program over other facts.

        It is what `evaluate` would make of them. What this model has worked out
        already is kept where the change does not reach, and changed where it does.

        Args:
            added: facts that are asserted besides.
            removed: assertions that are taken back, each with its basis; `asserted`
                tells what they are. Other assertions of the same fact stay.
        """
        added, removed = list(added), list(removed)
        made = Model(self.program, ())
        made._assertions = self._assertions.revised(added, removed)
        made._tables, sorts = self._tables, self.program.sorts
        made._columns = {n: c for n, c in self._columns.items() if n in sorts}
        changes: dict[str, Change] = {}
        for part in self.program.components:
            if all(name in self._relations for name in part.predicates):
                # A component that cannot be changed is left to be worked out, and
                # to say what is wrong, when it is asked for.
                with suppress(EngineError):
                    made._adopt(self, part, changes, (added, removed))
        return made

    def _adopt(
        self,
        old: Model,
        part: Component,
        changes: dict[str, Change],
        edits: tuple[list[Fact], list[Fact]],
    ) -> None:
        """Take over a component of another model, as far as it still holds."""
        rules = [self.program.rules[number] for number in part.rules]
        looked_at = {atom.predicate for rule in rules for atom in body_atoms(rule.body)}
        if not looked_at <= self._relations.keys() | set(part.predicates):
            return
        added, removed = (self._edited(part, facts) for facts in edits)
        if not (added or removed or looked_at & changes.keys()):
            self._relations |= {n: old._relations[n] for n in part.predicates}
            kept = old._rounds.keys() & set(part.predicates)
            self._rounds |= {name: old._rounds[name] for name in kept}
            return
        asserted = Edits(added, removed, self._among, self._base)
        revision = Revision(part.predicates, rules, old, self, changes, asserted)
        relations, changed = revision.run()
        self._relations |= relations
        changes |= {name: each for name, each in changed.items() if each.size()}

    def _edited(self, part: Component, facts: list[Fact]) -> dict[str, set[Row]]:
        """The rows of some facts of a component, by predicate."""
        touched = {fact.predicate for fact in facts}.intersection(part.predicates)
        given = Assertions(fact for fact in facts if fact.predicate in touched)
        return {name: given.rows(name, self.symbols(name)) for name in touched}

    def _among(self, predicate: str, rows: set[Row]) -> set[Row]:
        """Those of some rows that are asserted."""
        if not rows:
            return rows
        columns = [table.terms for table in self.symbols(predicate)]
        terms = {
            tuple([c[number] for c, number in zip(columns, row, strict=True)]): row
            for row in rows
        }
        found = self._assertions.among(predicate, set(terms))
        return {terms[each] for each in found}

    # -- what plans read ------------------------------------------------------------

    def relation(self, predicate: str) -> Relation:
        """The finished relation of a predicate; evaluates what it depends on."""
        known = self._relations.get(predicate)
        if known is None:
            self._finish(predicate)
            known = self._relations[predicate]
        return known

    def symbols(self, predicate: str) -> tuple[Symbols, ...]:
        """The symbol table of every column of a predicate."""
        known = self._columns.get(predicate)
        if known is None:
            known = self._columns[predicate] = self._make_columns(predicate)
        return known

    def _make_columns(self, predicate: str) -> tuple[Symbols, ...]:
        sorts = self.program.sorts.get(predicate)
        if sorts is None:
            arity = self._assertions.arity(predicate)
            return tuple(Symbols() for _ in range(arity))
        return tuple(self._tables.setdefault(sort, Symbols()) for sort in sorts)

    # -- evaluation -----------------------------------------------------------------

    def _finish(self, predicate: str) -> None:
        """Evaluate the component of a predicate, and first those it needs."""
        program = self.program
        if predicate not in program.component_of:
            self._relations[predicate] = self._base(predicate)
            return
        last = program.component_of[predicate]
        wanted = {predicate}
        # Components stand in order, so one walk backwards finds the whole cone.
        cone = []
        for position in range(last, -1, -1):
            part = program.components[position]
            if wanted.isdisjoint(part.predicates):
                continue
            if part.predicates[0] in self._relations:
                continue
            cone.append(part)
            wanted |= program.looked_at[position]
        with uncollected():
            for part in reversed(cone):
                self._evaluate(part)

    def _evaluate(self, part: Component) -> None:
        rules = [self.program.rules[number] for number in part.rules]
        try:
            for name in part.predicates:
                self._relations[name] = self._base(name)
            self._rounds |= finish(rules, part.predicates, self._relations, self)
        except EngineError:
            # What is unfinished must not be taken for an answer later.
            for name in part.predicates:
                self._relations.pop(name, None)
            raise

    def _base(self, predicate: str) -> Relation:
        """The asserted rows of a predicate."""
        symbols = self.symbols(predicate)
        return Relation(len(symbols), self._assertions.rows(predicate, symbols))

    # -- rows -------------------------------------------------------------------------

    def _row(self, predicate: str, args: Sequence[Term]) -> Row | None:
        """The row of a fact, or `None` if one of its terms is unknown."""
        self.relation(predicate)
        columns = self.symbols(predicate)
        if len(columns) != len(args):
            return None
        numbers = [table.get(term) for table, term in zip(columns, args, strict=True)]
        if None in numbers:
            return None
        return tuple(number for number in numbers if number is not None)

    def _rows(
        self,
        predicate: str,
        relation: Relation,
        pattern: Sequence[Term | None],
    ) -> Iterable[Row]:
        columns = self.symbols(predicate)
        if len(pattern) != len(columns):
            if not len(relation):
                return ()
            raise FactError(
                f"`{predicate}` has {len(columns)} terms, and a pattern of "
                f"{len(pattern)} was asked for"
            )
        keys = tuple(i for i, term in enumerate(pattern) if term is not None)
        numbers: list[int] = []
        for place in keys:
            term = pattern[place]
            number = columns[place].get(term) if term is not None else None
            if number is None:
                return ()
            numbers.append(number)
        return relation.find(keys, numbers[0] if len(keys) == 1 else tuple(numbers))


def evaluate(
    program: Program, facts: Iterable[Fact], tables: Iterable[Table] = ()
) -> Model:
    """The model of a program over a base of facts.

    Args:
        program: the rules.
        facts: assertions, each with its basis.
        tables: assertions in bulk.

    Raises:
        FactError: a fact has another number of terms than the rules expect; this and
            an `EvaluationError` come when a predicate is first asked for.
    """
    return Model(program, facts, tables)
