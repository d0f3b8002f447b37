"""What to buy where no wash at hand surely takes a part."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.phrases import with_article
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.noted import coated
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import State
from abluent.engine.routines.plan_purchase import Remedy
from abluent.grammar.common.text import as_sentence
from abluent.shell.routine.days import once_in
from abluent.shell.routine.noted import if_coated
from abluent.shell.routine.words import by_family, kinds

TO_BUY = 3
"""Surfactants that are named for a wash to buy."""


def to_buy(found: Accounted, world: World) -> Iterator[str]:
    """What to buy where no wash at hand surely takes a part."""
    often = once_in(found.seldom())
    for each in found.could:
        kind = with_article(world.base.label(each.agents))
        yield (
            f"For {kinds(each.films, world)} the thing to buy is a wash that lists "
            f"{kind} among its first places, to use {often}. {as_sentence(each.said)}"
        )
    for remedy in found.buy:
        perhaps = all(_unsure(found, film) for film in remedy.films)
        felt = bool(coated(found.routine, world.base))
        when = if_coated(found.routine, world.base) if perhaps else ""
        yield bought(remedy, world, often if felt or not perhaps else "", when)
    gap = found.care is not None and found.care.gap
    settled = found.changes and not found.changes[0].milder
    if settled and not (found.buy or found.never or gap):
        yield "Nothing has to be bought."


def bought(remedy: Remedy, world: World, often: str, when: str) -> str:
    """A wash to buy, all that it takes, and what goes with it.

    Args:
        remedy: what to look for, and the films.
        world: the base and the shelf.
        often: how often to use it; empty where that hangs on how hair feels.
        when: on what condition it is to be bought; empty for none.
    """
    label = world.base.label
    some = [label(agent) for agent in remedy.agents[:TO_BUY]]
    names = some[0] if len(some) == 1 else f"{', '.join(some[:-1])} or {some[-1]}"
    told = (
        f"{f'{when}, buy' if when else 'buy'} a wash with "
        f"{names}: it takes at least a part of {by_family(remedy.films, world)}, and "
        "no wash at hand surely does."
    )
    strong = [label(each) for each in remedy.agents[:TO_BUY] if each in remedy.strong]
    if strong:
        which = "It" if len(strong) == len(some) else f"One with {' or '.join(strong)}"
        told += f" {which} is a strong wash: use it {often or 'once'}, and condition"
        told += " after it."
    elif often:
        told += f" Use it {often}."
    return told[:1].upper() + told[1:]


def _unsure(found: Accounted, film: Film) -> bool:
    """Whether a film may build up and is not known to, after the changes if any."""
    states = [each.state for each in found.after.told if each.film == film]
    return states == [State.MAY_GROW]
