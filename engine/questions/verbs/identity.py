"""Judging by what things are: `is a`, `is named`, `is among`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import ISA
from abluent.engine.base.kinds import telling
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Member, NotMember
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case, facts_named
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.sorts import Sort
from abluent.grammar.query import tree as q


class Identity:
    """What things are, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms
        self._world = terms.world

    def named(self, items: Sequence[Item], said: q.Named) -> Judgements:
        fits = set(self._terms.nouns.named(said.pattern, items))
        return {item: Judged(item in fits) for item in items}

    def among(self, items: Sequence[Item], said: q.Among) -> Judgements:
        wanted = set(self._terms.items(said.object, PRODUCT))
        if isinstance(said.object, q.Shelf):
            # An ingredient is on the shelf where a label there lists it.
            listed = self._terms.nouns.seen
            wanted.update(item for item in items if item.key in listed)
        return {item: Judged(item in wanted) for item in items}

    def is_a(self, items: Sequence[Item], said: q.Is) -> Judgements:
        place = items[0].kind if items else INGREDIENT
        sort = self._sort_named(said.object)
        if sort is not None:
            return self._of_sort(items, sort)
        kind = self._kind_named(said.object, place)
        if place != PRODUCT and (trait := self._trait_named(said.object, place)):
            case = self._about(items)
            return {item: self._has(case, item, *trait) for item in items}
        if kind is None or place == PRODUCT:
            wanted = set(self._terms.items(said.object, place))
            return {item: Judged(item in wanted) for item in items}
        case = self._about(items)
        return {item: self._is_of(case, item, kind) for item in items}

    def _sort_named(self, term: q.Term) -> Sort | None:
        """The sort of wash that `is …` names, if nothing else here is called so."""
        if isinstance(term, q.Quantified):
            return self._sort_named(term.term)
        nouns = self._terms.nouns
        if not isinstance(term, q.Name) or nouns.is_product(term.text):
            return None
        return nouns.sort(term.text)

    def _of_sort(self, items: Sequence[Item], sort: Sort) -> Judgements:
        """Whether each is a wash of a sort; open where nothing follows."""
        nouns = self._terms.nouns
        washes = [item for item in items if item in {*nouns.washes}]
        case = Case.of(self._world, [item.key for item in washes])
        found = dict.fromkeys(items, Judged(False))
        for item in washes:
            wash = (case.world.symbol(item.key),)
            sure, out = (sort.shown_by, wash), (sort.ruled_out_by, wash)
            found[item] = Judged(None)
            for truth, goal in ((True, sure), (False, out)):
                if case.model.holds(*goal):
                    found[item] = Judged(truth, (Member(case, item, goal),))
        return found

    def _about(self, items: Sequence[Item]) -> Case:
        """All that is known of some ingredients."""
        keys = [item.key for item in items]
        facts = [*self._world.known.about(keys), *facts_named(self._world, keys)]
        return Case(self._world, facts)

    def _is_of(self, case: Case, item: Item, kind: str) -> Judged:
        goal = (ISA, (item.key, kind))
        if case.model.holds(*goal):
            return Judged(True, (Member(case, item, goal),))
        base = self._world.base
        kinds = telling(base.classes_of(item.key), base)
        known = [k for k in kinds if case.model.holds(ISA, (item.key, k))]
        told: list[Ground] = [(ISA, (item.key, each)) for each in known[:1]]
        for trait in self._terms.nouns.traits:
            if base.implied(kind, trait) is not None:
                told += _facts(case, trait, item)
        return Judged(False, (NotMember(case, item, goal, told),))

    def _has(self, case: Case, item: Item, trait: str, value: str) -> Judged:
        goal = (trait, (item.key, value))
        if case.model.holds(*goal):
            return Judged(True, (Member(case, item, goal),))
        row = NotMember(case, item, goal, _facts(case, trait, item))
        return Judged(False, (row,))

    def _trait_named(self, term: q.Term, place: str) -> tuple[str, str] | None:
        """The trait and the value of it that `is …` names, if it names one."""
        if not isinstance(term, q.Name):
            return None
        value = self._terms.noun(term, place).kind
        if not value or self._world.base.is_class(value):
            return None
        trait = self._terms.nouns.trait_with(value)
        return (trait, value) if trait else None

    def _kind_named(self, term: q.Term, place: str) -> str | None:
        """The class that `is a …` names, if it names one class."""
        if isinstance(term, q.Quantified):
            return self._kind_named(term.term, place)
        if not isinstance(term, q.Name):
            return None
        kind = self._terms.noun(term, place).kind
        return kind if kind and self._world.base.is_class(kind) else None


def _facts(case: Case, trait: str, item: Item) -> list[Ground]:
    """What is known of a trait of a thing."""
    found = sorted(case.model.match(trait, (item.key, None)), key=str)
    return [(trait, args) for args in found]
