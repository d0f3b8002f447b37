"""What to condition with after a strong wash, and where to add it."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import washes_of
from abluent.engine.routines.conditioning import Care, after_each, used_after
from abluent.engine.routines.noted import dry
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.routine import WEEK, Schedule, Use
from abluent.shell.routine.days import on_days
from abluent.shell.routine.words import kinds


def after_it(conditioner: str, days: Schedule, at: Use | None = None) -> str:
    """What to do after one strong wash; nothing is named as used that is not.

    Args:
        conditioner: what at hand conditions best; empty if nothing does.
        days: the schedule that the wash comes into.
        at: in the place of which wash of it it comes; nothing for any.
    """
    if not conditioner:
        return "condition after it"
    if after_each(days, conditioner):
        return f"use {conditioner} after it, as after your other washes"
    if at is not None and used_after(days, at, conditioner):
        return f"use {conditioner} after it, as you do on that day"
    return f"add {conditioner} after it"


def care_each_time(found: Accounted, world: World) -> Iterator[str]:
    """That what conditions is to come after every wash, where hair is harmed."""
    care, by = found.care, found.seldom_care
    said = care is not None and care.by == by and (care.strong or care.lost)
    if by and not said:
        word = dry(found.routine, world.base)
        yield f"Use {by} after every wash: your note says `{word}`."


def conditioned(
    care: Care, days: Schedule, world: World, told_of: Collection[str] | None = None
) -> Iterator[str]:
    """What to condition with after a strong wash, or where a change took that away.

    Args:
        care: what is lacking, and what is there.
        days: the schedule that it is about.
        world: the base and the shelf.
        told_of: the strong washes that are told of where nothing is lacking; else all.
    """
    role = " as the conditioner" if care.by in washes_of(world) else ""
    back = {wash: films for wash, _, films in care.again}
    for wash, by in care.kept:
        if wash in back:
            yield (
                f"{wash} is a strong wash: use {care.by}{role} after it and not {by}, "
                f"which leaves {kinds(back[wash], world)} again."
            )
        elif told_of is None or wash in told_of:
            yield f"{wash} is a strong wash: use {by} after it, as you do now."
    if not (care.lost or care.strong):
        return
    first = _lacking(care)
    if not care.by:
        else_ = "else " if care.lost else ""
        yield (
            f"{first}: nothing {else_}on this shelf conditions, so a conditioner is "
            "a thing to buy."
        )
        return
    left = ""
    if care.leaves:
        left = (
            f" It leaves {kinds(care.leaves, world)}, which no wash that is used "
            "surely takes."
        )
    by = "it" if care.lost == (care.by,) and not care.strong else care.by
    yield f"{first}: add {by}{role} {_each_time(care, days)}.{left}"


def _lacking(care: Care) -> str:
    """What conditioned and goes, and after what there is nothing that conditions."""
    washes = listed(care.strong)
    others = [name for name in care.lost if name != care.by]
    if not care.strong:
        return f"{listed(care.lost)} also conditioned"
    if others:
        verb = "is" if len(care.strong) == 1 else "are"
        return f"{listed(others)} also conditioned, and {washes} {verb} strong"
    return f"Condition after {washes}, as after any strong wash"


def _each_time(care: Care, days: Schedule) -> str:
    """After which washes one is to condition: the one, or each."""
    if not care.strong:
        return f"after {listed(list(dict.fromkeys(use.product for use in care.at)))}"
    if len(care.at) == 1 and days.days == WEEK:
        return f"after it {on_days(days, care.at)}"
    return "after it each time" if len(care.strong) == 1 else "after each of them"
