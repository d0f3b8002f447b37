"""Why a plan was chosen, in words: wish by wish, and how it compares by mildness."""

from __future__ import annotations

from abluent.engine.questions.answers.listing import listed
from abluent.engine.routines.plan import Planned
from abluent.engine.routines.plan_solver import Mildness, Plan, Plans

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
    parts = ["no strong wash"]
    if worth.strong:
        parts = [f"as few strong washes as can be, {worth.strong} ({strong})"]
    if worth.unread:
        parts.append(f"{worth.unread} with a label not understood to the end")
    parts.append("then the mildest where washes compare")
    many = "one wash for all" if worth.different == 1 else f"{worth.different}"
    parts.append(f"then the fewest different washes, {many}")
    now = sum(map(bool, planned.problem.now))
    if now:
        kept = "nothing changes" if not worth.changed else f"{worth.changed} of {slots}"
        parts.append(f"then the least change from now, {kept}")
    return f"Chosen for {'; '.join(parts)}."


def by_mildness(plans: Plans) -> str:
    """How the first of some plans compares with all others by mildness."""
    tried = plans.plans[0].proven == "search"
    how = "every choice was tried" if tried else "shown by the solver"
    called = _CALLED.get(plans.mildness)
    if called is not None:
        return f"{called} ({how})."
    others = len(plans.plans) - 1
    rest = "" if plans.complete else ", and there are more such plans"
    if not others:
        used = plans.plans[0].counts
        alike = listed([o for w in used for o in plans.alike.get(w, ())])
    else:
        alike = "plan 2" if others == 1 else f"plans 2 to {others + 1}"
    told = (
        f"None with as few strong washes is known to be milder ({how}), but nothing "
        f"compares it by mildness with {alike}{rest}."
    )
    if not plans.weighed:
        told += " There are too many such plans to weigh each for what changes least."
    return told
