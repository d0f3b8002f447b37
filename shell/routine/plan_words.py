"""Why a plan was chosen, wish by wish, what is kept, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.how_often import how_often
from abluent.engine.routines.plan import Planned
from abluent.engine.routines.plan_outcome import PlannedWithReasons
from abluent.engine.routines.plan_solver import Mildness, Plan
from abluent.engine.routines.wishes import Kept, Wait
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine.beforehand import if_coated
from abluent.shell.routine.days import once_in
from abluent.shell.routine.words import by_family, kinds, name_of

SAID = 4
"""From how many lengths of a turn on their ends are told."""

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
        turned = planned.schedule.turns and len(planned.tried) > 1
        within = f"{worth.strong} in all"
        if turned:
            fewest = f"{fewest} {_turns_tried(planned.tried)}"
            within = f"{worth.strong} in {planned.schedule.days} days"
        parts = [f"{fewest}: {within} ({strong})"]
    if worth.unread:
        parts.append(f"{worth.unread} have a label not understood to the end")
    parts.append("of such plans none is known to be milder")
    harsh = any(planned.problem.harsh.values())
    also = "the least that is harsh in them, and " if harsh else ""
    parts.append(f"then {also}the fewest films build up, or may")
    many = "one wash does for all" if worth.different == 1 else f"{worth.different}"
    one = worth.different == 1
    parts.append(many if one else f"it takes {many} different washes, the fewest then")
    if any(planned.problem.now):
        changed = f"{worth.changed} of {slots} washes change from now"
        parts.append(changed if worth.changed else "nothing changes from now")
    return f"Why this one: {'; '.join(parts)}."


def _turns_tried(lengths: Sequence[int]) -> str:
    """The turns over which a plan was tried."""
    few = len(lengths) < SAID
    told = listed([f"{n}" for n in lengths])
    told = told if few else f"{min(lengths)} to {max(lengths)}"
    return f"in any turn that was tried, of {told} days"


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
        f"Whether it is the mildest is not known: nothing compares it by mildness "
        f"with {alike}{rest} ({how})."
    )
    if not plans.weighed:
        told += " There are too many such plans to weigh each for what changes least."
    return told


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
        return _in_time(found, want, world)
    told = [f"Not surely kept: {want}, for {kinds(found.late, world)}"]
    if found.overdue is not None and found.overdue.washes is not None:
        told.append(f"some of it waits {long(found.overdue)}")
    elif found.part is None or found.part.washes is None:
        if found.part is not None:
            some = kinds([found.part.film], world)
            told.append(f"no wash of this routine surely takes even a part of {some}")
            if found.able:
                told.append(f"of those at hand {listed(found.able)} would")
    else:
        told.append(
            "that all of it comes off is not known; at least a part does within "
            f"{long(found.part)}"
        )
    if found.whole is not None:
        some = "in part at least" if found.in_part else "is kept"
        within = f", within {long(found.whole)}" if found.whole.washes else ""
        told.append(f"the rest {some}{within}")
    return f"{'; '.join(told)}."


def _in_time(found: Kept, want: str, world: World) -> str:
    """How long what is cleared as often as is asked waits at the most."""
    if found.whole is None:
        return f"Kept: {want}; nothing of the kind is left."
    if found.whole.washes is None:
        return (
            f"Kept as far as these days go: {want}; they end before a wash has to take "
            f"{name_of(found.whole.film, world)}."
        )
    if found.in_part:
        return (
            f"Kept in part at least: {want}; the longest wait for that is "
            f"{_wait(found.whole, world)}, and that all of it comes off is not known."
        )
    return f"Kept: {want}; the longest wait is {_wait(found.whole, world)}."


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
    return f"{long(wait)}, of {name_of(wait.film, world)}"


def long(wait: Wait) -> str:
    """A wait in washes and days."""
    washes = "1 wash" if wait.washes == 1 else f"{wait.washes} washes"
    return f"{washes} and {'1 day' if wait.days == 1 else f'{wait.days} days'}"


# --- what to buy ----------------------------------------------------------------------


def to_buy(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """The least to buy, each with all the films it covers."""
    if found.buy is None:
        return
    label, level = world.base.label, found.planned.effects.level
    covers = dict.fromkeys(buy.films for buy in found.buy.found)
    told = by_family(next(iter(covers)), world) if len(covers) == 1 else ""
    coated = bool(covers) and all(f in level for films in covers for f in films)
    if_so = "The"
    if coated:
        when = if_coated(found.planned.routine, world.base)
        if_so = f"{when[:1].upper()}{when[1:]}, the"
    if found.swap is not None:
        if_so = f"If {found.swap.old} is to stay, the"
    if covers:
        yield f"{if_so} least to buy that would do{f' for {told}' if told else ''}:"
    for buy in found.buy.found:
        pairs = zip(buy.agents, buy.kinds, strict=True)
        some = " and ".join(f"a wash with {label(a)} ({label(k)})" for a, k in pairs)
        yield some if told else f"{some}, for {by_family(buy.films, world)}"
    if any(buy.strong for buy in found.buy.found):
        every = all(buy.strong for buy in found.buy.found)
        which = f"{'All' if every else 'Some'} are strong washes"
        single = len(found.buy.found) == 1 == len(found.buy.found[0].agents)
        which = "It is a strong wash" if single else which
        often = once_in(how_often(world).seldom)
        yield f"{which}: use such a one {often} at the most, and condition after it."
    if found.buy.never:
        never = by_family(found.buy.never, world)
        yield f"No surfactant that was tried surely clears {never}."
