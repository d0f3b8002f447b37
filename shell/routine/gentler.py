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
    names: Sequence[str],
    days: Schedule,
    found: Gentler | None,
    world: World,
    instead: str = "Wash less often",
) -> Iterator[str]:
    """What to do where a strong wash is used too often, and why.

    Args:
        names: the strong washes.
        days: the schedule.
        found: what at hand is gentler, if something is.
        world: the base and the shelf.
        instead: what to do where nothing is.
    """
    uses = sum(use.product in names for use in days.washes)
    verb = "is a strong wash" if len(names) == 1 else "are strong washes"
    over = (
        f"{listed(names)} {verb}, used {counted(uses)} {a_turn(days)}, which is more "
        "often than common practice advises"
    )
    if found is None:
        yield f"{instead}: {over}, and no milder wash at hand does as much."
        return
    lacks = listed([world.base.label(each) for each in found.lacks])
    why = f"{found.wash} is the milder of the two" if found.milder else ""
    if lacks:
        has = f"has no {lacks}"
        why = (
            f"{why}, as it {has}" if why else f"{found.wash} {has}, and nothing harsher"
        )
    first = "Wash less often, and" if found.strong else "Wash"
    told = f"{first} with {found.wash} instead of {found.old}: {over}; {why}"
    if found.strong:
        told += "; it counts as a strong wash too, so fewer washes come first"
    yield f"{told}."
    if found.leaves:
        yield f"{found.wash} leaves {kinds(found.leaves, world)} itself."
