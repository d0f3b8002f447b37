"""Which names were not understood, those first that leave most verdicts open."""

from __future__ import annotations

from collections.abc import Mapping

from abluent.engine.base.contract import LOWER, UNREAD_LINE, UPPER
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Answer, Finding, Member, Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q

_MOST = 200
"""So many labels are judged for it, wash by product; of more, labels are counted."""


def not_understood(judge: Judge, query: q.NotUnderstood, text: str) -> Answer:
    """List the names on the labels at hand that stand for nothing known."""
    names = _names(judge)
    products = list(dict.fromkeys(item for on in names.values() for item in on))
    case = Case.of(judge.world, sources=[item.key for item in products])
    unsettled = _unsettled(judge, products)

    def weight(name: str) -> tuple[int, int, str]:
        left = sum(unsettled.get(item, 0) for item in names[name])
        return -left, -len(names[name]), name

    ranked = sorted(names, key=weight)[: query.limit]
    told = tuple(_told(name, names[name], -weight(name)[0]) for name in ranked)
    rows: list[Row] = [
        Member(case, item, (UNREAD_LINE, args))
        for item in products
        for args in sorted(
            case.model.match(UNREAD_LINE, (product_symbol(item.key), None)), key=str
        )
    ]
    if not names:
        return Answer(text, "Every name on the labels here was understood.")
    were = "1 name was" if len(names) == 1 else f"{len(names)} names were"
    return Answer(
        text,
        f"{were} not understood; {'it' if len(names) == 1 else 'the first'} to look "
        f"up: {ranked[0]}.",
        rows,
        members=products,
        findings=[Finding("name", "By how many verdicts they leave unsettled", told)],
    )


def _names(judge: Judge) -> Mapping[str, list[Item]]:
    """Each name that was not understood, with the products that list it."""
    first: dict[str, str] = {}
    found: dict[str, list[Item]] = {}
    for name in judge.world.products:
        for reading in judge.world.read(name).readings:
            if reading.symbol is None:
                printed = " ".join(reading.printed.split())
                shown = first.setdefault(fold(printed), printed)
                found.setdefault(shown, []).append(Item(PRODUCT, name))
    return {name: list(dict.fromkeys(items)) for name, items in found.items()}


def _unsettled(judge: Judge, products: list[Item]) -> Mapping[Item, int]:
    """Of each wash among some products, how many verdicts have ends that differ."""
    washes = [item for item in products if item in {*judge.nouns.washes}]
    if not washes or len(judge.world.products) > _MOST:
        return {}
    case = Case.of(
        judge.world, [item.key for item in washes], sources=judge.world.products
    )
    by_symbol = {case.world.symbol(item.key): item for item in washes}
    upper = {row[:3]: row[3] for row in case.model.match(UPPER)}
    found = dict.fromkeys(washes, 0)
    for row in case.model.match(LOWER):
        if row[0] in by_symbol and upper.get(row[:3], row[3]) != row[3]:
            found[by_symbol[str(row[0])]] += 1
    return found


def _told(name: str, on: list[Item], unsettled: int) -> str:
    titles = listed([item.key for item in on])
    if not unsettled:
        return f"{name}, on {titles}."
    are = "verdict is" if unsettled == 1 else "verdicts are"
    return f"{name}, on {titles}: {unsettled:,} {are} not settled."
