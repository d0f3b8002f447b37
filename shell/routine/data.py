"""An account or a plan as plain data, one object a routine."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from abluent.engine.base.conditions import aspect_of, aspects, is_note
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.world.world import World
from abluent.engine.routines.advice import Change
from abluent.engine.routines.amounts import Amounts
from abluent.engine.routines.buildup import Bound, Film
from abluent.engine.routines.outcome import Accounted, conditions_of, done
from abluent.engine.routines.overview import Family, Told, family_of
from abluent.engine.routines.plan_outcome import PlannedWithReasons
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Plans
from abluent.engine.routines.plan_why import chosen_schedule
from abluent.engine.routines.routine import Schedule
from abluent.engine.routines.wishes import Kept, Wait
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine import account_words, advice_words
from abluent.shell.routine.beforehand import noted
from abluent.shell.routine.words import STATES


def account_json(found: Accounted, world: World) -> dict[str, Any]:
    """Return an account as plain data; counts are uses, times are days."""
    built = found.built
    return {
        **_head(found.routine, built.schedule, world),
        "settles after turns": built.turns_before if built.schedule.turns else None,
        "opening": account_words.opening(found, world),
        "advice": " ".join(advice_words.advice(found, world)),
        "change": _change_json(found.change, found, world),
        "changes": [_change_json(each, found, world) for each in found.changes],
        "wishes": [_kept_json(each, world) for each in found.kept],
        "families": [_family_json(e, world) for e in found.overview.families],
        "films": [_film_json(e, built.schedule, world) for e in found.overview.told],
        "needs no wash": [_named(film, world) for film in built.gone],
        "unconditioned": [row.reasons[-1] for row in found.strong],
        "cautions": list(cautions(found.strong)),
    }


def plan_json(found: PlannedWithReasons, world: World) -> dict[str, Any]:
    """Return a plan, or why there is none, as plain data."""
    planned, buy = found.planned, found.buy
    label = world.base.label
    bought = [] if buy is None else buy.found
    return {
        **_head(planned.routine, planned.schedule, world),
        **_plans(found, planned.plans),
        "nothing to clear": planned.nothing_to_clear,
        "strong": sorted(planned.problem.strong),
        "wishes": [_kept_json(each, world) for each in found.kept],
        "not cleared": [_named(film, world) for film in planned.stuck],
        "no wash in time": [
            {**_named(n.film, world), "left": planned.schedule.use_name(n.use)}
            for n in planned.late
        ],
        "cannot be kept together": [
            *planned.clash[1],
            *(_named(film, world) for film in planned.clash[0]),
        ],
        "buy": [
            {
                "wash with": [label(a) for a in each.agents],
                "class": [label(k) for k in each.kinds],
                "clears": [_named(film, world) for film in each.films],
            }
            for each in bought
        ],
        "never cleared": [_named(f, world) for f in (buy.never if buy else ())],
        "rest": _plans(found, planned.rest) if planned.rest else None,
        "reasons": [
            {
                "about": row.case.world.known.sentences.claim(*row.goal),
                "why": row.reasons,
            }
            for row in found.rows
        ],
        "cautions": list(cautions(found.rows)),
    }


def account_table(data: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Return the films of an account as rows of a table."""
    for film in data["films"]:
        yield {
            "routine": data["routine"],
            "film": film["film"],
            "from": film["from"],
            "family": film["family"],
            "state": film["state"],
            "least": film["amount"]["least"],
            "most": film["amount"]["most"],
            "best most": film["best"]["most"],
            "worst most": film["worst"]["most"],
            "best adds": film["best"]["adds"],
            "worst adds": film["worst"]["adds"],
            "days": film["days"],
        }


