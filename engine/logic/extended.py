"""A model that begins with what another has worked out.

Many questions are asked of one base. What follows from the base alone is worked out
once, in a *common* model, and may be kept on disk; a model of one question extends it.
Predicates in which the facts of the question make no difference are those of the common
model; the others are evaluated as usual. The answers are those that `evaluate` gives.
"""

from __future__ import annotations

import marshal
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from functools import cached_property
from typing import Any, TypeAlias

from abluent.engine.errors import EngineError
from abluent.engine.logic._assertions import Assertions
from abluent.engine.logic._bits import Row
from abluent.engine.logic._evaluate import uncollected
from abluent.engine.logic._relation import Relation
from abluent.engine.logic._revise import Change, Edits, Revision
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.strata import Component
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.logic.terms import Term

Find: TypeAlias = Callable[[str, tuple[Term, ...]], tuple[Fact, ...]]
"""From a predicate and terms to their assertions, in the order given."""
_LARGE = 200
"""A common component of so many rows is changed and not evaluated anew."""


class CommonModel(Model):
    """The model of facts that many questions share; it can be kept as plain data.

    Args:
        program: the rules; every fact is of a predicate that they name.
        facts: makes the facts; it is called when they are first needed.
        find: finds the assertions of one fact without making all.
    """

    def __init__(
        self, program: Program, facts: Callable[[], Iterable[Fact]], find: Find
    ) -> None:
        super().__init__(program, ())
        self._make_facts = facts
        self._find = find
        self._rows_of: dict[str, set[Row]] = {}
        self._dumped = 0
        self._packed: dict[str, bytes] = {}
        self.recalled = False

    @property
    def has_grown(self) -> bool:
        """Whether more is worked out than when it was last dumped or recalled."""
        return len(self._relations.keys() | self._packed.keys()) > self._dumped

    def asserted_rows(self, predicate: str) -> set[Row]:
        """The asserted rows of a predicate; not to be changed."""
        if not self.recalled and predicate not in self._rows_of:
            symbols = self.symbols(predicate)
            self._rows_of[predicate] = self.asserted_facts.rows(predicate, symbols)
        return self._rows_of.get(predicate, set())

    @cached_property
    def asserted_facts(self) -> Assertions:
        """All that is asserted, as facts."""
        return Assertions(self._make_facts())

    def asserted(self, predicate: str, args: Sequence[Term]) -> tuple[Fact, ...]:
        return self._find(predicate, tuple(args))

    def asserted_predicates(self) -> Iterable[str]:
        """Every predicate of which something is asserted."""
        if self.recalled:
            return self._rows_of
        return self.asserted_facts.predicates()

    def predicates(self) -> tuple[str, ...]:
        return tuple(
            dict.fromkeys([*self.program.arities, *self.asserted_predicates()])
        )

    def relation(self, predicate: str) -> Relation:
        """The finished relation of a predicate, unpacked when it is first needed."""
        packed = self._packed.pop(predicate, None)
        if packed is not None:
            rows = set(marshal.loads(packed))
            self._relations[predicate] = Relation(len(self.symbols(predicate)), rows)
        return super().relation(predicate)

    def revise(self, added: Iterable[Fact] = (), removed: Iterable[Fact] = ()) -> Model:
        for name in [*self._packed]:
            self.relation(name)
        self._assertions = self.asserted_facts
        return super().revise(added, removed)

    def _base(self, predicate: str) -> Relation:
        rows = self.asserted_rows(predicate)
        return Relation(len(self.symbols(predicate)), set(rows))

    # -- as plain data ----------------------------------------------------------------

    def dump(self) -> Any:
        """All that is asserted and worked out, as tuples, texts and numbers."""
        for name in [*self._packed]:
            self.relation(name)
        self._dumped = len(self._relations)
        asserted = {name: [*self.asserted_rows(name)] for name in self.predicates()}
        finished = {
            name: marshal.dumps([*rows]) for name, rows in self._relations.items()
        }
        terms = {
            sort: [to_plain(term) for term in table.terms]
            for sort, table in self._tables.items()
        }
        return asserted, finished, terms

    def undump(self, plain: Any) -> None:
        """Take in what `dump` returned for the same program and facts.

        Nothing may have been worked out before.
        """
        asserted, finished, terms = plain
        self._packed = dict(finished)
        for sort, kept in terms.items():
            table = self._tables[sort] = Symbols()
            table.terms += map(from_plain, kept)
            table.update(zip(table.terms, range(len(kept)), strict=True))
        self._rows_of = {name: set(rows) for name, rows in asserted.items() if rows}
        self.recalled = True
        self._dumped = len(self._packed)


