"""What to buy where no wash at hand surely takes a part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.phrases import with_article
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.how_often import tried_apart, unadvised
from abluent.engine.routines.noted import coated
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import State, family_of
from abluent.engine.routines.plan_purchase import Remedy
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.shell.routine.beforehand import if_coated
from abluent.shell.routine.days import ORDER, once_in, rhythm
from abluent.shell.routine.words import by_family, kinds

TO_BUY = 3
"""Surfactants that are named for a wash to buy."""


def to_buy(found: Accounted, world: World) -> Iterator[str]:
    """What to buy where no wash at hand surely takes a part."""
    often = once_in(found.seldom())
    noted = {family_of(e.films[0], world) for e in found.oftener if not e.wash}
    told = set[tuple[Film, ...]]()
    for each in found.could:
        same = each.films in told or {family_of(f, world) for f in each.films} <= noted
        if not same:
            told.add(each.films)
            kind = with_article(world.base.label(each.agents))
            them = kinds(each.films, world)
            if _minor(found, each.films, world):
                yield (
                    f"Only if hair turns dull or rough is a wash with {kind} worth "
                    f"having as well, against {them}."
                )
                continue
            yield as_sentence(
                f"{_if_still(found)}for {them} the thing to buy is a wash that lists "
                f"{kind} among its first places, to use {often}. "
                f"{as_sentence(each.said)}"
            )
    mild = {agent for each in found.mild for agent in each.agents[:TO_BUY]}
    for remedy in found.buy:
        if not mild.issuperset(remedy.agents[:TO_BUY]):
            yield _bought(remedy, found, world)
    gap = found.care is not None and found.care.gap
    settled = found.changes and not found.changes[0].milder
    if settled and not (found.buy or found.never or found.mild or gap):
        yield "Nothing has to be bought."


def in_its_place(found: Accounted, world: World) -> Iterator[str]:
    """A mild wash to buy in the place of one that nobody is advised to take."""
    case, remedy = found.built.effects.case, found.buy[0]
    assert case is not None
    agents = in_a_row(map(world.base.label, remedy.agents[:TO_BUY]), "or")
    why = unadvised(case, found.to_replace)
    yield (
        f"Buy a mild wash for hair, such as one with {agents}, in the place of "
        f"{found.to_replace}: {why}; such a wash takes at least a part of "
        f"{kinds(remedy.films, world)} as well."
    )
    for each in found.perhaps:
        if each.rinse:
            yield (
                f"Until then use {each.name} after every wash: it may take a part of "
                f"{kinds(each.films, world)}, and only a part."
            )


def _minor(found: Accounted, films: Sequence[Film], world: World) -> bool:
    """Whether some films come of the water alone, and what is advised is enough."""
    water = all(film.source == WATER for film in films)
    helped = found.changes or any(each.wash for each in found.oftener)
    return bool(water and helped) and not coated(found.routine, world.base)


def _bought(remedy: Remedy, found: Accounted, world: World) -> str:
    """A wash to buy, on its condition, and how often it is used."""
    perhaps = all(_unsure(found, film) for film in remedy.films)
    if not perhaps:
        return bought(remedy, world, f"use it {once_in(found.seldom())}", "")
    if found.changes:
        return bought(remedy, world, "use it once", _STILL)
    how = "use it once"
    if coated(found.routine, world.base):
        one_of, apart = tried_apart(world.base)
        strong = remedy.strong.intersection(remedy.agents[:TO_BUY])
        which = ORDER.get(one_of, f"{one_of}th")
        often = rhythm(apart) if strong else f"at every {which} wash"
        how = f"{_TRIED} {often}"
    return bought(remedy, world, how, if_coated(found.routine, world.base))


def _if_still(found: Accounted) -> str:
    """On what condition something is bought where a change is tried first."""
    return f"{_STILL}, " if found.changes else ""


_TRIED = "lather twice with it once, and if hair feels better then, use it so"
_STILL = "only if hair feels coated still after some weeks"


def bought(remedy: Remedy, world: World, how: str, when: str) -> str:
    """A wash to buy, all that it takes, and what goes with it.

    Args:
        remedy: what to look for, and the films.
        world: the base and the shelf.
        how: how to use it.
        when: on what condition it is to be bought; empty for none.
    """
    label = world.base.label
    some = [label(agent) for agent in remedy.agents[:TO_BUY]]
    names = in_a_row(some, "or")
    told = (
        f"{f'{when}, buy' if when else 'buy'} a wash with {names}: it takes at least "
        f"a part of {by_family(remedy.films, world)}, and no wash at hand surely does."
    )
    strong = [label(each) for each in remedy.agents[:TO_BUY] if each in remedy.strong]
    if strong:
        which = (
            "It" if len(strong) == len(some) else f"One with {in_a_row(strong, 'or')}"
        )
        told += f" {which} is a strong wash: {how}, and condition after it."
    else:
        told += f" {as_sentence(how)}"
    return told[:1].upper() + told[1:]


def _unsure(found: Accounted, film: Film) -> bool:
    """Whether a film may build up and is not known to, after the changes if any."""
    states = [each.state for each in found.after.told if each.film == film]
    return states == [State.MAY_GROW]
