"""How much there is of what bears on a film: levels, worked out for few washes only.

The base says of which class of agents the amount bears on which films
(`abl:amountBearsOn`), such as that of chelants on minerals. What follows from it is
told beside a verdict and turns none, so it is left out where many washes are asked
about at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.contract import AMOUNT_BEARS_ON, LINE
from abluent.engine.logic.facts import Fact

if TYPE_CHECKING:
    from abluent.engine.questions.world.world import World

_MOST = 3
"""Of how many washes it is worked out how much is in them; some 20 ms for each."""


def amounts(
    world: World, washes: Sequence[str], films: Iterable[str]
) -> Iterator[Fact]:
    """The levels on the labels of some washes that bear on some films.

    Args:
        world: the world.
        washes: names of products.
        films: symbols of film-formers.
    """
    classes = _classes(world, films) if len(washes) <= _MOST else ()
    for name in washes if classes else ():
        yield from world.levels(name, _listed(world, name, classes))


def _classes(world: World, films: Iterable[str]) -> Collection[str]:
    """The classes of agents whose amount bears on one of some films."""
    base = world.base
    kinds = {kind for film in films for kind in base.classes_of(film)}
    return [
        each
        for each in world.marked(AMOUNT_BEARS_ON)
        if not kinds.isdisjoint(base.record(each).links(AMOUNT_BEARS_ON))
    ]


def _listed(world: World, name: str, classes: Collection[str]) -> list[str]:
    """What stands on a label and is of one of some classes."""
    lines = [f.args[2] for f in world.read(name).facts if f.predicate == LINE]
    known = [str(each) for each in lines if each in world.ingredients]
    return [s for s in known if not {*classes}.isdisjoint(world.base.classes_of(s))]
