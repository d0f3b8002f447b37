"""What to do next about a routine, and why, in sentences somebody would say aloud."""

from __future__ import annotations

from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import Accounted
from abluent.shell.routine.advice_besides import besides
from abluent.shell.routine.advice_buy import to_buy
from abluent.shell.routine.advice_care import conditioned
from abluent.shell.routine.advice_change import first, washed
from abluent.shell.routine.advice_left import (
    for_more,
    in_part,
    left,
    not_known,
    not_understood,
)
from abluent.shell.routine.uncounted import uncounted

_PRACTICE = (
    "(Conditioning after a strong wash, and how often: common practice, no source.)"
)


def advice(found: Accounted, world: World) -> list[str]:
    """What to do next and why, then what that leaves and what goes with it."""
    built = found.built
    told = [*uncounted(built.schedule, built.effects, world)]
    told += [*first(found, world), *in_part(found.after, world)]
    if not washed(found.built.schedule):
        return told
    told += left(found, world)
    told += not_known(found, world)
    told += not_understood(found, world)
    told += for_more(found, world)
    told += besides(found, world)
    if found.care is not None:
        strong = [e.new for e in found.changes if found.strong_to_skin(e.new)]
        said = list(conditioned(found.care, found.after.built.schedule, world, strong))
        practice = found.care.strong or found.care.kept
        told += [*said, *[_PRACTICE] * bool(said and practice)]
    told += to_buy(found, world)
    return told
