"""What is known of something that people say: `what of the saying "…"`."""

from __future__ import annotations

from difflib import get_close_matches

from abluent.engine.base.contract import TELLS
from abluent.engine.base.fold import fold
from abluent.engine.base.sayings import sayings
from abluent.engine.questions.answers.answer import Answer, Member
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import SAYING, Item
from abluent.engine.questions.world.nouns import UnknownName
from abluent.grammar.query import tree as q


def saying(judge: Judge, query: q.Saying, text: str) -> Answer:
    """Say what is known of a saying, and what that rests on.

    Raises:
        UnknownName: the base has no such saying.
    """
    base = judge.world.base
    known = {fold(each.said): each for each in sayings(base)}
    found = known.get(fold(query.said.text))
    if found is None:
        near = get_close_matches(fold(query.said.text), known, 3, 0.6)
        names = [known[each].said for each in near]
        raise UnknownName(query.said.text, "saying", names, query.said.span)
    item = Item(SAYING, found.symbol)
    case = Case(judge.world, judge.world.known.about([found.symbol]))
    goals = [(TELLS, row) for row in case.model.match(TELLS, (found.symbol, None))]
    # Why it is so comes first, and then the claims that bear it out.
    goals.sort(key=lambda goal: (goal[1][1] != found.symbol, str(goal[1][1])))
    rows = [Member(case, item, goals[-1], goals[:-1])] if goals else []
    asks = [f"It can be asked: `{each}`." for each in found.asks]
    return Answer(text, found.answer, rows, (), [item], notes=asks)
