"""The plan of a routine: for each of its wash days a wash that will do.

`plan` reads what the routine asks for, sets up the problem and solves it. Where there
is no plan it finds out why, and what would do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from abluent.engine.base.contract import COUNTS_STRONG, MILDER, UNREAD_AT_WORK
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines import plan_problem as problems
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import (
    Effects,
    Film,
    effects,
    rinses_of,
    washed_as,
    washes_of,
)
from abluent.engine.routines.conditioning import conditioners
from abluent.engine.routines.gentler import harsh
from abluent.engine.routines.how_often import unadvised
from abluent.engine.routines.plan_eased import eased
from abluent.engine.routines.plan_phrases import is_strong, named_films, named_washes
from abluent.engine.routines.plan_problem import Need, PlanProblem, Within
from abluent.engine.routines.plan_solver import (
    Plans,
    best_plans,
    conflict,
    fewest_strong,
)
from abluent.engine.routines.routine import Schedule, repeated, schedule, unrolled
from abluent.engine.routines.wishes import Wishes
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast


@dataclass(frozen=True)
class Planned:
    """What came of planning a routine.

    Args:
        routine: the routine.
        schedule: its uses; the washes are those that were typed.
        effects: what the products leave and the washes at hand do.
        problem: what a plan must keep to.
        plans: the plan to follow, then others that nothing compares with it; none
            where there is no plan.
        stuck: films that no wash at hand surely clears.
        late: needs that no wash day meets in time, whatever the wash.
        clash: films and wants that cannot be kept together, where it is not that.
        rest: the plans where what is stuck or late is left alone.
        met: films that are stuck and that `rest` meets with washes that may take some.
        tried: over how many days a turn was tried; none for a calendar.
    """

    routine: ast.Routine
    schedule: Schedule
    effects: Effects
    problem: PlanProblem
    plans: Plans
    stuck: tuple[Film, ...] = ()
    late: tuple[Need, ...] = ()
    clash: tuple[tuple[Film, ...], tuple[str, ...]] = ((), ())
    rest: Plans | None = None
    met: tuple[Film, ...] = ()
    tried: tuple[int, ...] = ()

    @property
    def case(self) -> Case:
        """Where everything about the washes and films follows."""
        assert self.effects.case is not None
        return self.effects.case

    def strong(self, wash: str) -> bool:
        """Whether a wash counts as strong: see `routine.rules`."""
        return wash in self.problem.strong

    @property
    def counted(self) -> list[str]:
        """The products whose films decide which washes count as strong."""
        return fixed_products(self.schedule)

    @property
    def nothing_to_clear(self) -> bool:
        """Whether the routine, with its plan, leaves nothing that is to be cleared."""
        first = next(iter(self.plans.plans), None)
        return not any(
            not need.wash or (first and first.chosen[need.at] == need.wash)
            for need in self.problem.needs
        )

    @property
    def shown(self) -> Plans:
        """The plans, or those where what is stuck or late is left alone."""
        return self.plans if self.plans.plans or self.rest is None else self.rest


def plan(routine: ast.Routine, world: World, most: int = 5) -> Planned:
    """The washes that keep off what a routine asks to be kept off.

    Args:
        routine: the routine, its products named as on the shelf.
        world: the base and the shelf.
        most: how many plans to find.

    Raises:
        GrammarError: the routine contradicts itself, or asks for nothing.
        SolverError: the solver gave up.
    """
    return pose(routine, world).solved(most)


def pose(routine: ast.Routine, world: World) -> Posed:
    """What is to be solved to plan a routine, over the days that do best.

    Raises:
        GrammarError: the routine contradicts itself, or asks for nothing.
        SolverError: the solver gave up.
    """
    world = washed_as(routine, world)
    days = unrolled(schedule(routine, washes_of(world)))
    if not problems.slots_of(days):
        raise _wrong(routine, "the routine has no wash to plan", _LINE)
    washes = at_hand(routine, world)
    fixed = fixed_products(days)
    rinses = [name for name in rinses_of(world) if name in fixed]
    leaving = dict.fromkeys([*fixed, *conditioners(world)])
    done = effects(world, leaving, [*washes, *rinses], routine.counting, used=fixed)
    washes = _advised(routine, done, washes)

    def posed(days: Schedule) -> Posed:
        return _posed(routine, set_up(routine, world, days, done, washes), days, done)

    best = posed(days)
    tried = [best]
    if days.turns and not routine.cycle and (best.fewest != 0 or best.unmet):
        turn = schedule(routine, washes_of(world))
        tried += [posed(each) for each in _turns(routine, turn, days)]
        other = min(tried, key=lambda each: (*each.marks, each.days.days))
        best = other if other.marks < best.marks else best
    lengths = sorted(each.days.days for each in tried)
    return replace(best, tried=tuple(lengths if days.turns else ()))


def _advised(routine: ast.Routine, done: Effects, washes: list[str]) -> list[str]:
    """The washes but those that nobody is advised to take and she does not use now."""
    assert done.case is not None
    used = {line.product for line in routine.uses}
    some = [w for w in washes if w in used or not unadvised(done.case, w)]
    return some or washes


@dataclass(frozen=True)
class Posed:
    """What is to be solved over some days.

    Args:
        routine: see `Planned`.
        days: the days.
        effects: see `Planned`.
        problem: what a plan must keep to.
        left: the same where what is stuck or late is left alone.
        stuck: see `Planned`.
        late: see `Planned`.
        met: see `Planned`.
        tried: see `Planned`.
    """

    routine: ast.Routine
    days: Schedule
    effects: Effects
    problem: PlanProblem
    left: PlanProblem
    stuck: tuple[Film, ...]
    late: tuple[Need, ...]
    met: tuple[Film, ...]
    tried: tuple[int, ...] = ()

    @cached_property
    def fewest(self) -> int | None:
        """How few strong washes a plan may have; nothing if there is no plan."""
        return fewest_strong(self.left)

    @property
    def unmet(self) -> bool:
        """Whether something is stuck that some wash may take, and is not met with."""
        shares = Shares(self.effects)
        return any(
            shares.of(wash, film).most
            for film in {*self.stuck} - {*self.met} - self.effects.level
            for wash in self.problem.washes
        )

    @property
    def marks(self) -> tuple[bool, bool, int, Fraction]:
        """What is better over these days than over others; the less the better."""
        none = self.fewest is None
        often = Fraction(self.fewest or 0, self.days.days)
        return none, bool(self.stuck or self.late), -len(self.met), often

    def solved(self, most: int) -> Planned:
        """The plan, or that of what is left where something cannot be had.

        Raises:
            SolverError: the solver gave up.
        """
        found = best_plans(self.left, most)
        eased = bool(self.late or self.stuck)
        clash = ([], []) if eased or found.plans else conflict(self.problem)
        return Planned(
            self.routine,
            self.days,
            self.effects,
            self.problem,
            Plans((), True, {}) if eased else found,
            self.stuck,
            self.late,
            (tuple(clash[0]), tuple(clash[1])),
            found if eased else None,
            self.met,
            self.tried,
        )


def _posed(
    routine: ast.Routine, problem: PlanProblem, days: Schedule, done: Effects
) -> Posed:
    """What is to be solved, with what cannot be had left alone."""
    late = tuple(need for need in problem.needs if not need.slots and not need.wash)
    stuck = problems.unclearable(problem)
    problem = problem.without(_level_of_washes(problem, done))
    left, met = problem, tuple[Film, ...]()
    if late or stuck:
        left, met = eased(problem, stuck, [need.film for need in late], done)
    return Posed(routine, days, done, problem, left, stuck, late, met)


def _level_of_washes(problem: PlanProblem, done: Effects) -> set[Film]:
    """Films of washes that no wash surely clears and that level off by themselves."""
    able = {film for each in problem.clears.values() for film in each}
    left = {need.film for need in problem.needs if need.wash}
    return (left & done.level) - able


MOST_TURN = 28
"""Days of a repeated turn at the most, but for a turn that is that long itself."""

MOST_SLOTS = 12
"""How many washes a repeated turn has at the most."""


def _turns(routine: ast.Routine, turn: Schedule, days: Schedule) -> Iterator[Schedule]:
    """A turn as often as its washes may be strong more seldom so, but for some days.

    Where films may wait for every second wash, every second can be a milder one; where
    they may wait for 14 days, so can a strong one; but a wash that comes on other days
    in the next turn may wait otherwise than its wishes say, so each length is tried.
    """
    slots = len(problems.slots_of(turn))
    for times in range(1, MOST_SLOTS // slots + 1):
        length = turn.days * times
        if times * slots > 1 and length <= MOST_TURN and length != days.days:
            yield repeated(turn, times)


_LINE = "add a line such as: wash twice a week"


def fixed_products(days: Schedule) -> list[str]:
    """What is used whatever a plan chooses, water alone among it."""
    fixed = (u.product for u in days.uses if not u.wash or u.product == WATER)
    return list(dict.fromkeys(fixed))


def at_hand(routine: ast.Routine, world: World) -> list[str]:
    """The washes of the shelf that a routine lets a plan choose from.

    Raises:
        GrammarError: there is none.
    """
    found = washes_of(world)
    if not found:
        raise _wrong(routine, "there is no wash on the shelf", "add one to the shelf")
    for want in routine.wants:
        if isinstance(want, ast.Only):
            kept = named_washes(routine, world, want.phrase, want.span)
            found = [name for name in found if name in kept]
            if not found:
                raise GrammarError(
                    "no wash on the shelf is left to choose from",
                    routine.text,
                    want.span,
                    hint="leave this line out, or name other washes",
                    name=routine.place,
                )
    return found


def set_up(
    routine: ast.Routine,
    world: World,
    days: Schedule,
    done: Effects,
    washes: Sequence[str],
) -> PlanProblem:
    """The problem of a routine, with some washes at hand.

    Raises:
        GrammarError: a phrase in it stands for nothing.
    """
    assert done.case is not None
    films = {film for each in done.left.values() for film in each}
    strong = _which(done.case, COUNTS_STRONG, washes)
    within: dict[Film, list[Within]] = {}
    limits: list[problems.Limit] = []
    for want in routine.wants:
        if isinstance(want, ast.Clear):
            for film in named_films(routine, world, want, films):
                within.setdefault(film, []).append(Within(want.every, want.days))
        elif isinstance(want, ast.AtMost | ast.Apart):
            if is_strong(want.phrase):
                some = strong
            else:
                some = named_washes(routine, world, want.phrase, want.span)
            limits += _limits(days, want, some)
    pairs = done.case.model.match(MILDER, (None, None))
    named = ((world.name(a), world.name(b)) for a, b in pairs)
    milder = frozenset(pair for pair in named if {*pair} <= {*washes})
    slots = problems.slots_of(days)
    return PlanProblem(
        slots,
        tuple(washes),
        {w: frozenset(f for f in films if done.surely(w, f)) for w in washes},
        problems.needs(days, done, washes, within),
        tuple(limits),
        frozenset((a, b) for a, b in milder if (b, a) not in milder),
        strong,
        _which(done.case, UNREAD_AT_WORK, washes),
        tuple(use.product for use in slots),
        problems.ills(days, done, washes, Shares(done)),
        {wash: len(harsh(done.case, wash)) for wash in washes},
    )


def _which(case: Case, predicate: str, washes: Iterable[str]) -> frozenset[str]:
    """The washes of which something holds."""
    symbol = case.world.symbol
    return frozenset(w for w in washes if case.model.holds(predicate, (symbol(w),)))


def _limits(
    days: Schedule, want: ast.AtMost | ast.Apart, washes: Iterable[str]
) -> Iterator[problems.Limit]:
    from abluent.grammar.routine.printer import print_want  # noqa: PLC0415 - needs lark

    if isinstance(want, ast.Apart):
        return problems.apart(days, print_want(want), washes)
    return problems.at_most(days, print_want(want), washes, want.most, want.days)


def wishes_of(routine: ast.Routine, world: World, done: Effects) -> Wishes:
    """The wishes of a routine, with what their phrases mean on this shelf.

    Raises:
        GrammarError: a phrase in it stands for nothing.
    """
    assert done.case is not None
    every = {film for each in done.left.values() for film in each}
    strong = _which(done.case, COUNTS_STRONG, washes_of(world))
    films: dict[ast.Clear, frozenset[Film]] = {}
    washes: dict[ast.Want, frozenset[str]] = {}
    for want in routine.wants:
        if isinstance(want, ast.Clear):
            films[want] = frozenset(named_films(routine, world, want, every))
        elif is_strong(want.phrase):
            washes[want] = strong
        else:
            washes[want] = named_washes(routine, world, want.phrase, want.span)

    def limits(days: Schedule, want: ast.AtMost | ast.Apart) -> list[problems.Limit]:
        return [*_limits(days, want, washes[want])]

    return Wishes(done, routine.wants, films, washes, limits)


def _wrong(routine: ast.Routine, message: str, hint: str) -> GrammarError:
    called = f'"{routine.name}": ' if routine.name else ""
    return GrammarError(f"{called}{message}", hint=hint)
