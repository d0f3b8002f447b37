"""Judging by what things are: `is a`, `is named`, `is among`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import ISA
from abluent.engine.base.kinds import telling
from abluent.engine.questions.answers.answer import Member, NotMember
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
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
        return {item: Judged(item in wanted) for item in items}

    def is_a(self, items: Sequence[Item], said: q.Is) -> Judgements:
        place = items[0].kind if items else INGREDIENT
        kind = self._kind_named(said.object, place)
        if kind is None or place == PRODUCT:
            wanted = set(self._terms.items(said.object, place))
            return {item: Judged(item in wanted) for item in items}
        case = Case(self._world, self._world.known.about(item.key for item in items))
        return {item: self._is_of(case, item, kind) for item in items}

    def _is_of(self, case: Case, item: Item, kind: str) -> Judged:
        goal = (ISA, (item.key, kind))
        if case.model.holds(*goal):
            return Judged(True, (Member(case, item, goal),))
        base = self._world.base
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
        kind = self._terms.noun(term, place).kind
        return kind if kind and self._world.base.is_class(kind) else None
