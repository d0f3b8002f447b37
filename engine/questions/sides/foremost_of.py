"""Which of some washes is the mildest or strongest, with nothing else asked of them."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.degrees import led_by, why_milder
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.mildness import not_compared, steps
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_PAIR = 2
_BY = {
    q.Order.MILDEST: q.Strength.MILDER,
    q.Order.STRONGEST: q.Strength.STRONGER,
}


def foremost_of(
    judge: Judge,
    items: Sequence[Item],
    first: Sequence[Item],
    order: q.Order | None,
    text: str,
) -> Answer | None:
    """The answer to which of some washes comes first; None where that is not asked.

    Of two the first is set against the other, and of more it is told what leads it.

    Args:
        judge: judges how the washes compare.
        items: what the question names.
        first: those that come first by the order, or all of them in it.
        order: the order.
        text: the question in the language's own wording.
    """
    if order not in _BY or len(items) < _PAIR or not _are_washes(judge, items):
        return None
    if len(items) == _PAIR:
        return _of_two(judge, items, first, _BY[order], text)
    if order is q.Order.MILDEST and len(first) == 1:
        return _mildest(judge, items, first[0], text)
    return None


def _are_washes(judge: Judge, items: Sequence[Item]) -> bool:
    nouns, cleansers = judge.nouns, set(judge.nouns.cleansers)
    return all(i in nouns.washes or i in cleansers or i.key == WATER for i in items)


def _of_two(
    judge: Judge,
    items: Sequence[Item],
    first: Sequence[Item],
    strength: q.Strength,
    text: str,
) -> Answer:
    """How the one that comes first stands to the other."""
    ahead = first[0]
    other = next(item for item in items if item != ahead)
    one, two = (q.Name(judge.nouns.title(item)) for item in (ahead, other))
    said = q.Statement(one, q.Differs(strength, two))
    judged = judge.judge([ahead], said.predicate)[ahead]
    strong = strength is q.Strength.STRONGER
    verb = judge.strength if strong else judge.mildness
    sentence = verb.sentence(said, judged.truth, judged.rows).removeprefix("Yes: ")
    return Answer(text, sentence, judged.rows, members=first)


def _mildest(judge: Judge, items: Sequence[Item], ahead: Item, text: str) -> Answer:
    """The mildest of several, what it is built on and what sets it there."""
    names = {item: judge.removal.as_wash(item) for item in items}
    case = Case.of(judge.removal.world, names.values())
    symbols = {item: case.world.symbol(name) for item, name in names.items()}
    laid = steps(case, list(symbols.values()))
    name, symbol = judge.nouns.title(ahead), symbols[ahead]
    if not laid.steps:
        return Answer(
            text, f"Nothing compares {listed([*names.values()])} by mildness."
        )
    lead = led_by(case, symbol)
    told = f"{name} is the mildest to skin of these, as far as they compare"
    told += f": it is built on {lead}." if lead else "."
    harsher = [other for one, other in laid.pairs if one == symbol]
    why = [line for other in harsher for line in why_milder(case, symbol, other)]
    rest = [item for item in items if item != ahead]
    mind = not_compared(judge.world, [ahead], rest)
    sentence = " ".join(filter(None, [told, *dict.fromkeys(why[:1]), mind]))
    return Answer(text, sentence, members=[ahead])
