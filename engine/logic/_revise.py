"""Changing a finished component to what it would be under other facts.

What a changed fact cannot have touched stays. The rows that may fall are those with
a rule instance that used a row now gone, or the absence of a row now there; each is
taken away unless another instance, or an assertion, still gives it. The rows that may
come are found by the same rules from what is new. In a component that depends on
itself everything that may fall is taken away first and what can be given back is
given back, so that rows cannot keep each other alive (delete and rederive). Where
very much may change, the component is simply evaluated anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.logic._bits import Row
from abluent.engine.logic._evaluate import ComponentRun, finish
from abluent.engine.logic._layout import atom_of
from abluent.engine.logic._plan import Question
from abluent.engine.logic._planner import make_plan
from abluent.engine.logic._recipe import PlanSource
from abluent.engine.logic._relation import Found, Relation
from abluent.engine.logic.clauses import (
    Absence,
    Anything,
    Atom,
    Collection,
    Literal,
    Rule,
    Variable,
    body_atoms,
)
from abluent.engine.logic.symbols import Symbols

# A component is made anew when more rows than this may have changed.
_MANY = 10_000


class Change(NamedTuple):
    """The rows of a predicate that are gone, and those that are new."""

    gone: Relation
    new: Relation

    def size(self) -> int:
        """How many rows changed."""
        return len(self.gone) + len(self.new)


class Edits(NamedTuple):
    """What is asserted otherwise, by predicate.

    Args:
        added: rows that some new assertion gives.
        removed: rows of which some assertion is gone.
        among: a function from a predicate and some of its rows to those of them that
            are asserted now.
        all_of: a function from a predicate to a relation of all that is asserted.
    """

    added: Mapping[str, set[Row]]
    removed: Mapping[str, set[Row]]
    among: Callable[[str, set[Row]], set[Row]]
    all_of: Callable[[str], Relation]


class Revision:
    """One component before and after.

    Args:
        part: its predicates.
        rules: the rules that conclude them.
        before: where the finished relations of the old model are.
        after: where those of the new model are.
        changes: what changed in the predicates the rules look at.
        edits: what is asserted otherwise.
    """

    def __init__(  # noqa: PLR0913, PLR0917 - two models and what parts them
        self,
        names: tuple[str, ...],
        rules: list[Rule],
        before: PlanSource,
        after: PlanSource,
        changes: Mapping[str, Change],
        edits: Edits,
    ) -> None:
        self._names = names
        self._rules = rules
        self._before = before
        self._old = {name: before.relation(name) for name in names}
        self._new = {name: each.copy() for name, each in self._old.items()}
        self._after = Overlaid(after, self._new)
        self._changes = changes
        self._edits = edits

    def run(self) -> tuple[dict[str, Relation], dict[str, Change]]:
        """The new relations, and what changed in them."""
        looked_at = {atom.predicate for r in self._rules for atom in body_atoms(r.body)}
        known = [self._changes[name] for name in looked_at if name in self._changes]
        if sum(change.size() for change in known) > _MANY:
            return self._anew()
        doubtful = self._doubtful()
        if doubtful is None:
            return self._anew()
        for name, rows in doubtful.items():
            self._new[name].remove(rows)
        found = {name: self._asserted(name, doubtful[name]) for name in self._names}
        for rule in self._rules:
            name = rule.head.predicate
            found[name].append(self._given_back(rule, doubtful[name]))
            found[name] += self._from_new(rule)
        run = ComponentRun(self._rules, self._names, self._new, self._after)
        added = run.resume(found)
        return self._new, {
            name: Change(
                doubtful[name].minus(self._new[name]), added[name].minus(doubtful[name])
            )
            for name in self._names
        }

    def _anew(self) -> tuple[dict[str, Relation], dict[str, Change]]:
        """The component evaluated from its assertions."""
        self._new |= {name: self._edits.all_of(name) for name in self._names}
        finish(self._rules, self._names, self._new, self._after)
        return self._new, {
            name: Change(old.minus(self._new[name]), self._new[name].minus(old))
            for name, old in self._old.items()
        }

    def _asserted(self, name: str, doubtful: Relation) -> list[Found]:
        """The rows that assertions give, as far as they may be missing."""
        kept = self._edits.among(name, set(doubtful))
        return [list(kept), list(self._edits.added.get(name, ()))]

    # -- what may fall ----------------------------------------------------------------

    def _doubtful(self) -> dict[str, Relation] | None:
        """Every row with an instance that no longer stands, in any number of steps.

        `None` if they are too many to be looked at one by one.
        """
        doubtful = {name: Relation(each.arity) for name, each in self._old.items()}
        found: dict[str, list[Found]] = {
            name: [list(self._edits.removed.get(name, ()))] for name in self._names
        }
        for rule in self._rules:
            found[rule.head.predicate] += self._from_lost(rule)
        while any(found.values()):
            fresh = {}
            for name, rows in found.items():
                fresh[name] = self._standing(name, rows).minus(doubtful[name])
                doubtful[name].merge([fresh[name].found()])
            if sum(map(len, doubtful.values())) > _MANY:
                return None
            found = self._next_doubts(fresh)
        return doubtful

    def _standing(self, name: str, findings: list[Found]) -> Relation:
        """Those of some rows that the old model has."""
        rows = Relation(self._old[name].arity)
        rows.merge(findings)
        return rows.minus(rows.minus(self._old[name]))

    def _next_doubts(self, fresh: Mapping[str, Relation]) -> dict[str, list[Found]]:
        found: dict[str, list[Found]] = {name: [] for name in self._names}
        for rule in self._rules:
            for place, literal in enumerate(rule.body):
                if isinstance(literal, Atom) and len(fresh.get(literal.predicate, ())):
                    rows = fresh[literal.predicate]
                    heads = self._heads(rule, rule.body, place, rows, self._before)
                    found[rule.head.predicate].append(heads)
        return {name: rows for name, rows in found.items() if rows}

    def _from_lost(self, rule: Rule) -> Iterator[Found]:
        """The heads of old instances that used what is gone, or lacked what is new."""
        if self._collects_changes(rule):
            yield self._all_heads(rule, self._before)
            return
        for place, literal, change in self._touched(rule):
            rows = change.gone if isinstance(literal, Atom) else change.new
            body = _required_at(rule.body, place)
            yield self._heads(rule, body, place, rows, self._before)

    # -- what may come ----------------------------------------------------------------

    def _given_back(self, rule: Rule, rows: Relation) -> Found:
        """Those of some heads that the rule still derives."""
        head = rule.head
        names = tuple(
            dict.fromkeys(each.name for each in head.args if isinstance(each, Variable))
        )
        symbols = tuple(self._after.symbols(head.predicate))
        starts = []
        for row in rows:
            binding = _bound(head, row, symbols)
            if binding is not None:
                starts.append(tuple([binding[name] for name in names]))
        key = self._after.recipes.key(rule, "back", *names)
        question = Question(rule.id, rule.body, names, head.args, symbols, key=key)
        return make_plan(question, self._after).run(starts) if starts else []

    def _from_new(self, rule: Rule) -> Iterator[Found]:
        """The heads of new instances that use what is new, or lack what is gone."""
        if self._collects_changes(rule):
            yield self._all_heads(rule, self._after)
            return
        for place, literal, change in self._touched(rule):
            rows = change.new if isinstance(literal, Atom) else change.gone
            body = _required_at(rule.body, place)
            if isinstance(literal, Absence):
                body = (*body, literal)
            yield self._heads(rule, body, place, rows, self._after)

    # -- instances -------------------------------------------------------------------

    def _touched(self, rule: Rule) -> Iterator[tuple[int, Literal, Change]]:
        """The conditions of a rule that look at a predicate that changed."""
        for place, literal in enumerate(rule.body):
            if isinstance(literal, Atom | Absence):
                change = self._changes.get(atom_of(literal).predicate)
                if change is not None:
                    yield place, literal, change

    def _collects_changes(self, rule: Rule) -> bool:
        """Whether a collection of a rule looks at a predicate that changed."""
        return any(
            atom.predicate in self._changes
            for literal in rule.body
            if isinstance(literal, Collection)
            for atom in body_atoms(literal.body)
        )

    def _heads(
        self,
        rule: Rule,
        body: tuple[Literal, ...],
        place: int,
        rows: Relation,
        source: PlanSource,
    ) -> Found:
        """The heads of the instances whose condition at a place meets some rows."""
        if not len(rows):
            return []
        # What is required at the place, and what is added, follows from these two.
        key = source.recipes.key(rule, "change", place, len(body))
        question = self._question(rule, source)
        question = question._replace(body=body, first=place, delta=rows, key=key)
        return make_plan(question, source).run([()])

    def _all_heads(self, rule: Rule, source: PlanSource) -> Found:
        return make_plan(self._question(rule, source), source).run([()])

    @staticmethod
    def _question(rule: Rule, source: PlanSource) -> Question:
        head = rule.head
        symbols = tuple(source.symbols(head.predicate))
        masks = 0 < len(head.args) <= 2
        return Question(rule.id, rule.body, (), head.args, symbols, masks)


class Overlaid:
    """A source with other relations for some predicates."""

    def __init__(self, source: PlanSource, relations: Mapping[str, Relation]) -> None:
        self._source = source
        self._relations = relations
        self.symbols = source.symbols
        self.recipes = source.recipes

    def relation(self, predicate: str) -> Relation:
        """The relation put in, or else the source's."""
        found = self._relations.get(predicate)
        return self._source.relation(predicate) if found is None else found


def _bound(head: Atom, row: Row, symbols: Sequence[Symbols]) -> dict[str, int] | None:
    """The variables of a head for one of its rows; `None` if it cannot give that."""
    binding: dict[str, int] = {}
    for argument, number, table in zip(head.args, row, symbols, strict=True):
        if isinstance(argument, Variable):
            if binding.setdefault(argument.name, number) != number:
                return None
        elif not isinstance(argument, Anything) and table[argument] != number:
            return None
    return binding


def _required_at(body: tuple[Literal, ...], place: int) -> tuple[Literal, ...]:
    """A body in which the condition at a place is required, even if it was denied."""
    literal = body[place]
    if isinstance(literal, Absence):
        return (*body[:place], literal.atom, *body[place + 1 :])
    return body
