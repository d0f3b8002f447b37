"""What the order of a label shows: `contain I at place 3`, `contain I before J`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import LINE, UNORDERED
from abluent.engine.base.phrases import product_symbol
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Member
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q


class Places:
    """The places of ingredients on labels, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms

    def at_place(
        self, items: Sequence[Item], said: q.Contains, place: int
    ) -> Judgements:
        """Whether one of the ingredients meant stands at a place."""
        case = self._case(items)
        wanted = self._terms.wanted(said.object)
        found = {}
        for item in items:
            lines = self._lines(case, item, wanted)
            at = place
            if place == q.LAST_PLACE:
                at = max(map(_place, self._lines(case, item, None)), default=0)
            here = [line for line in lines if _place(line) == at]
            found[item] = Judged(bool(here), _rows(case, here or lines))
        return found

    def precedes(self, items: Sequence[Item], said: q.Precedes) -> Judgements:
        """Whether every place of one stands before every place of the other.

        A list without order shows nothing of that, so that it stays open.
        """
        case = self._case(items)
        one, other = self._terms.wanted(said.object), self._terms.wanted(said.other)
        found = {}
        for item in items:
            first, then = self._lines(case, item, one), self._lines(case, item, other)
            rows = _rows(case, [*first[:1], *then[:1]])
            if not first or not then:
                found[item] = Judged(False, rows)
            elif case.model.holds(UNORDERED, (product_symbol(item.key),)):
                found[item] = Judged(None, rows)
            else:
                found[item] = Judged(_place(first[0]) < _place(then[0]), rows)
        return found

    def _case(self, items: Sequence[Item]) -> Case:
        products = [i.key for i in items if i.kind == PRODUCT and i.key != WATER]
        return Case.of(self._terms.world, sources=products)

    def _lines(self, case: Case, item: Item, wanted: set[str] | None) -> list[Ground]:
        """The lines of a label that name what is meant, in order."""
        if item.kind != PRODUCT or item.key == WATER:
            return []
        rows = case.model.match(LINE, (product_symbol(item.key), None, None))
        kept = [row for row in rows if wanted is None or str(row[2]) in wanted]
        return sorted(((LINE, row) for row in kept), key=_place)


def _place(line: Ground) -> int:
    return int(str(line[1][1]))


def _rows(case: Case, lines: Sequence[Ground]) -> tuple[Member, ...]:
    return tuple(
        Member(case, Item(INGREDIENT, str(line[1][2])), line) for line in lines
    )
