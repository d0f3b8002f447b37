"""What law says against the lines of a label: `what may not stand in P`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.amounts.lawful import LOCAL, WRONG, Lawful, Unlawful, lawful
from abluent.engine.base.contract import LINE
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Finding, Member
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q


def unlawful(judge: Judge, query: q.Unlawful, text: str) -> Answer:
    """Tell what may not lawfully stand in some products, as of today.

    Raises:
        Unanswerable: no product is named.
    """
    found = judge.terms.items(query.things, PRODUCT)
    items = [i for i in found if i.kind == PRODUCT and i.key != WATER]
    if not items:
        problem = "what may not stand in a product can be asked, and this names none"
        raise Unanswerable(problem, query.things.span)
    case = Case.of(judge.world, sources=[item.key for item in items])
    told, rows, findings = [], [], []
    for item in items:
        law = lawful(judge.world.read(item.key), judge.world.base)
        told.append(_sentence(judge, item, law))
        rows += [_row(case, item, each) for each in law.found]
        findings += [*_findings(judge.world.base, item, law)]
    notes = [LOCAL] if rows else []
    return Answer(
        text, " ".join(told), rows, members=items, notes=notes, findings=findings
    )


def _sentence(judge: Judge, item: Item, law: Lawful) -> str:
    base = judge.world.base
    if law.market is None:
        names = listed([base.label(each) for each in law.elsewhere])
        some = f"; some market forbids {names}" if names else ""
        return f"{item.key}: its label names no market, so no law is asked{some}."
    where = f"in the {base.label(law.market)} on {law.on}"
    lines = judge.world.read(item.key).readings
    unread = sum(reading.symbol is None for reading in lines)
    more = f", {unread} of them not understood" if unread else ""
    if not law.found:
        looked = f"{len(lines)} lines looked at{more}"
        return f"{item.key}: nothing that the law known here forbids {where}; {looked}."
    names = listed(list(dict.fromkeys(base.label(e.ingredient) for e in law.found)))
    return f"{item.key}: {names}, {where}."


def _row(case: Case, item: Item, told: Unlawful) -> Member:
    goal = (LINE, (product_symbol(item.key), str(told.place), told.ingredient))
    for row in case.model.match(LINE, (goal[1][0], None, told.ingredient)):
        if str(row[1]) == str(told.place):
            return Member(case, Item(INGREDIENT, told.ingredient), (LINE, row))
    return Member(case, Item(INGREDIENT, told.ingredient), goal)


def _findings(base: Base, item: Item, law: Lawful) -> Iterator[Finding]:
    """What law says against each line, in its own words and with its source."""
    items = []
    for each in law.found:
        rule = base.record(each.rule)
        part = " in some of such products" if each.in_part else ""
        until = f"; older stock may be sold before {each.sold_until}"
        stock = until if each.sold_until else ""
        sources = "; ".join(base.label(source) for source in rule.basis.sources)
        memory = " From memory." if rule.basis.from_memory else ""
        name = f"{base.label(each.ingredient)} (place {each.place})"
        items.append(
            f"{name} {WRONG[each.breach]}{part}{stock}. {rule.text('statement')} "
            f"[{sources}]{memory}"
        )
    if items:
        yield Finding("unlawful", f"{item.key}, by law", tuple(items))
