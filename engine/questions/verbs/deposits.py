"""Judging by what products leave: `leave`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judgement import Judged, Judgements, enough
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q


class Deposits:
    """What products leave, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms

    def leaves(self, items: Sequence[Item], said: q.Leaves) -> Judgements:
        products = [item.key for item in items if item.kind == PRODUCT]
        case = Case.of(
            self._terms.world, sources=products, stated=self._terms.under(said)
        )
        films = self._terms.wanted(said.object)
        found = {}
        for item in items:
            left = films_left(case, item.key) if item.kind == PRODUCT else []
            rows = tuple(row for row in left if films is None or row.film in films)
            found[item] = Judged(enough(said, len(rows), None), rows)
        return found
