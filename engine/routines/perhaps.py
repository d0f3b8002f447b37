"""What at hand may take films in trouble, where nothing at hand surely does.

A wash is told of a film that no wash of the routine can take any of; a rinse, which is
no wash, of any film that some claim says it may take a part of.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.contract import BOUND_AT, STRONG, STRONGER_ON
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film, rinses_of, washes_of
from abluent.engine.routines.how_often import unadvised, washed_for
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    State,
    family_of,
    stays_on,
    verdict_on,
    why,
)
from abluent.engine.routines.plan_purchase import Remedy


class Perhaps(NamedTuple):
    """A product at hand, not used, that may take some films.

    Args:
        name: the product.
        films: the films.
        rinse: whether it is no wash, and so comes beside one and not in its place.
        instead: the wash of the routine in whose place it could come; else empty.
    """

    name: str
    films: tuple[Film, ...]
    rinse: bool
    instead: str = ""


def perhaps(overview: Overview, world: World) -> Sequence[Perhaps]:
    """What may take films in trouble: one wash at the most, and the rinses at hand."""
    built, shares = overview.built, overview.shares
    case, days = built.effects.case, built.schedule
    assert case is not None
    bad = [each.film for each in overview.told if each.state in TROUBLE]
    used = list(dict.fromkeys(use.product for use in days.washes))
    hand = [
        w for w in washes_of(world) if bad and (w, bad[0]) in built.effects.verdicts
    ]
    open_ = [f for f in bad if not any(shares.of(wash, f).least for wash in hand)]
    untaken = [f for f in open_ if not any(shares.of(wash, f).most for wash in used)]
    found: list[Perhaps] = []
    for name in washes_of(world) if untaken and used else ():
        known = name not in used and (name, bad[0]) in built.effects.verdicts
        if known and not unadvised(case, name):
            some = tuple(f for f in untaken if shares.of(name, f).most)
            found.append(Perhaps(name, some, rinse=False, instead=used[0]))
    best = max(found, key=lambda each: len(each.films), default=None)
    told = [best] if best is not None and best.films else []
    for name in rinses_of(world):
        some = tuple(f for f in bad if may_take(case, name, f))
        uses = sum(use.product == name for use in days.uses)
        if some and uses * 2 < len(days.washes):
            told.append(Perhaps(name, some, rinse=True))
    return told


class Stronger(NamedTuple):
    """A wash at hand that is stronger on some films than all that are used.

    Args:
        wash: the wash.
        films: films of which each wash that is used takes a part at most.
        sure: whether it surely takes a part of them.
    """

    wash: str
    films: tuple[Film, ...]
    sure: bool = True


def stronger(overview: Overview, world: World) -> list[Stronger]:
    """The wash at hand that is stronger on most of what comes off in part at most."""
    built = overview.built
    case, verdicts = built.effects.case, built.effects.verdicts
    assert case is not None
    used = list(dict.fromkeys(use.product for use in built.schedule.washes))
    heavy = [
        each.film
        for each in overview.told
        if each.state is State.BOUNDED
        and each.film not in built.effects.level
        and washed_for(world.base, family_of(each.film, world))
        and all(ENDS[verdicts[w, each.film].role][1] is Role.PART_OF_IT for w in used)
    ]
    found: list[Stronger] = []
    for wash in washes_of(world) if used else ():
        if (
            wash not in used
            and not unadvised(case, wash)
            and not stays_on(built.effects, wash)
        ):
            sure = (f for f in heavy if overview.shares.of(wash, f).least)
            films = tuple(film for film in sure if _beats(case, wash, used, film))
            found.append(Stronger(wash, films))
    best = max(found, key=lambda each: len(each.films), default=None)
    return [best] if best is not None and best.films else []


def before_buying(
    buy: Sequence[Remedy], found: Sequence[Stronger], overview: Overview, world: World
) -> tuple[Sequence[Remedy], Sequence[Stronger]]:
    """What is to be bought, but where a stronger wash at hand may do as well.

    That is so of films that are not known to build up.

    Args:
        buy: what would surely take a part.
        found: the wash at hand that is told of as the stronger one, if there is one.
        overview: what becomes of the films.
        world: the base and the shelf.
    """
    grows = {each.film for each in overview.told if each.state is State.GROWS}
    kept, more = list[Remedy](), list(found)
    for remedy in buy:
        hand = [] if grows & {*remedy.films} else _may_do(remedy.films, overview, world)
        told = [each.wash for each in more]
        if not hand or (told and not {*told} & {*hand}):
            kept.append(remedy)
        elif not told:
            more.append(Stronger(hand[0], remedy.films, sure=False))
    return kept, more


def _may_do(films: Sequence[Film], overview: Overview, world: World) -> list[str]:
    """The strong washes at hand, not used, that may take some films."""
    built, shares = overview.built, overview.shares
    case, used = built.effects.case, built.schedule.products
    assert case is not None
    return [
        wash
        for wash in washes_of(world)
        if wash not in used
        and (wash, films[0]) in built.effects.verdicts
        and case.model.holds(STRONG, (world.symbol(wash),))
        and not (unadvised(case, wash) or stays_on(built.effects, wash))
        and all(shares.of(wash, film).most for film in films)
    ]


def _beats(case: Case, wash: str, used: Sequence[str], film: Film) -> bool:
    """Whether a wash is stronger than some others on a family that a film is of."""
    symbol, isa = case.world.symbol, case.world.base.classes_of(film.former)
    return all(
        any(
            family in isa
            for *_, family in case.model.match(
                STRONGER_ON, (symbol(wash), symbol(other), None)
            )
        )
        for other in used
    )


def may_take(case: Case, rinse: str, film: Film) -> bool:
    """Whether some claim says that a rinse takes a film at most in part."""
    verdict = verdict_on(case, rinse, film)
    known = verdict is not None and verdict.role is not Role.NOT_CLEARED
    return known and bool(why(case, rinse, film))


class Could(NamedTuple):
    """What the base knows to take some films, though no wash at hand can.

    Args:
        agents: the class of agents, or the agent, by symbol.
        said: the claim, in its own words.
        films: the films.
    """

    agents: str
    said: str
    films: tuple[Film, ...]


def could_take(films: Sequence[Film], overview: Overview) -> list[Could]:
    """What claims bound from below under no condition, of films no wash at hand takes.

    Only claims about the family of a film, or about less, are told.
    """
    effects, shares = overview.built.effects, overview.shares
    case = effects.case
    assert case is not None
    base, found = case.world.base, dict[tuple[str, str], list[Film]]()
    bounds = [*case.model.match(BOUND_AT, (None, None, None))]
    for film in films:
        judged = [wash for wash, other in effects.verdicts if other == film]
        if any(shares.of(wash, film).most for wash in judged if not _rinse(case, wash)):
            continue
        family, mine = family_of(film, case.world), base.classes_of(film.former)
        kinds = {k for k in mine if family in {k, *base.ancestors(k)}} | {film.former}
        for claim, agents, kind in bounds:
            record = base.record(str(claim))
            if kind in kinds and record.links("atLeast") and not record.links("when"):
                key = str(agents), base.label(str(claim))
                found.setdefault(key, []).append(film)
    return [Could(*key, tuple(some)) for key, some in found.items()]


def _rinse(case: Case, name: str) -> bool:
    return name in rinses_of(case.world)
