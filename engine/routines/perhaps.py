"""What at hand may take films in trouble, where nothing at hand surely does.

A wash is told of a film that no wash of the routine can take any of; a rinse, which is
no wash, of any film that some claim says it may take a part of.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.contract import BOUND_AT
from abluent.engine.base.roles import Role
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film, rinses_of, washes_of
from abluent.engine.routines.overview import TROUBLE, Overview, verdict_on, why
from abluent.engine.routines.unadvised import unadvised


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
    untaken = [f for f in bad if not any(shares.of(wash, f).most for wash in used)]
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
        if some and name not in days.products:
            told.append(Perhaps(name, some, rinse=True))
    return told


def may_take(case: Case, rinse: str, film: Film) -> bool:
    """Whether some claim says that a rinse takes a film at most in part."""
    verdict = verdict_on(case, rinse, film)
    known = verdict is not None and verdict.role is not Role.NOT_CLEARED
    return known and bool(why(case, rinse, film))


def could_take(films: Sequence[Film], overview: Overview) -> list[str]:
    """What the base knows to take a part of films that no wash at hand can take.

    It is told by the statements of the claims that say so under no condition.
    """
    effects, shares = overview.built.effects, overview.shares
    case = effects.case
    assert case is not None
    base, found = case.world.base, dict[str, None]()
    bounds = [*case.model.match(BOUND_AT, (None, None, None))]
    for film in films:
        judged = [wash for wash, other in effects.verdicts if other == film]
        if any(shares.of(wash, film).most for wash in judged if not _rinse(case, wash)):
            continue
        kinds = {film.former, *base.classes_of(film.former)}
        for claim, _, kind in bounds:
            record = base.record(str(claim))
            if kind in kinds and record.links("atLeast") and not record.links("when"):
                found[base.label(str(claim))] = None
    return list(found)


def _rinse(case: Case, name: str) -> bool:
    return name in rinses_of(case.world)
