"""What a careful adviser says beside an answer, as the base has it.

A caution of the base names what calls for it (`abl:appliesTo`): a verdict, a class,
a kind of product. It is no conclusion and is proven by nothing; it is shown with
the answers that it belongs to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.answers import Row
from abluent.engine.phrases import product_name
from abluent.engine.verdicts import Left, Verdict


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
    """What a row speaks of: its verdict, and the classes of what it rests on."""
    classes_of = row.case.world.base.classes_of
    if isinstance(row, Verdict):
        yield row.value
        yield from classes_of(row.film)
        for fact, place in row.lines:
            if product_name(place.product) == row.wash:
                yield from classes_of(str(fact.args[2]))
    elif isinstance(row, Left):
        yield from classes_of(row.film)
    elif row.item.key in row.case.world.base:
        yield from classes_of(row.item.key)
