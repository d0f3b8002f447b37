"""What a careful adviser says beside an answer, as the base has it.

A caution of the base names what calls for it (`abl:appliesTo`): a verdict, a class,
a kind of product, a condition. It is no conclusion and is proven by nothing; it is
shown with the answers that it belongs to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.base.contract import ACTS, PRESENT
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.rows import ABOUT_DEGREES
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.world.items import PRODUCT


def cautions(rows: Iterable[Row]) -> tuple[str, ...]:
    """The cautions that belong to some rows of an answer, each once.

    What holds of every verdict comes first, then what the narrowest class calls for.
    """
    found = list(rows)
    if not found:
        return ()
    world = found[0].case.world
    base, verdicts = world.base, world.known.verdict_roles.keys()
    met = set().union(*map(_met, found))
    called = [c for c in base.instances("Caution") if met & _callers(base, c)]
    general = [c for c in called if _callers(base, c) >= verdicts]
    narrow = [c for c in called if c not in general]
    narrow.sort(key=lambda caution: _narrowness(base, _callers(base, caution) & met))
    called = [*general, *narrow]
    return tuple(base.record(c).text("statement") or base.label(c) for c in called)


def _met(row: Row) -> Iterator[str]:
    """What a row speaks of: its verdict, what is at work in it, and how it is done."""
    classes_of = row.case.world.base.classes_of
    yield from (str(each) for (each,) in row.case.model.match(PRESENT, (None,)))
    if isinstance(row, Verdict):
        yield row.value
        yield from classes_of(row.film)
        wash = row.case.world.symbol(row.wash)
        for _, agent in row.case.model.match(ACTS, (wash, None)):
            yield from classes_of(str(agent))
    elif isinstance(row, Left):
        yield from classes_of(row.film)
    elif row.goal[0] in ABOUT_DEGREES and row.item.kind == PRODUCT:
        wash = row.case.world.symbol(row.item.key)
        for _, agent in row.case.model.match(ACTS, (wash, None)):
            yield from classes_of(str(agent))
    elif row.item.key in row.case.world.base:
        yield from classes_of(row.item.key)


def _callers(base: Base, caution: str) -> set[str]:
    return set(base.record(caution).links("appliesTo"))


def _narrowness(base: Base, called_by: set[str]) -> int:
    """Lower for what is to be said sooner."""
    return -max(len(base.ancestors(each)) for each in called_by)