def plan_table(data: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Return the washes of every plan as rows of a table."""
    for number, plan in enumerate(data["plans"], 1):
        for wash in plan["washes"]:
            yield {"routine": data["routine"], "plan": number, **wash}
    if not data["plans"]:
        yield {"routine": data["routine"], "plan": None, "at": None, "wash": None}


def _washing(routine: ast.Routine, world: World) -> dict[str, str]:
    """How hair is washed: for each aspect the word, or the note that was written."""
    found = dict.fromkeys(aspects(world.base), "")
    for condition in conditions_of(routine, world):
        aspect, word = aspect_of(world.base, condition)
        found[aspect] = f"{found[aspect]} and {word}" if found.get(aspect) else word
    notes = [s for s in routine.washing if is_note(world.base, s.aspect)]
    return found | {said.aspect: said.words for said in notes}


def _head(routine: ast.Routine, days: Schedule, world: World) -> dict[str, Any]:
    return {
        "routine": routine.name,
        "noted": list(noted(routine, world.base)),
        "days": days.days,
        "turns": days.turns,
        "start": days.start.isoformat() if days.start else None,
        **_washing(routine, world),
        "said": {said.aspect: said.words for said in routine.washing},
        "conditions": [
            world.base.label(each) for each in conditions_of(routine, world)
        ],
        "counted": {
            "partly clears": routine.counting.partly,
            "open": routine.counting.open,
        },
    }


def _plans(found: PlannedWithReasons, plans: Plans) -> dict[str, Any]:
    made = []
    for plan in plans.plans:
        days = chosen_schedule(found.planned, plan)
        washes = [{"at": days.use_name(u), "wash": u.product} for u in slots_of(days)]
        counts = dict(plan.counts)
        worth = plan.worth._asdict()
        made.append(
            {"washes": washes, "counts": counts, "worth": worth, "proven": plan.proven}
        )
    used = {wash for plan in plans.plans for wash in plan.chosen}
    alike = {
        w: list(others) for w, others in plans.alike.items() if w in used and others
    }
    how = str(plans.mildness) if made else None
    return {
        "plans": made,
        "mildness": how,
        "complete": plans.complete,
        "alike": alike,
    }


def _film_json(told: Told, days: Schedule, world: World) -> dict[str, Any]:
    account, after = told.account, dict(zip(days.uses, told.amounts.after, strict=True))
    return {
        **_named(account.film, world),
        "family": world.base.label(family_of(account.film, world)),
        "state": STATES[told.state],
        "amount": _amount_json(told.amounts),
        "best": _bound(account.best),
        "worst": _bound(account.worst),
        "days": account.days,
        "steps": [
            {
                "at": days.use_name(step.use),
                "day": step.use.day,
                "product": step.use.product,
                "does": done(step, world),
                "disputed": step.disputed,
                "best": step.best,
                "worst": step.worst,
                "amount": [float(end) for end in after[step.use]],
            }
            for step in account.steps
        ],
    }


TURNS = (1, 2, 4, 8)
"""After how many turns an amount is told."""


def _amount_json(found: Amounts) -> dict[str, Any]:
    """An amount in uses' worth; an end that grows without end is nothing."""
    low, high = found.plateau
    return {
        "least": None if low is None else float(low),
        "most": None if high is None else float(high),
        "after turns": {
            str(turns): [float(end) for end in found.after_turns(turns)]
            for turns in TURNS
        },
    }


def _family_json(family: Family, world: World) -> dict[str, Any]:
    low, high = family.plateau
    return {
        "family": world.base.label(family.kind),
        "state": STATES[family.state],
        "films": [_named(film, world) for film in family.films],
        "least": None if low is None else float(low),
        "most": None if high is None else float(high),
    }


def _change_json(
    change: Change | None, found: Accounted, world: World
) -> dict[str, Any] | None:
    if change is None:
        return None
    at = found.built.schedule.use_name(change.use)
    return {
        "in the place of": change.old,
        "use": change.new,
        "how often": str(change.how),
        "first": at,
        "better": [_named(film, world) for film in change.better],
        "kept": [print_want(want) for want in change.kept],
        "milder": change.milder,
    }


def _kept_json(kept: Kept, world: World) -> dict[str, Any]:
    def wait(found: Wait | None) -> dict[str, Any] | None:
        if found is None:
            return None
        named = _named(found.film, world)
        return {**named, "washes": found.washes, "days": found.days}

    return {
        "wish": print_want(kept.want),
        "kept": kept.kept,
        "in part": kept.in_part,
        "late": [_named(film, world) for film in kept.late],
        "wait for all": wait(kept.whole),
        "wait of the late": wait(kept.overdue),
        "wait for a part": wait(kept.part),
        "together": kept.most,
    }


def _bound(bound: Bound) -> dict[str, Any]:
    return {"clears": bound.clears, "adds": bound.adds, "most": bound.most}


def _named(film: Film, world: World) -> dict[str, Any]:
    return {"film": world.base.label(film.former), "from": film.source}
