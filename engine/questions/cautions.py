"""What a careful adviser says beside an answer, as the base has it.

A caution of the base names what calls for it (`abl:appliesTo`): a verdict, a class,
a kind of product. It is no conclusion and is proven by nothing; it is shown with
the answers that it belongs to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.store import Base
from abluent.engine.questions.answers import Row
from abluent.engine.questions.verdicts import Left, Verdict
from abluent.engine.questions.world import WATER


def cautions(rows: Iterable[Row]) -> tuple[str, ...]:
    """The cautions that belong to some rows of an answer, each once.

    What holds of every verdict comes first, then what the narrowest class calls for.
    """
    found = list(rows)
    if not found:
        return ()
    base = found[0].case.world.base
    met = set().union(*map(_met, found))
    called = [c for c in base.instances("Caution") if met & _callers(base, c)]
    called.sort(key=lambda caution: _narrowness(base, _callers(base, caution), met))
    return tuple(base.record(c).text("statement") or base.label(c) for c in called)


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
    elif row.item.key in row.case.world.base:
        yield from classes_of(row.item.key)


def _callers(base: Base, caution: str) -> set[str]:
    return set(base.record(caution).links("appliesTo"))


def _narrowness(base: Base, callers: set[str], met: set[str]) -> int:
    """Lower for what is to be said sooner."""
    if callers.issuperset(base.instances("Verdict")):
        return -1_000
    return -max(len(base.ancestors(each)) for each in callers & met)
