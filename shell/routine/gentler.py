"""That a strong wash is used too often, and what at hand is gentler."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.gentler import Gentler
from abluent.engine.routines.routine import Schedule
from abluent.shell.routine.days import a_turn, counted
from abluent.shell.routine.words import kinds


def too_often(
    names: Sequence[str], days: Schedule, found: Gentler | None, world: World
) -> Iterator[str]:
    """How often a strong wash is used, then what is gentler, where something is."""
    uses = sum(use.product in names for use in days.washes)
    verb = "is a strong wash" if len(names) == 1 else "are strong washes"
    more = "" if found else ", and no milder wash at hand does as much"
    yield (
        f"{listed(names)} {verb}, used {counted(uses)} {a_turn(days)}: that is more "
        f"often than common practice advises{more}."
    )
    if found is None:
        return
    lacks = listed([world.base.label(each) for each in found.lacks])
    why = "it is the milder of the two" if found.milder else ""
    if lacks:
        has = f"it has no {lacks}"
        why = f"{why}, as {has}" if why else f"{has}, and nothing harsher"
    less = "Wash less often, and" if found.strong else "Wash"
    told = f"{less} with {found.wash} instead of {found.old}: {why}"
    if found.strong:
        told += "; it counts as a strong wash too, so fewer washes come first"
    yield f"{told}."
    if found.leaves:
        yield f"{found.wash} leaves {kinds(found.leaves, world)} itself."