class ExtendedModel(Model):
    """The model of a common model's facts and of some more.

    Args:
        common: the common model; it works out what this one asks of it.
        facts: the further facts.
    """

    def __init__(self, common: CommonModel, facts: Iterable[Fact]) -> None:
        super().__init__(common.program, facts)
        self._common = common
        self._own = self._assertions.predicates().keys()
        self._tables = common._tables
        self._same: set[str] = set()
        self._shares: dict[str, bool] = {}

    def predicates(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys([*self._common.predicates(), *self._own]))

    def asserted(self, predicate: str, args: Sequence[Term]) -> tuple[Fact, ...]:
        shared = self._common.asserted(predicate, args)
        return shared + super().asserted(predicate, args)

    def revise(self, added: Iterable[Fact] = (), removed: Iterable[Fact] = ()) -> Model:
        return self._plain.revise(added, removed)

    @cached_property
    def _plain(self) -> Model:
        """This model with all its facts in one place, as revising needs them."""
        made = Model(self.program, ())
        made._assertions = self._common.asserted_facts.revised(self._assertions, ())
        made._relations, made._rounds = self._relations, self._rounds
        made._tables, made._columns = self._tables, self._columns
        return made

    def _base(self, predicate: str) -> Relation:
        symbols = self.symbols(predicate)
        rows = self._common.asserted_rows(predicate)
        own = self._assertions.rows(predicate, symbols)
        return Relation(len(symbols), rows | own)

    def relation(self, predicate: str) -> Relation:
        """The relation of a predicate; the common one where no own fact bears on it."""
        if predicate not in self._relations and self._is_common(predicate):
            self._take_over([predicate])
        return super().relation(predicate)

    def shares(self, predicate: str) -> bool:
        """Whether a predicate, and all it is made from, is as in the common model."""
        if predicate not in self._shares:
            self.relation(predicate)
            same = predicate in self._same and self._is_common(predicate)
            self._shares[predicate] = same
        return self._shares[predicate]

    def _take_over(self, predicates: Iterable[str]) -> bool:
        """Take predicates over from the common model, if that can evaluate them."""
        with suppress(EngineError):
            found = {name: self._common.relation(name) for name in predicates}
            self._relations |= found
            self._same.update(found)
            return True
        return False

    def _is_common(self, predicate: str) -> bool:
        """Whether nothing that a predicate is made from is among the own facts."""
        position = self.program.component_of.get(predicate)
        if position is None:
            return predicate not in self._own
        return self._own.isdisjoint(self.program.reach(position))

    def _finish(self, predicate: str) -> None:
        # What is common need not be walked through: `relation` takes it over.
        program = self.program
        last = program.component_of.get(predicate)
        if last is None:
            super()._finish(predicate)
            return
        wanted, cone = {predicate}, []
        for position in range(last, -1, -1):
            part = program.components[position]
            if wanted.isdisjoint(part.predicates):
                continue
            if part.predicates[0] in self._relations:
                continue
            common = part.rules and self._own.isdisjoint(program.reach(position))
            if common and self._take_over(part.predicates):
                continue
            cone.append(part)
            wanted |= program.looked_at[position]
        with uncollected():
            for part in reversed(cone):
                self._evaluate(part)

    def _evaluate(self, part: Component) -> None:
        program = self.program
        looked_at = program.looked_at[program.component_of[part.predicates[0]]]
        differing = looked_at.difference(self._same, part.predicates)
        if not differing and self._own.isdisjoint(part.predicates):
            if self._share(part):
                return
        elif part.rules and self._is_large(part):
            self._grow(part, differing)
            return
        super()._evaluate(part)
        if self._own.isdisjoint(part.predicates):
            self._compare(part)

    def _is_large(self, part: Component) -> bool:
        """Whether the common component holds so much that it is better changed."""
        with suppress(EngineError):
            rows = sum(len(self._common.relation(name)) for name in part.predicates)
            return rows >= _LARGE
        return False

    def _grow(self, part: Component, differing: Iterable[str]) -> None:
        """Make a component from the common one, by what it is made from."""
        rules = [self.program.rules[number] for number in part.rules]
        changes = {name: self._change(name) for name in differing}
        changes = {name: change for name, change in changes.items() if change.size()}
        added = {
            name: self._assertions.rows(name, self.symbols(name))
            for name in part.predicates
        }
        edits = Edits(added, {}, self._among, self._base)
        revision = Revision(part.predicates, rules, self._common, self, changes, edits)
        relations, changed = revision.run()
        if any(change.size() for change in changed.values()):
            self._relations |= relations
        else:
            self._share(part)

    def _change(self, name: str) -> Change:
        """How a finished predicate differs from the common one."""
        mine, theirs = self.relation(name), self._common.relation(name)
        return Change(theirs.minus(mine), mine.minus(theirs))

    def _among(self, predicate: str, rows: set[Row]) -> set[Row]:
        own = self._assertions.rows(predicate, self.symbols(predicate))
        return rows & (self._common.asserted_rows(predicate) | own)

    def _share(self, part: Component) -> bool:
        """Take a component over from the common model, if that can evaluate it."""
        return self._take_over(part.predicates)

    def _compare(self, part: Component) -> None:
        """Share a component that came out as in the common model all the same."""
        with suppress(EngineError):
            for name in part.predicates:
                mine, theirs = self._relations[name], self._common.relation(name)
                if len(mine) != len(theirs) or len(mine.minus(theirs)):
                    return
            self._share(part)
