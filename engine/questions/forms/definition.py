"""What something is: `what is A`."""

from __future__ import annotations

from abluent.engine.base.contract import ISA
from abluent.engine.base.kinds import telling
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q

_MOST = 20


def define(judge: Judge, term: q.Term, text: str) -> Answer:
    """Say what some things are.

    Args:
        judge: knows what the term stands for.
        term: the things.
        text: the question in the language's own wording.
    """
    items = judge.terms.items(term, PRODUCT)
    described = [_described(judge, item) for item in items[:_MOST]]
    more = f" And {len(items) - _MOST} more." if len(items) > _MOST else ""
    rows = [row for item in items[:_MOST] for row in _facts_of(judge.world, item)]
    return Answer(text, " ".join(described) + more, rows, (), items)


def _described(judge: Judge, item: Item) -> str:
    world, base = judge.world, judge.world.base
    if item.kind == PRODUCT:
        product, wash = world.products.get(item.key), base.term(Role.WASH)
        if product is None:
            return f"{item.key} alone is {world.known.phrases(wash, 'a')}."
        kind = base.label(judge.nouns.kind_of(item))
        return f"{item.key} is a product of the shelf, sold as {kind}."
    kinds = telling(base.classes_of(item.key), base)
    return f"{base.label(item.key)} is {world.known.phrases(kinds[0], 'a')}."


def _facts_of(world: World, item: Item) -> list[Row]:
    if item.kind == PRODUCT:
        case = Case.of(world, sources=[item.key])
        return list(films_left(case, item.key))
    case = Case(world, world.known.about([item.key]))
    kinds = telling(world.base.classes_of(item.key), world.base)
    goals = [(ISA, (item.key, kind)) for kind in kinds]
    return [Member(case, item, goal) for goal in goals if case.model.holds(*goal)]
