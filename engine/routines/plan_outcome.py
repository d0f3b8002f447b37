"""What a plan comes to: the washes, what comes of them, and the reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from abluent.engine.base.contract import COUNTS_STRONG
from abluent.engine.faults import CommandError, Problem, as_data, installed_with
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.world.world import World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import (
    Effects,
    build_up,
    effects,
    washed_as,
    washes_of,
)
from abluent.engine.routines.conditioning import Care, best_conditioner, care
from abluent.engine.routines.gentler import Gentler, gentler, overdone
from abluent.engine.routines.how_often import unadvised
from abluent.engine.routines.noted import care_needed, for_whom
from abluent.engine.routines.outcome import Accounted, account_of
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    family_of,
    minded,
    takers,
)
from abluent.engine.routines.plan import Planned, pose, wishes_of
from abluent.engine.routines.plan_besides import Besides, Swap, beside_plan, swapped
from abluent.engine.routines.plan_eased import counting_parts
from abluent.engine.routines.plan_problem import Worth, slots_of
from abluent.engine.routines.plan_purchase import Purchases, purchases
from abluent.engine.routines.plan_why import plan_rows, stuck_rows
from abluent.engine.routines.routine import unrolled
from abluent.engine.routines.wishes import Kept, Wishes
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_routine

PLANS_SHOWN = 5
"""How many plans are looked for."""


@dataclass(frozen=True)
class Beside:
    """A wash for every slot, and what comes of it.

    Args:
        chosen: the washes, slot by slot.
        worth: what they come to by the wishes that count something.
        overview: what becomes of the films.
        kept: whether each wish of the routine is kept.
    """

    chosen: tuple[str, ...]
    worth: Worth
    overview: Overview
    kept: Sequence[Kept]

    @property
    def changed_share(self) -> float:
        """How many washes change from now, a day."""
        return self.worth.changed / self.overview.built.schedule.days

    @property
    def counts(self) -> Counter[str]:
        """How often each wash is used."""
        return Counter(self.chosen)


@dataclass(frozen=True)
class PlannedWithReasons:
    """The plan of a routine, or why there is none, with what would do.

    Args:
        planned: the plan.
        buy: what to buy where there is none, or only one with a swap.
        rows: the reasons of the first plan, or of there being none.
        beside: the first plans, each with what comes of it.
        now: what comes of the washes that the routine names, where it names all.
        besides: a wash in the place of another that does what the plan cannot do.
        swap: a product in the place of one that leaves what no wash at hand clears,
            with which it is planned.
        care: what the plan to follow lacks of conditioning.
        first: what came of planning without the swap.
        conditioner: what at hand conditions best after a strong wash; may be none.
        left_out: washes of the shelf that its wishes leave out and that take a part of
            what no wash of the plan surely takes, and whether they surely do.
        overdone: strong washes that the plan to follow has more often than is advised.
        gentler: a wash at hand that is gentler than one of those, and does as much.
        account: the account of the routine, where the wishes alone do not say what
            is best: not all of them can be kept, or a wash would come too often, or
            more seldom than is advised.
    """

    planned: Planned
    buy: Purchases | None
    rows: Sequence[Row]
    beside: Sequence[Beside] = ()
    now: Beside | None = None
    besides: Besides | None = None
    swap: Swap | None = None
    care: Care | None = None
    first: Planned | None = None
    conditioner: str = ""
    left_out: tuple[Sequence[str], bool] = ((), False)
    overdone: Sequence[str] = ()
    gentler: Gentler | None = None
    account: Accounted | None = None

    @property
    def settled(self) -> bool:
        """Whether what the account advises keeps all that the plan keeps.

        So it is too where it advises nothing, as all is well as it is.
        """
        account = self.account
        if account is None or not self.beside:
            return False
        then = {each.want for each in account.then if each.kept}
        helps = account.changes or account.oftener
        kept = all(each.want in then for each in self.kept if each.kept)
        return bool(helps or len(then) == len(self.kept)) and kept

    @property
    def judged(self) -> Effects:
        """What the washes do, to what is left before a swap as well."""
        return (self.first or self.planned).effects

    @property
    def kept(self) -> Sequence[Kept]:
        """Whether each wish is kept by the plan to follow."""
        return self.beside[0].kept if self.beside else ()

    def answer(self) -> Answer:
        """The plan as an answer to be traced."""
        told = "the washes for this routine"
        return Answer(print_routine(self.planned.routine), told, self.rows)


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
    world = for_whom(routine, world)
    try:
        posed, eased = pose(routine, world), counting_parts(routine)
        if posed.stuck and eased is not None:
            posed = pose(eased, world)
        planned = posed.solved(most)
    except GrammarError as error:
        raise as_data(error) from None
    except ImportError:
        what = "plans are made by a solver that is not installed"
        raise CommandError(Problem(what, hint=installed_with("plan"))) from None
    first, swap = planned, None
    if (found := swapped(planned, world, most)) is not None:
        planned, swap = found
    rows: list[Row] = []
    if planned.shown.plans:
        rows += plan_rows(planned, planned.shown.plans[0])
    if planned.stuck:
        rows = [*stuck_rows(planned), *rows]
    wishes = wishes_of(planned.routine, planned.case.world, planned.effects)
    beside = [_beside(planned, p.chosen, wishes) for p in planned.shown.plans[:2]]
    often = list[str]()
    if beside:
        schedule = unrolled(beside[0].overview.built.schedule)
        often = overdone(routine, schedule, planned.effects, world)
    account = None  # with another conditioner the plan itself says what is best
    if swap is None:
        account = _account(routine, world, planned, beside, overdone=bool(often))
    return PlannedWithReasons(
        planned,
        purchases(first, world),
        rows,
        beside,
        _now(first) if beside else None,
        beside_plan(planned, beside[0].chosen) if beside else None,
        swap,
        care_needed(_care(planned, beside[0]), routine, world) if beside else None,
        first,
        _conditioner(planned, beside[0]) if beside else "",
        _left_out(planned, world),
        often,
        gentler(often, planned.problem.washes, beside[0].overview) if often else None,
        account,
    )


def _account(
    routine: ast.Routine,
    world: World,
    planned: Planned,
    beside: Sequence[Beside],
    *,
    overdone: bool,
) -> Accounted | None:
    """The account, where the wishes alone do not say what is best."""
    if not all(use.product for use in routine.uses if use.wash):
        return None
    found = account_of(routine, world)
    level = planned.effects.level
    lacking = not beside or bool({*planned.stuck} - level) or bool(planned.late)
    if beside and found.changes and not found.changes[0].milder:
        kept, now = {e.want for e in beside[0].kept if e.kept}, beside[0].overview
        lacking = kept <= {each.want for each in found.then if each.kept}
        lacking = lacking and _strong_share(found.after) <= _strong_share(now)
        lacking = lacking and all(each.use.wash for each in found.changes)
        lacking = lacking and _changed_share(found) < beside[0].changed_share
        less = _trouble(found.after, world) < _trouble(beside[0].overview, world)
        lacking = lacking or less
    return found if lacking or overdone or found.oftener else None


def _changed_share(found: Accounted) -> float:
    """How many washes the changes of an account change, a day."""
    days, then = found.changes[0].days, found.after.built.schedule
    pairs = zip(slots_of(days), slots_of(then), strict=True)
    return sum(a.product != b.product for a, b in pairs) / days.days


def _strong_share(overview: Overview) -> float:
    """How many strong washes there are a day."""
    days, case = overview.built.schedule, overview.built.effects.case
    assert case is not None
    strong = [
        use
        for use in days.washes
        if case.model.holds(COUNTS_STRONG, (case.world.symbol(use.product),))
    ]
    return len(strong) / days.days


def _trouble(overview: Overview, world: World) -> int:
    """How many families build up, or may, that one washes harder for."""
    some = (each.film for each in overview.told if each.state in TROUBLE)
    return len({family_of(film, world) for film in minded(some, world)})


def _left_out(planned: Planned, world: World) -> tuple[list[str], bool]:
    """The washes that the wishes leave out and that take some of what is stuck.

    Beside them whether they surely do.
    """
    hand, case = {*planned.problem.washes}, planned.case
    some = [w for w in washes_of(world) if w not in hand and not unadvised(case, w)]
    films = [film for film in planned.stuck if film not in planned.effects.level]
    if not (some and films):
        return [], False
    world = washed_as(planned.routine, world)
    done = effects(world, planned.counted, some, planned.routine.counting)
    able = [w for w in some if not (done.case and unadvised(done.case, w))]
    sure = takers(done, able, films)
    shares = Shares(done)
    may = [w for w in able if all(shares.of(w, film).most for film in films)]
    return (sure, True) if sure else (may, False)


def _now(planned: Planned) -> Beside | None:
    """What comes of the washes that a routine names, where it names all."""
    now = planned.problem.now
    if not all(now) or not {*now} <= {*planned.problem.washes}:
        return None
    wishes = wishes_of(planned.routine, planned.case.world, planned.effects)
    return _beside(planned, now, wishes)


def _care(planned: Planned, first: Beside) -> Care | None:
    """What a plan lacks of conditioning, beside what is used now where that is said."""
    overview, now = first.overview, planned.schedule
    before = now if all(planned.problem.now) else None
    asked = {need.film for need in planned.problem.needs}
    concern = {family_of(film, planned.case.world) for film in asked}
    days = overview.built.schedule
    return care(days, planned.effects, overview.shares, before, concern)


def _conditioner(planned: Planned, first: Beside) -> str:
    """What at hand conditions best after a strong wash."""
    days, shares = first.overview.built.schedule, first.overview.shares
    return best_conditioner(days, planned.schedule, planned.effects, shares)


def _beside(planned: Planned, chosen: tuple[str, ...], wishes: Wishes) -> Beside:
    """What comes of a wash for every slot of a routine."""
    done = planned.effects
    slots = slots_of(planned.schedule)
    days = planned.schedule.with_washes(
        {use.place: wash for use, wash in zip(slots, chosen, strict=True)}
    )
    return Beside(
        chosen,
        planned.problem.worth(chosen),
        Overview(build_up(days, done), Shares(done)),
        wishes.kept(days),
    )
