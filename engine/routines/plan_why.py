"""Why a plan is as it is: each step, each comparison and each impossibility as facts.

All rows of one plan come from one case, so they make one trace.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base import contract as c
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Member, Row
from abluent.engine.questions.answers.verdicts import verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Film, fact
from abluent.engine.routines.buildup_why import film_case, of, use_fact
from abluent.engine.routines.plan import Planned
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Plan
from abluent.engine.routines.routine import Schedule, Use


def chosen_schedule(planned: Planned, plan: Plan) -> Schedule:
    """The schedule of a routine with the washes of a plan."""
    slots = slots_of(planned.schedule)
    chosen = {use.place: w for use, w in zip(slots, plan.chosen, strict=True)}
    return planned.schedule.with_washes(chosen)


def plan_rows(planned: Planned, plan: Plan) -> list[Member]:
    """The proofs of a plan.

    For each film and wash of it that takes it off, the first time it does; what makes
    a wash of it count as strong; each comparison with a wash at hand that is harsher;
    and each strong wash after which nothing conditions.
    """
    schedule, world = chosen_schedule(planned, plan), planned.case.world
    slots = slots_of(schedule)
    steps = dict(_steps(planned, plan))
    films = list(dict.fromkeys(film for film, _ in steps))
    uses = dict.fromkeys([*(u for pair in steps.values() for u in pair), *slots])
    said = [*_said(world, schedule, uses)]
    for before, after in steps.values():
        said += _in_time(world, schedule, before, after)
    case = _case(planned, films, said, planned.problem.washes)
    goals: list[tuple[Item, Ground]] = []
    for (film, _), (before, after) in steps.items():
        times = schedule.use_name(before), _later(schedule, before, after)
        kept = (c.KEPT_OFF, (*of(film, world), *times))
        goals.append((Item(INGREDIENT, film.former), kept))
    for wash in plan.counts:
        if planned.strong(wash):
            goals.append(
                (Item(PRODUCT, wash), (c.COUNTS_STRONG, (world.symbol(wash),)))
            )
    for mild, harsh in sorted(planned.problem.milder):
        if mild in plan.counts and harsh not in plan.counts:
            pair = (world.symbol(mild), world.symbol(harsh))
            goals.append((Item(PRODUCT, mild), (c.MILDER, pair)))
    rows = [Member(case, item, goal) for item, goal in goals]
    return [*rows, *_unconditioned(case, schedule, slots)]


def _in_time(
    world: World, schedule: Schedule, before: Use, after: Use
) -> Iterator[Fact]:
    name = _later(schedule, before, after)
    yield fact(c.IN_TIME, schedule.use_name(before), name)
    if name != schedule.use_name(after):
        yield fact(c.WASHED_AT, name, world.symbol(after.product))


def _later(schedule: Schedule, before: Use, after: Use) -> str:
    """What a use is called that follows another, if only in the next turn."""
    turned = after.place <= before.place
    return schedule.use_name(after) + (" of the next turn" if turned else "")


def stuck_rows(planned: Planned) -> list[Row]:
    """The proofs that no wash at hand surely clears what is stuck, wash by wash."""
    films, world = planned.stuck, planned.case.world
    said = [fact(c.AT_HAND, world.symbol(wash)) for wash in planned.problem.washes]
    case = _case(planned, films, said, planned.problem.washes)
    found, judged = list[Row](), verdicts(case)
    for film in films:
        item = Item(INGREDIENT, film.former)
        found.append(Member(case, item, (c.NOT_CLEARABLE, of(film, world))))
        found += [
            each
            for each in judged
            if each.film == film.former and (each.source or WATER) == film.source
        ]
    return found


def unconditioned(world: World, schedule: Schedule) -> list[Member]:
    """Each strong wash of a schedule after which nothing conditions that day.

    That one conditions after a strong wash is common practice, without a source.
    """
    slots = [use for use in schedule.washes if use.product != WATER]
    said = [*_said(world, schedule, slots)]
    names = [name for name in schedule.products if name != WATER]
    washes = dict.fromkeys(use.product for use in slots)
    case = Case.of(world, washes, [], names, more=said)
    return _unconditioned(case, schedule, slots)


def _unconditioned(
    case: Case, schedule: Schedule, slots: Sequence[Use]
) -> list[Member]:
    """The first such use of each wash."""
    found: dict[str, Member] = {}
    for use in slots:
        product = case.world.symbol(use.product)
        goal = (c.LEFT_UNCONDITIONED, (schedule.use_name(use), product))
        if use.product not in found and case.model.holds(*goal):
            found[use.product] = Member(case, Item(PRODUCT, use.product), goal)
    return list(found.values())


def _steps(
    planned: Planned, plan: Plan
) -> Iterator[tuple[tuple[Film, str], tuple[Use, Use]]]:
    """For each film and wash that takes it off, when it was left and taken off."""
    problem, seen = planned.problem, set()
    schedule = chosen_schedule(planned, plan)
    kept = {use.place: use for use in schedule.uses}
    for need in problem.needs:
        if need.wash and plan.chosen[need.at] != need.wash:
            continue
        for slot in need.slots:
            wash = plan.chosen[slot]
            if need.film in problem.clears[wash]:
                if (need.film, wash) not in seen:
                    seen.add((need.film, wash))
                    after = kept[problem.slots[slot].place]
                    yield (need.film, wash), (kept[need.use.place], after)
                break


def _said(
    world: World, schedule: Schedule, uses: Sequence[Use] | dict[Use, None]
) -> Iterator[Fact]:
    """The uses as facts, with what follows each wash on its day."""
    told: set[Use] = set()
    for use in uses:
        later = [u for u in schedule.uses if u.day == use.day and u.place > use.place]
        for each in [use, *(later if use.wash else ())]:
            if each not in told:
                told.add(each)
                yield from use_fact(world, each, schedule.use_name(each), wets=True)
        if use.wash:
            for each in later:
                names = schedule.use_name(use), schedule.use_name(each)
                yield fact(c.SOON_AFTER, *names)


def _case(
    planned: Planned, films: Sequence[Film], said: Sequence[Fact], washes: Sequence[str]
) -> Case:
    routine, world = planned.routine, planned.case.world
    used = [name for name in planned.schedule.products if name != WATER]
    counted = [fact(c.USED_IN, world.symbol(name)) for name in planned.counted]
    facts = [*said, *counted]
    return film_case(world, films, facts, washes, routine.counting, extra=used)
