"""What is on a label and easy to miss.

A film that a wash leaves itself, and a surfactant of a wash that is listed and cannot
be counted on. What stands there openly, as a silicone in a conditioner, hides nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import ISA, LATE, SET_ASIDE
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.roles import Role
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Member, Row, symbol_of
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judgement import Judged, Judgements, Unanswerable
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q


class Hidden:
    """What labels hide, for the terms of one question."""

    def __init__(self, terms: Terms) -> None:
        self._terms = terms

    def hides(self, items: Sequence[Item], said: q.Hides) -> Judgements:
        wanted = self._terms.wanted(said.object)
        if items and not any(item.kind == PRODUCT for item in items):
            problem = (
                "what a label hides can be asked of a product, and this names none"
            )
            raise Unanswerable(problem)
        return {item: self._hidden(item, wanted) for item in items}

    def _hidden(self, item: Item, wanted: set[str] | None) -> Judged:
        """What is easy to miss on the label of one product."""
        known = item.kind == PRODUCT and item.key != WATER
        if not known or not self._terms.nouns.cleans(item):
            return Judged(False)
        case = Case.of(self._terms.world, [item.key], sources=[item.key])
        rows: list[Row] = [*films_left(case, item.key)]
        found = self._unsaid(case, item)
        for goal in dict.fromkeys(found):
            rows.append(Member(case, Item(INGREDIENT, str(goal[1][-1])), goal))
        kept = [row for row in rows if wanted is None or symbol_of(row) in wanted]
        return Judged(bool(kept), tuple(kept))

    def _unsaid(self, case: Case, item: Item) -> list[Ground]:
        """The surfactants that cannot be counted on."""
        model, symbol = case.model, product_symbol(item.key)
        cleanser = self._terms.world.base.term(Role.CLEANSER)
        late = (args for args in model.match(LATE, (symbol, None)))
        return [
            *((SET_ASIDE, args) for args in model.match(SET_ASIDE, (symbol, None))),
            *((LATE, a) for a in late if model.holds(ISA, (a[1], cleanser))),
        ]
