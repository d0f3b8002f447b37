"""A gentler wash where a strong one comes too often, and one more that may help.

Of one wash one thing is said: how often, or on what condition, and all that it is for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.gentler import Gentler
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.perhaps import Perhaps, Stronger
from abluent.engine.routines.routine import Schedule
from abluent.grammar.common.text import as_sentence
from abluent.shell.routine.advice_care import after_it
from abluent.shell.routine.beforehand import if_coated
from abluent.shell.routine.days import a_turn, counted, once_in
from abluent.shell.routine.words import from_products, kinds


def besides(found: Accounted, world: World) -> Iterator[str]:
    """A wash that may take what none that is used can, else a stronger; the rinses."""
    left = {change.old for change in found.changes}
    left.update(each.wash for each in found.oftener)  # told of there
    stronger = next((e for e in found.stronger if e.wash not in left), None)
    wash = next((each for each in found.perhaps if not each.rinse), None)
    if wash is not None:
        also = stronger.films if stronger and stronger.wash == wash.name else ()
        yield _seldom(found, wash, also, world)
    elif stronger is not None:
        yield _if_coated(found, stronger, world)
    for each in found.perhaps:
        if each.rinse and found.changes:  # else it is what comes first
            films = kinds(each.films, world)
            yield f"{each.name} after one wash a week may take a part of {films}."


def _seldom(found: Accounted, wash: Perhaps, also: Sequence[Film], world: World) -> str:
    """A wash once in so long, for films that no wash that is used can take."""
    often = once_in(found.seldom(wash.name))
    told = (
        f"{often} wash with {wash.name} instead of {wash.instead}: it may take a part "
        f"of {kinds(wash.films, world)}, which no wash that you use can"
    )
    if also:
        told += f", and takes more of {from_products(also, world)}"
    return as_sentence(told) + _strong(found, wash.name)


def _if_coated(found: Accounted, each: Stronger, world: World) -> str:
    """A wash at hand that takes more, or may, on one condition."""
    films = from_products(each.films, world)
    does = f"takes more of {films}" if each.sure else f"may take a part of {films}"
    when = if_coated(found.routine, world.base)
    told = as_sentence(f"{when}, wash once with {each.wash}: it {does}")
    return f"{told}{_strong(found, each.wash)}"


def _strong(found: Accounted, wash: str) -> str:
    """What goes with a strong wash; empty for any other."""
    if not found.strong_to_skin(wash):
        return ""
    after = after_it(found.conditioner, found.after.built.schedule)
    return f" It is a strong wash: {after}."


# --- a strong wash that comes too often ----------------------------------------------


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
