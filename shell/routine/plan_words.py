"""Why a plan was chosen, in words: wish by wish, and how it compares by mildness."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import PlannedWithReasons
from abluent.engine.routines.overview import TROUBLE, family_of, why
from abluent.engine.routines.plan import Planned
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Mildness, Plan
from abluent.engine.routines.plan_why import chosen_schedule
from abluent.engine.routines.wishes import Kept, Wait
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine.account_words import said_of
from abluent.shell.routine.words import by_family, kinds, name_of

SAID = 4
"""Washes of a plan that are told in its first sentence; more are listed."""

_CALLED = {
    Mildness.SINGLE: "No other choice of washes keeps to everything",
    Mildness.MILDEST: (
        "It is the mildest: every other choice of washes that keeps to everything is "
        "harsher to skin"
    ),
    Mildness.OF_ITS_KIND: (
        "It is the mildest of those with as few strong washes: each of the others is "
        "harsher to skin"
    ),
}


def by_the_wishes(planned: Planned, plan: Plan) -> str:
    """What a plan was chosen for, wish by wish in their order."""
    worth, slots = plan.worth, len(plan.chosen)
    strong = listed([w for w in plan.counts if planned.strong(w)])
    parts = ["it needs no strong wash"]
    if worth.strong:
        fewest = "it has as few strong washes as can be"
        parts = [f"{fewest}, {worth.strong} in all ({strong})"]
    if worth.unread:
        parts.append(f"{worth.unread} have a label not understood to the end")
    parts.append("of such plans none is known to be milder")
    many = "one wash does for all" if worth.different == 1 else f"{worth.different}"
    one = worth.different == 1
    parts.append(many if one else f"it takes {many} different washes, the fewest then")
    if any(planned.problem.now):
        changed = f"{worth.changed} of {slots} washes change from now"
        parts.append(changed if worth.changed else "nothing changes from now")
    return f"Why this one: {'; '.join(parts)}."


def by_mildness(planned: Planned) -> str:
    """How the plan to follow compares with all others by mildness."""
    plans = planned.shown
    tried = plans.plans[0].proven == "search"
    how = "every choice was tried" if tried else "shown by the solver"
    days = planned.schedule
    if days.turns:
        how += f" within {days.days} days"
        if planned.shown.mildness is Mildness.SINGLE:
            how += f" only; the line `cycle of {2 * days.days} days` tries more"
    called = _CALLED.get(plans.mildness)
    if called is not None:
        if not planned.plans.plans:
            called = called.replace("to everything", "to the rest")
        return f"{called} ({how})."
    others = len(plans.plans) - 1
    rest = "" if plans.complete else ", and there are more such plans"
    if not others:
        used = plans.plans[0].counts
        alike = listed([o for w in used for o in plans.alike.get(w, ())])
    else:
        many = "another plan" if others == 1 else f"{others} other plans"
        alike = f"{many} as good by the wishes before"
        rest = rest and ", and more such plans"
    told = (
        f"It is not called the mildest: nothing compares it by mildness with "
        f"{alike}{rest} ({how})."
    )
    if not plans.weighed:
        told += " There are too many such plans to weigh each for what changes least."
    return told


# --- the first lines ------------------------------------------------------------------


def opening(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """What to wash with, and first of all what no plan can do."""
    planned = found.planned
    if planned.stuck:
        yield (
            f"No wash on this shelf surely takes {by_family(planned.stuck, world)}, so "
            "no plan keeps to everything."
        )
        yield from _why_stuck(planned)
    elif not planned.plans.plans:
        yield "There is no plan that keeps to everything."
    if planned.nothing_to_clear:
        yield from _nothing_left(found, world)
    if not planned.shown.plans:
        return
    told = _to_do(planned, planned.shown.plans[0])
    if not planned.plans.plans:
        told = f"with that left alone, {told}"
    yield as_sentence(told)


def _nothing_left(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """That nothing is left of what the wishes name: why, and what is left besides."""
    if not found.beside:
        yield "With this plan nothing is newly left of what is to be cleared."
        return
    then = found.beside[0]
    after = {each.film for each in then.overview.told}
    told = "With this plan nothing is newly left of what is to be cleared"
    if found.now is not None:
        gone = [e.film for e in found.now.overview.told if e.film not in after]
        washes = dict.fromkeys(film.source for film in gone)
        some = [
            f"{w}, which leaves {kinds([f for f in gone if f.source == w], world)}"
            for w in washes
        ]
        told += f", without {listed(some)}" if some else ""
    yield f"{told}."
    left = [e.film for e in then.overview.told if e.state in TROUBLE]
    if left:
        yield as_sentence(
            f"{kinds(left, world)} may build up still; no wish asks for that"
        )


def besides(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """A wash that does what the plan cannot do, and need not."""
    each = found.besides
    if each is None:
        return
    planned = found.planned
    strong = "; it counts as strong" if planned.strong(each.new) else ""
    yield (
        f"Better against {kinds(each.films, world)}: {each.new} in the place of "
        f"{each.old} on {planned.schedule.day_name(each.use.day)}. It may take a part "
        f"of them, no wash of this plan can take any, and all that is kept stays "
        f"kept{strong}."
    )


def _to_do(planned: Planned, plan: Plan) -> str:
    """The plan in the words of somebody who is to follow it."""
    days = chosen_schedule(planned, plan)
    slots = slots_of(days)
    every = ", over and over" if days.turns else ""
    if len(plan.counts) == 1:
        (wash,) = plan.counts
        if len(slots) > SAID:
            return f"wash with {wash} every time{every}."
        on = listed([days.day_name(use.day) for use in slots])
        return f"wash with {wash} on {on}{every}."
    if len(slots) <= SAID:
        each = [f"{use.product} on {days.day_name(use.day)}" for use in slots]
        return f"wash with {listed(each)}{every}."
    counts = [f"{wash} {_times(n)}" for wash, n in plan.counts.most_common()]
    return f"wash with {listed(counts)} in {days.days} days{every}."


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _why_stuck(planned: Planned) -> Iterator[str]:
    """Why no wash at hand takes what is stuck: the reasons that most washes share."""
    given: dict[str, list[str]] = {}
    seen: set[str] = set()
    hand = planned.problem.washes
    for film in planned.stuck:
        family = family_of(film, planned.case.world)
        if family not in seen:
            seen.add(family)
            for wash in hand:
                given.setdefault(why(planned.case, wash, film), []).append(wash)
    given.pop("", None)
    most = sorted(given.items(), key=lambda each: -len(each[1]))
    for reason, some in most[: SAID if len(seen) > 1 else 2]:
        yield f"Why: {said_of(reason, list(dict.fromkeys(some)), hand)}"


# --- wishes ---------------------------------------------------------------------------


def kept(found: Kept, world: World) -> str:
    """Whether a wish is kept, in washes and in days."""
    want = f"`{print_want(found.want)}`"
    word = "Kept" if found.kept else "Not kept"
    if isinstance(found.want, ast.Only):
        return f"{word}: {want}."
    if found.used is not None:
        return f"{word}: {want}; {_together(found)}."
    if not found.late:
        if found.whole is None:
            return f"Kept: {want}; nothing of the kind is left."
        return f"Kept: {want}; the longest wait is {_wait(found.whole, world)}."
    told = [f"Not surely kept: {want}, for {kinds(found.late, world)}"]
    if found.overdue is not None and found.overdue.washes is not None:
        told.append(f"some of it waits {_long(found.overdue)}")
    elif found.part is None or found.part.washes is None:
        if found.part is not None:
            some = kinds([found.part.film], world)
            told.append(f"no wash of this routine surely takes even a part of {some}")
            if found.able:
                told.append(f"of those at hand {listed(found.able)} would")
    else:
        told.append(
            "that all of it comes off is not known; at least a part does within "
            f"{_long(found.part)}"
        )
    if found.whole is not None:
        told.append(f"the rest is kept, within {_long(found.whole)}")
    return f"{'; '.join(told)}."


def _together(found: Kept) -> str:
    """How many of the limited washes there are, and how many of them together."""
    if not found.used:
        return "none is used"
    used = "1 is used" if found.used == 1 else f"{found.used} are used"
    if isinstance(found.want, ast.Apart):
        close = "on days that follow one another"
        if not found.kept:
            return f"{used}, some {close}"
        return used if found.used == 1 else f"{used}, never {close}"
    return f"{found.most} at the most" if found.most else used


def _wait(wait: Wait, world: World) -> str:
    return f"{_long(wait)}, of {name_of(wait.film, world)}"


def _long(wait: Wait) -> str:
    """A wait in washes and days."""
    washes = "1 wash" if wait.washes == 1 else f"{wait.washes} washes"
    return f"{washes} and {'1 day' if wait.days == 1 else f'{wait.days} days'}"


# --- what to buy ----------------------------------------------------------------------


def to_buy(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """The least to buy, each with all the films it covers."""
    if found.buy is None:
        return
    label = world.base.label
    covers = dict.fromkeys(buy.films for buy in found.buy.found)
    alike = len(covers) == 1
    if alike:
        films = by_family(next(iter(covers)), world)
        yield f"The least to buy that would do for {films}, any one of these:"
    elif covers:
        yield "The least to buy that would do, any one of these:"
    for buy in found.buy.found:
        pairs = zip(buy.agents, buy.kinds, strict=True)
        told = " and ".join(f"a wash with {label(a)} ({label(k)})" for a, k in pairs)
        yield told if alike else f"{told}, for {by_family(buy.films, world)}"
    if found.buy.never:
        never = by_family(found.buy.never, world)
        yield f"No surfactant that was tried surely clears {never}."
