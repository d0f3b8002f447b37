"""What to do next about a routine, and why, in sentences somebody would say aloud."""

from __future__ import annotations

from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.conditioning import left_in
from abluent.engine.routines.noted import coated
from abluent.engine.routines.outcome import Accounted
from abluent.shell.routine.advice_besides import besides
from abluent.shell.routine.advice_buy import in_its_place, to_buy
from abluent.shell.routine.advice_care import care_each_time, conditioned
from abluent.shell.routine.advice_change import first, washed
from abluent.shell.routine.advice_left import (
    for_more,
    in_part,
    laid_down,
    left,
    not_known,
    not_understood,
)
from abluent.shell.routine.advice_often import (
    lathered_twice,
    less_of,
    loosened,
    more_often,
    noted_as_well,
    use_less,
)
from abluent.shell.routine.beforehand import (
    to_do_first,
    to_notes,
    to_questions,
    uncounted,
    unlisted,
    without_its_list,
)

_PRACTICE = (
    "(Conditioning after a strong wash, and how often: common practice, no source.)"
)
_HOW_OFTEN = "(How often: common practice, no source.)"


def advice(found: Accounted, world: World) -> list[str]:
    """What to do next and why, then what that leaves and what goes with it."""
    told = [*to_do(found, world), *noted_as_well(found, world)]
    told += to_notes(found, world)
    told += [*loosened(found, world), *less_of(found, world)]
    told += in_part(found.after, world)
    if not washed(found.built.schedule):
        return told
    told += left(found, world)
    told += not_known(found, world)
    told += besides(found, world)
    if found.care is not None and not found.overdone:
        strong = [e.new for e in found.changes if found.strong_to_skin(e.new)]
        said = list(conditioned(found.care, found.after.built.schedule, world, strong))
        practice = found.care.strong or found.care.kept
        told += [*said, *[_PRACTICE] * bool(said and practice)]
    told += care_each_time(found, world)
    if found.oftener and _PRACTICE not in told:
        told.append(_HOW_OFTEN)
    if found.overdone and found.care is not None and found.care.by:
        told.append(f"Condition after these washes: use {found.care.by}.")
    if not (bought_first(found, world) or (found.to_replace and found.buy)):
        told += () if found.changes else use_less(found, world)
        told += to_buy(found, world)
    return told


def to_do(found: Accounted, world: World) -> list[str]:
    """What to do next and why, after what is not counted at all."""
    built = found.built
    told = [*to_questions(found.overview, found.routine, world)]
    told += unlisted(found.routine)
    told += uncounted(built.schedule, built.effects, world)
    if found.routine.unlisted_washes and not washed(built.schedule):
        return [*told, *not_understood(found, world), *without_its_list(found, world)]
    told += not_understood(found, world)
    told += for_more(found, world)
    told += to_do_first(found.overview, found.routine, world)
    told += laid_down(found, world)
    if found.to_replace and found.buy:
        return [*told, *in_its_place(found, world), *more_often(found, world)]
    told += more_often(found, world)
    if bought_first(found, world):
        told += [*use_less(found, world), *to_buy(found, world)]
        felt = coated(found.routine, world.base)
        return told if felt else [*told, *first(found, world)]
    return [*told, *(lathered_twice(found, world) or first(found, world))]


def bought_first(found: Accounted, world: World) -> bool:
    """Whether what helps most is less of a product, or a wash to buy.

    That is so where nothing at hand helps and hair feels coated, or what is left in
    may coat it.
    """
    felt = coated(found.routine, world.base)
    helped = found.changes or found.overdone or any(e.wash for e in found.oftener)
    films = [film for each in found.buy for film in each.films]
    own = {f.source for f in films if f.source != WATER}
    some = any(felt or left_in(world, source) for source in own)
    some = some or bool(felt and found.could)
    return bool(some and not helped)
