"""How much of an ingredient a label allows: `how much "A" does "P" contain`.

A label gives an order and no amounts. What follows from the order, from law and from
what the trade usually puts in is an interval, with the place that it follows from.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import LEVEL, LINE
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Answer, Finding, Member
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import LABEL_SILENCE, advice_on
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.verbs.contents import width
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.one_percent import (
    by_the_list,
    place_on_list,
    shown_by_the_list,
)
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_BY_PLACE = (
    "The order of a list goes by amount down to 1 %, and as one likes below that; no "
    "label tells more."
)

_USUAL = ", likely, as the trade usually puts in; the label does not say it"
_ALLOWED = ", which is all that the order of the list tells"
_ASK = "The maker can be asked; the label allows no single figure."


def amount(judge: Judge, query: q.Amount, text: str) -> Answer:
    """How much of what is asked about can be in some products.

    Raises:
        Unanswerable: none of them is a product with a label.
    """
    items = judge.terms.items(query.products, PRODUCT)
    products = [i for i in items if i.kind == PRODUCT and i.key != WATER]
    if not products:
        raise Unanswerable("only the label of a product tells of amounts", query.span)
    listed_on = {i: judge.terms.listed(i, query.ingredient) for i in products}
    rows = [row for item in products for row in _levels(judge, item, listed_on[item])]
    without = [item for item, symbols in listed_on.items() if not symbols]
    told = [_by_place(judge, row, products[0].key) for row in rows[:1]]
    if len(rows) > 1:
        told = [f"{len(rows)} lines are of what is asked about."]
    told += [none_listed(judge, query, without)] if without else []
    lines = tuple(f"{_capital(_phrase(judge, row))}." for row in rows)
    findings = (
        [Finding("levels", "How much, by weight", lines)] if len(rows) > 1 else []
    )
    notes = [_BY_PLACE] if len(rows) > 1 else []
    notes += [*_not_told(judge, rows)]
    return Answer(
        text, " ".join(told), rows, members=products, notes=notes, findings=findings
    )


def _levels(judge: Judge, item: Item, symbols: Sequence[str]) -> Iterator[Member]:
    """The narrowest level that follows for each line meant, in the order of lines."""
    facts = judge.world.amounts.levels(item.key, symbols) if symbols else ()
    case = Case.of(judge.world, sources=[item.key], more=facts)
    product = product_symbol(item.key)
    lines = list(case.model.match(LINE, (product, None, None)))
    for _, place, symbol in sorted(lines, key=lambda row: int(str(row[1]))):
        if str(symbol) not in symbols:
            continue
        found = case.model.match(LEVEL, (product, place, None))
        for row in sorted(found, key=lambda row: width(row[-1]))[:1]:
            yield Member(case, Item(INGREDIENT, str(symbol)), (LEVEL, row))


def _by_place(judge: Judge, row: Member, product: str) -> str:
    """One level, what it rests on, and what the list alone shows of it."""
    name = judge.world.base.label(row.item.key)
    low, _, _ = row_phrase(judge.world, row).partition(" of its weight")
    amount = low.partition(" makes ")[2]
    law = row.case.world.known.program.standings[0]
    usual = "" if row.standing == law else _USUAL
    usual = "" if shown_by_the_list(judge, row, product) else usual or _ALLOWED
    told = [f"{name}: {amount} of {product} by weight{usual}."]
    told += by_the_list(judge, row, product)
    if before := _before(judge, row, product):
        told.append(f"It is no more than {before}, unless both are 1 % or less.")
    return " ".join(told)


def _before(judge: Judge, row: Member, product: str) -> str:
    """The name before one on a list, where the order surely goes by amount there."""
    place = place_on_list(row, product)
    found = row.case.model.match(LINE, (product_symbol(product), place - 1, None))
    symbols = [str(symbol) for _, _, symbol in found]
    levels = list(judge.world.amounts.stated(product).levels())
    threshold = judge.world.amounts.stated(product).levels().rule.threshold
    late = any(x.place == place - 1 and x.high <= threshold for x in levels)
    water = judge.world.known.water_symbol
    if not symbols or late or symbols[0] == water:
        return ""
    return judge.world.base.label(symbols[0])


def _not_told(judge: Judge, rows: Sequence[Member]) -> Iterator[str]:
    """What no label tells of the first of some things, and who knows it."""
    for row in rows[:1]:
        kinds = judge.world.labels.kinds_of(row.item.key)
        told = advice_on(judge.world.base, LABEL_SILENCE, row.item.key, kinds=kinds)
        yield f"{told.text} {_ASK}" if told else _ASK


def _phrase(judge: Judge, row: Member) -> str:
    """One level, with the name of what has it."""
    return f"{judge.world.base.label(row.item.key)}: {row_phrase(judge.world, row)}"


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def none_listed(judge: Judge, query: q.Amount | q.Task, items: Sequence[Item]) -> str:
    """That labels do not list it, and how many of their names were not read."""
    from abluent.grammar.query.printer import print_term  # noqa: PLC0415

    names = listed([judge.nouns.title(item) for item in items])
    unread = sum(
        reading.symbol is None
        for item in items
        if item.key in judge.world.products
        for reading in judge.world.read(item.key).readings
    )
    what = print_term(query.ingredient).replace('"', "")
    told = f"None: the label of {names} lists no {what}."
    were = "1 name on it was" if unread == 1 else f"{unread} names on it were"
    return f"{told} {were} not understood." if unread else told
