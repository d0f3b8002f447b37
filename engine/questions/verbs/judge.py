"""Whether a thing is as a question says: three-valued, with the rows that say so.

A `Judge` looks at many things at once, because the verdicts on twenty washes come
from one case. True and False are concluded; None is where the evidence leaves it
open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any, TypeAlias

from abluent.engine.base.conditions import ConditionError, stated
from abluent.engine.base.contract import ISA, LISTED
from abluent.engine.base.kinds import telling
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    INGREDIENT,
    PRODUCT,
    Item,
    Member,
    NotMember,
)
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.contents import Weighing
from abluent.engine.questions.verbs.contrasts import Contrasts
from abluent.engine.questions.verbs.hidden import Hiding
from abluent.engine.questions.verbs.judgement import (
    Judged,
    Judgements,
    Unanswerable,
    all_of,
    any_of,
    enough,
    negated,
)
from abluent.engine.questions.verbs.mildness import Mildness
from abluent.engine.questions.verbs.places import Places
from abluent.engine.questions.verbs.removal import Clearing, is_no_wash
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.nouns import Noun, Nouns, UnknownName
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified

_Way: TypeAlias = Callable[[Sequence[Item], Any], Judgements]


class Judge:
    """Judges things of one world by the predicates of the query language."""

    def __init__(self, nouns: Nouns, last: Sequence[Item] = ()) -> None:
        self.nouns = nouns
        self.world = nouns.world
        self.last = tuple(last)
        self.clearing = Clearing(self)

    # -- terms --------------------------------------------------------------------

    def items(self, term: q.Term, place: str) -> list[Item]:
        """The things a term stands for; `place` is `product` or `ingredient`.

        Raises:
            UnknownName: a name stands for nothing.
        """
        if isinstance(term, q.Name):
            return list(self.noun(term, place).items)
        if isinstance(term, q.Quantified):
            return self.items(term.term, place)
        if isinstance(term, q.Those | q.Such | q.Except | q.And | q.Or):
            return self._composed(term, place)
        products = isinstance(term, q.Shelf) or place == PRODUCT
        nouns = self.nouns
        return list(nouns.all_products if products else nouns.all_ingredients)

    def _composed(
        self, term: q.Those | q.Such | q.Except | q.And | q.Or, place: str
    ) -> list[Item]:
        if isinstance(term, q.Those):
            return self._those(term, place)
        if isinstance(term, q.Such):
            return self._such(term, place)
        if isinstance(term, q.Except):
            out = set(self.items(term.left_out, place))
            return [i for i in self.items(term.term, place) if i not in out]
        found = [i for part in term.terms for i in self.items(part, place)]
        return list(dict.fromkeys(found))

    def _such(self, term: q.Such, place: str) -> list[Item]:
        kept = self.items(term.term, place)
        for condition in term.conditions:
            judged = self.judge(kept, condition)
            kept = [item for item in kept if judged[item].truth]
        return kept

    def noun(self, name: q.Name, place: str) -> Noun:
        """What a name stands for, looked for first where its place suggests."""
        nouns = self.nouns
        if name.text.casefold() in {"ingredient", "ingredients"}:
            kind = self.world.base.term(Role.INGREDIENT)
            return Noun(name.text, nouns.all_ingredients, kind)
        first, then = nouns.as_products, nouns.as_ingredients
        if place != PRODUCT:
            first, then = then, first
        found = first(name.text) or then(name.text)
        if found is None:
            wanted = "product" if place == PRODUCT else "ingredient or class"
            raise UnknownName(name.text, wanted, nouns.near(name.text), name.span)
        return found

    def _those(self, term: q.Those, place: str) -> list[Item]:
        if not self.last:
            raise Unanswerable(
                "nothing has been answered yet to point back to", term.span
            )
        if term.kind is None:
            return list(self.last)
        kept = set(self.noun(term.kind, place).items)
        return [item for item in self.last if item in kept]

    # -- predicates ---------------------------------------------------------------

    def judge(self, items: Sequence[Item], said: q.Predicate) -> Judgements:
        """Judge each of some things by one predicate."""
        if is_no_wash(said, self.nouns):
            return self.clearing.needs_no_wash(items)
        plain = simplified(said)
        return self._ways[type(plain)](items, plain)

    @cached_property
    def _ways(self) -> Mapping[type[q.Node], _Way]:
        return {
            q.Clears: self.clearing.clears,
            q.Suffices: self.clearing.suffices,
            q.Leaves: self._leaves,
            q.Contains: self._contains,
            q.Hides: Hiding(self).hides,
            q.Needs: self.clearing.needs,
            q.Differs: Mildness(self).differs,
            q.Stays: self.clearing.stays,
            q.Outdoes: Contrasts(self).outdoes,
            q.Resists: Contrasts(self).resists,
            q.Precedes: Places(self).precedes,
            q.Is: self._is,
            q.Named: self._named,
            q.Among: self._among,
            q.Not: self._not,
            q.Both: self._joined,
            q.Either: self._joined,
        }

    def _named(self, items: Sequence[Item], said: q.Named) -> Judgements:
        fits = set(self.nouns.named(said.pattern, items))
        return {item: Judged(item in fits) for item in items}

    def _among(self, items: Sequence[Item], said: q.Among) -> Judgements:
        wanted = set(self.items(said.object, PRODUCT))
        return {item: Judged(item in wanted) for item in items}

    def _not(self, items: Sequence[Item], said: q.Not) -> Judgements:
        return {i: negated(j) for i, j in self.judge(items, said.part).items()}

    def _joined(self, items: Sequence[Item], said: q.Both | q.Either) -> Judgements:
        parts = [self.judge(items, part) for part in said.parts]
        join = all_of if isinstance(said, q.Both) else any_of
        return {item: join([part[item] for part in parts]) for item in items}

    # -- the other verbs ----------------------------------------------------------

    def under(self, said: q.Clears | q.Leaves | q.Stays) -> tuple[str, ...]:
        """The conditions that a verb states, by symbol.

        Raises:
            Unanswerable: two of them exclude one another.
        """
        try:
            return stated(self.world.base, said.circumstances)
        except ConditionError as error:
            raise Unanswerable(str(error), said.span) from None

    def _leaves(self, items: Sequence[Item], said: q.Leaves) -> Judgements:
        products = [item.key for item in items if item.kind == PRODUCT]
        case = Case.of(self.world, sources=products, stated=self.under(said))
        films = self.wanted(said.object)
        found = {}
        for item in items:
            left = films_left(case, item.key) if item.kind == PRODUCT else []
            rows = tuple(row for row in left if films is None or row.film in films)
            found[item] = Judged(enough(said, len(rows), None), rows)
        return found

    def _contains(self, items: Sequence[Item], said: q.Contains) -> Judgements:
        if said.level is not None:
            return Weighing(self).contains(items, said, said.level)
        if said.place is not None:
            return Places(self).at_place(items, said, said.place)
        products = [i.key for i in items if i.kind == PRODUCT and i.key != WATER]
        case = Case.of(self.world, sources=products)
        wanted = self.wanted(said.object)
        found = {}
        for item in items:
            there = self.nouns.on_label(item) if item.kind == PRODUCT else set()
            hit = sorted(there if wanted is None else there & wanted)
            goals = [(LISTED, (product_symbol(item.key), each)) for each in hit]
            rows = tuple(
                Member(case, Item(INGREDIENT, goal[1][1]), goal)
                for goal in goals
                if item.key != WATER
            )
            found[item] = Judged(enough(said, len(hit), None), rows)
        return found

    def alike(self, items: Iterable[Item]) -> list[Item]:
        """One ingredient for all described alike; products as they are."""
        base = self.world.base
        found: dict[tuple[object, ...], Item] = {}
        for item in items:
            if item.kind == PRODUCT:
                found[item.kind, item.key] = item
                continue
            record = base.record(item.key)
            kinds = tuple(sorted(base.classes_of(item.key)))
            traits = (record.link(each) for each in self.nouns.traits)
            found.setdefault((kinds, *traits), item)
        return list(found.values())

    def wanted(self, term: q.Term) -> set[str] | None:
        """The ingredients an object means; None is anything."""
        if isinstance(term, q.Quantified):
            return self.wanted(term.term)
        if isinstance(term, q.Thing):
            return None
        return {item.key for item in self.items(term, INGREDIENT)}

    def _is(self, items: Sequence[Item], said: q.Is) -> Judgements:
        place = items[0].kind if items else INGREDIENT
        kind = self._kind_named(said.object, place)
        if kind is None or place == PRODUCT:
            wanted = set(self.items(said.object, place))
            return {item: Judged(item in wanted) for item in items}
        case = Case(self.world, self.world.known.about(item.key for item in items))
        return {item: self._is_a(case, item, kind) for item in items}

    def _is_a(self, case: Case, item: Item, kind: str) -> Judged:
        goal = (ISA, (item.key, kind))
        if case.model.holds(*goal):
            return Judged(True, (Member(case, item, goal),))
        base = self.world.base
        kinds = telling(base.classes_of(item.key), base)
        known = [k for k in kinds if case.model.holds(ISA, (item.key, k))]
        row = NotMember(case, item, goal, known[0] if known else "")
        return Judged(False, (row,))

    def _kind_named(self, term: q.Term, place: str) -> str | None:
        """The class that `is a …` names, if it names one class."""
        if isinstance(term, q.Quantified):
            return self._kind_named(term.term, place)
        if not isinstance(term, q.Name):
            return None
        kind = self.noun(term, place).kind
        return kind if kind and self.world.base.is_class(kind) else None
