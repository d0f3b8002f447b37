"""Judging by what products leave: `leave`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import LEAVING_UNKNOWN, UNREAD_LINE
from abluent.engine.questions.answers.verdicts import films_left, not_left
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
        return {
            item: _judged(case, said, item, films)
            if item.kind == PRODUCT
            else Judged(enough(said, 0, None))
            for item in items
        }


def _judged(case: Case, said: q.Leaves, item: Item, films: set[str] | None) -> Judged:
    """How one product is judged: what may be left, or may not, leaves it open."""
    rows = [r for r in films_left(case, item.key) if films is None or r.film in films]
    doubted = [
        row
        for row in not_left(case, item.key)
        if row.how == LEAVING_UNKNOWN and (films is None or row.film in films)
    ]
    symbol = case.world.symbol(item.key)
    unread = [*case.model.match(UNREAD_LINE, (symbol, None))]
    surely = sum(row.sure for row in rows)
    perhaps = len(rows) + len(doubted) + len(unread)
    truth: bool | None = enough(said, surely, None)
    if truth is not enough(said, perhaps, None):
        truth = None
    return Judged(truth, tuple(rows or (doubted if truth is None else ())))
