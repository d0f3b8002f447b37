"""What a routine comes to: its account, and its plan, each with its reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from abluent.engine.faults import CommandError, Problem, as_data
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import (
    BuildUp,
    Step,
    build_up,
    effects,
    washed_as,
    washes_of,
)
from abluent.engine.routines.buildup_why import account_rows
from abluent.engine.routines.plan import Planned, plan
from abluent.engine.routines.plan_purchase import Purchases, purchases
from abluent.engine.routines.plan_why import plan_rows, stuck_rows, unconditioned
from abluent.engine.routines.routine import schedule
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_routine

PLANS_SHOWN = 5


@dataclass(frozen=True)
class Accounted:
    """The account of a routine.

    Args:
        routine: the routine.
        built: what builds up under it.
        strong: strong washes after which nothing conditions, each with its reasons.
    """

    routine: ast.Routine
    built: BuildUp
    strong: Sequence[Member]

    def answer(self) -> Answer:
        """The account with the reasons of every film, as an answer to be traced."""
        rows = [
            row
            for account in self.built.accounts
            for row in account_rows(self.built, account)
        ]
        told = "what builds up under this routine"
        return Answer(print_routine(self.routine), told, [*rows, *self.strong])


@dataclass(frozen=True)
class PlannedWithReasons:
    """The plan of a routine, or why there is none, with what would do.

    Args:
        planned: the plan.
        buy: what to buy where there is none.
        rows: the reasons of the first plan, or of there being none.
    """

    planned: Planned
    buy: Purchases | None
    rows: Sequence[Row]

    def answer(self) -> Answer:
        """The plan as an answer to be traced."""
        told = "the washes for this routine"
        return Answer(print_routine(self.planned.routine), told, self.rows)


def account_of(routine: ast.Routine, world: World) -> Accounted:
    """Account for what a routine builds up.

    Raises:
        DataError: the routine contradicts itself, or has washes without a product.
    """
    try:
        world = washed_as(routine, world)
        days = schedule(routine, washes_of(world))
        bare = next((u for u in routine.uses if u.wash and not u.product), None)
        if bare is not None:
            raise GrammarError(
                "this wash has no product, and an account needs one",
                routine.text,
                bare.span,
                hint='write `wash with "…"`, or let `abluent plan` choose',
                name=routine.place,
            )
    except GrammarError as error:
        raise as_data(error) from None
    washes = list(dict.fromkeys(use.product for use in days.washes))
    done = effects(world, days.products, washes, routine.counting)
    strong = unconditioned(world, days)
    return Accounted(routine, build_up(days, done), strong)


def plan_of(
    routine: ast.Routine, world: World, most: int = PLANS_SHOWN
) -> PlannedWithReasons:
    """Plan the washes for a routine.

    Args:
        routine: the routine, its products named as on the shelf.
        world: the base and the shelf.
        most: how many plans to find.

    Raises:
        DataError: the routine contradicts itself, or asks for nothing.
        CommandError: the solver is not installed.
    """
    try:
        planned = plan(routine, world, most)
        eased = _counting_parts(routine)
        if planned.stuck and eased is not None:
            planned = plan(eased, world, most)
    except GrammarError as error:
        raise as_data(error) from None
    except ImportError:
        what = "plans are made by a solver that is not installed"
        raise CommandError(Problem(what, hint="pip install 'abluent[plan]'")) from None
    rows: list[Row] = []
    if planned.shown.plans:
        rows += plan_rows(planned, planned.shown.plans[0])
    if planned.stuck:
        rows = [*stuck_rows(planned), *rows]
    return PlannedWithReasons(planned, purchases(planned, world), rows)


def _counting_parts(routine: ast.Routine) -> ast.Routine | None:
    """The routine with a wash that surely takes a part counted as clearing.

    Few films are known to come off whole, so a plan that waits for that often does not
    exist. The plan then says, among its lines, that parts are counted. Nothing where
    the routine itself says how they count.
    """
    if routine.counting.partly != ast.EITHER:
        return None
    counting = replace(routine.counting, partly=ast.CLEARING)
    return replace(routine, counting=counting)


def conditions_of(routine: ast.Routine, world: World) -> Sequence[str]:
    """Under what a routine is washed: what it says, then the shelf, by symbol."""
    return washed_as(routine, world).stated


def done(step: Step, world: World) -> str:
    """What a use does to a film, in words of the base: leaves it, or a verdict."""
    return world.base.label(world.base.term(step.does)) if step.does else "leaves"
