"""What a careful adviser says beside an answer, as the base has it.

A caution of the base names what calls for it (`abl:appliesTo`): a verdict, a class,
a kind of product. It is no conclusion and is proven by nothing; it is shown with
the answers that it belongs to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.answers import Member, Row
from abluent.engine.phrases import product_symbol
from abluent.engine.verdicts import Left, Verdict
from abluent.engine.world import WATER


def cautions(rows: Iterable[Row]) -> tuple[str, ...]:
    """The cautions that belong to some rows of an answer, each once."""
    found = list(rows)
    if not found:
        return ()
    base = found[0].case.world.base
    met = {each for row in found for each in _met(row)}
    return tuple(
        base.record(symbol).text("statement") or base.label(symbol)
        for symbol in base.instances("Caution")
        if met.intersection(base.record(symbol).links("appliesTo"))
    )


def _met(row: Row) -> Iterator[str]:
    """What a row speaks of: its verdict, and the classes of what is at work in it."""
    classes_of = row.case.world.base.classes_of
    if isinstance(row, Verdict):
        yield row.value
        yield from classes_of(row.film)
        wash = WATER if row.wash == WATER else product_symbol(row.wash)
        for _, agent in row.case.model.match("acts", (wash, None)):
            yield from classes_of(str(agent))
    elif isinstance(row, Left):
        yield from classes_of(row.film)
    elif isinstance(row, Member) and row.item.key in row.case.world.base:
        yield from classes_of(row.item.key)
