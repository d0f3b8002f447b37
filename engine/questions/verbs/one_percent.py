"""What the order of a list shows of an amount: from where on all is little."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import LINE
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.wording import YES_OR_NO, row_phrase
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import Item
from abluent.grammar.query import tree as q

BEFORE = (
    "Of two names the first is there in at least the same amount, unless both are at "
    "1 % or less: a list goes by amount down to 1 %, and as one likes below that."
)
"""What one name before another shows."""


def of_amounts(
    judge: Judge,
    said: q.Predicate,
    items: Sequence[Item],
    rows: Sequence[Row],
    truth: bool | None,
) -> tuple[str, list[str]] | None:
    """What a list shows of an amount, or of which is more, and what to know of it.

    None where that was not asked of one label.
    """
    if len(items) != 1 or not rows or items[0].key not in judge.world.products:
        return None
    product, head = items[0].key, YES_OR_NO[truth]
    phrases = [row_phrase(judge.world, row) for row in rows]
    if isinstance(said, q.Precedes):
        return f"{head}: {listed(phrases)}.", [BEFORE]
    if not isinstance(said, q.Contains) or said.level is None:
        return None
    where, *rest = *by_the_list(judge, rows[0], product), ""
    notes = [each for each in rest if each]
    if not where:
        return None
    if truth is None:
        low = phrases[0].partition(" makes ")[2]
        allowed = f" The list allows {low}." if low else ""
        return f"{head}: {where}{allowed}", notes
    law = rows[0].standing == rows[0].case.world.known.program.standings[0]
    shown = law or shown_by_the_list(judge, rows[0], product)
    usual = "" if shown else ", as it is usually used"
    return f"{head}{usual}: {phrases[0]}. {where}", notes


def place_on_list(row: Row, product: str) -> int:
    """Where the list of a product names what a row is about; 0 if nowhere."""
    symbol = getattr(row, "item", None)
    key = symbol.key if symbol is not None else ""
    match = row.case.model.match(LINE, (product_symbol(product), None, None))
    return min((int(str(n)) for _, n, each in match if each == key), default=0)


def by_the_list(judge: Judge, row: Row, product: str) -> Iterator[str]:
    """What the order, law and printed figures alone show of a name on a list.

    Where it stands, and from which name on it is sure that each is little.
    """
    place, base = place_on_list(row, product), judge.world.base
    levels = judge.world.amounts.stated(product).levels()
    if not 0 < place <= len(levels):
        return
    key = row.item.key if hasattr(row, "item") else ""
    printed = any(item.stated is not None for item in levels.items)
    told = f"{base.label(key)} is number {place} of {len(levels)} on the list"
    yield f"{told}." if printed else f"{told}, which prints no amounts."
    little = next((x for x in levels if x.high <= levels.rule.threshold), None)
    if little is None or not little.symbol:
        return
    name = base.label(little.symbol)
    capped = any(little.symbol in dict(cap.shares) for cap in levels.caps)
    law = ", as the law caps it there" if capped else ""
    each = f"each is {levels.rule.threshold} % or less{law}"
    if little.place > place:
        yield (
            f"Only from {name} (number {little.place}) down is it sure that {each}; "
            "above that the list goes by amount, but tells of none how much."
        )
    else:
        yield f"From {name} (number {little.place}) down it is sure that {each}."


def shown_by_the_list(judge: Judge, row: Row, product: str) -> bool:
    """Whether order, law and printed figures alone keep a name to 1 % or less."""
    place = place_on_list(row, product)
    levels = judge.world.amounts.stated(product).levels()
    found = [x for x in levels if x.place == place]
    printed = any(x.stated is not None for x in levels.items if x.place == place)
    return printed or any(x.high <= levels.rule.threshold for x in found)
