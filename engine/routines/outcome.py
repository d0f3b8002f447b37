"""What a routine comes to: its account, and its plan, each with its reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from abluent.engine.base.contract import COUNTS_STRONG, STRONG
from abluent.engine.faults import CommandError, Problem, as_data, installed_with
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.advice import Change, advised
from abluent.engine.routines.advice_tried import MOST_TRIED
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import (
    BuildUp,
    Effects,
    Film,
    Step,
    build_up,
    effects,
    rinses_of,
    washed_as,
    washes_of,
)
from abluent.engine.routines.buildup_why import account_rows
from abluent.engine.routines.conditioning import (
    Care,
    best_conditioner,
    care,
    conditioners,
)
from abluent.engine.routines.how_often import how_often
from abluent.engine.routines.noted import for_whom, no_strong
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    family_of,
    no_reason,
    takers,
)
from abluent.engine.routines.perhaps import (
    Could,
    Perhaps,
    Stronger,
    before_buying,
    could_take,
    perhaps,
    stronger,
)
from abluent.engine.routines.plan import Planned, fixed_products, plan, wishes_of
from abluent.engine.routines.plan_besides import Besides, beside_plan
from abluent.engine.routines.plan_problem import Worth, slots_of
from abluent.engine.routines.plan_purchase import Purchases, Remedy, purchases, remedies
from abluent.engine.routines.plan_swap import Swap, swapped
from abluent.engine.routines.plan_why import plan_rows, stuck_rows, unconditioned
from abluent.engine.routines.routine import WEEK, Schedule, schedule, unrolled
from abluent.engine.routines.unadvised import unadvised
from abluent.engine.routines.wishes import Kept, Wishes
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_routine, print_use

PLANS_SHOWN = 5


@dataclass(frozen=True)
class Accounted:
    """The account of a routine.

    Args:
        routine: the routine.
        built: what builds up under it.
        strong: strong washes after which nothing conditions, each with its reasons.
        changes: the changes that help most, one after the other; none if none helps.
        kept: whether each of its wishes is kept.
        then: whether each is kept with the changes.
        parts: whether, for its wishes, a wash that surely takes a part clears.
        care: what the routine, with the changes, lacks of conditioning.
        perhaps: products at hand, not used then, that may take what no wash of it can.
        stronger: a wash at hand that is stronger on what comes off in part at most.
        buy: what to buy for films that are still in trouble after the changes and of
            which no wash at hand surely takes a part.
        never: films of which no surfactant tried surely takes a part.
        could: what is known to take those that no wash at hand can.
        conditioner: what at hand conditions best after a strong wash; may be none.
    """

    routine: ast.Routine
    built: BuildUp
    strong: Sequence[Member]
    changes: tuple[Change, ...] = ()
    kept: Sequence[Kept] = ()
    then: Sequence[Kept] = ()
    parts: bool = False
    care: Care | None = None
    perhaps: Sequence[Perhaps] = ()
    stronger: Sequence[Stronger] = ()
    buy: Sequence[Remedy] = ()
    never: Sequence[Film] = ()
    could: Sequence[Could] = ()
    conditioner: str = ""

    @property
    def change(self) -> Change | None:
        """The change that helps most."""
        return self.changes[0] if self.changes else None

    @property
    def after(self) -> Overview:
        """What becomes of the films with the changes."""
        return self.changes[-1].overview if self.changes else self.overview

    @cached_property
    def overview(self) -> Overview:
        """What becomes of its films, family by family."""
        return Overview(self.built, Shares(self.built.effects))

    def strong_at_hand(self, wash: str) -> bool:
        """Whether a wash counts as strong for what the routine leaves."""
        case = self.built.effects.case
        assert case is not None
        return case.model.holds(COUNTS_STRONG, (case.world.symbol(wash),))

    def strong_to_skin(self, wash: str) -> bool:
        """Whether a wash is a strong one, whatever the routine leaves."""
        case = self.built.effects.case
        assert case is not None
        return case.model.holds(STRONG, (case.world.symbol(wash),))

    def seldom(self, wash: str = "") -> int:
        """In how many days a wash is advised that is not surely needed.

        Args:
            wash: a wash at hand; none for one to buy.
        """
        case = self.built.effects.case
        assert case is not None
        often = how_often(case.world)
        strong = not wash or self.strong_to_skin(wash)
        return often.seldom if strong else WEEK

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


def account_of(routine: ast.Routine, world: World) -> Accounted:
    """Account for what a routine builds up.

    Raises:
        DataError: the routine contradicts itself, or has washes without a product.
    """
    try:
        world = for_whom(routine, washed_as(routine, world))
        days = schedule(routine, washes_of(world))
        bare = next((u for u in routine.uses if u.wash and not u.product), None)
        if bare is not None:
            raise GrammarError(
                "this wash has no product, and an account needs one",
                routine.text,
                bare.span,
                hint=f"write: {_with_a_product(bare, washes_of(world))}; or let "
                "`abluent plan` choose",
                name=routine.place,
            )
    except GrammarError as error:
        raise as_data(error) from None
    kinds = {name: each.kind for name, each in world.products.items()}
    washes = [use.product for use in days.washes]
    hand = washes_of(world)[:MOST_TRIED]
    done = effects(
        world,
        dict.fromkeys([*days.products, *conditioners(world)]),
        dict.fromkeys([*washes, *hand, *rinses_of(world)[:MOST_TRIED]]),
        routine.counting,
        used=fixed_products(days),
    )
    built = build_up(days, done)
    try:
        wishes, parts = _wishes(routine, world, done, hand)
    except GrammarError as error:
        raise as_data(error) from None
    mild = no_strong(routine, world.base)
    changes = advised(built, done, kinds, wishes, never=mild)
    shares = Shares(done)
    then = changes[-1].overview if changes else Overview(built, shares)
    after = then.built.schedule
    lacking = _lacking(then, hand)
    buy: Sequence[Remedy] = ()
    never = lacking
    if any(film.source != WATER for film in lacking):
        fixed = fixed_products(days)
        buy, never = remedies(lacking, world, routine.counting, fixed, mild=mild)
    buy, harder = before_buying(buy, stronger(then, world), then, world)
    some = perhaps(then, world)
    if mild:
        harder, some = (), [each for each in some if not _strong(done, each.name)]
    return Accounted(
        routine,
        built,
        unconditioned(world, days),
        changes,
        wishes.kept(unrolled(days)),
        wishes.kept(after),
        parts,
        _care_after(changes, after, done, shares, world),
        some,
        harder,
        buy,
        never,
        () if mild else could_take(never, then),
        best_conditioner(after, built.schedule, done, shares),
    )


def _strong(done: Effects, wash: str) -> bool:
    """Whether a wash is a strong one, whatever is left."""
    case = done.case
    return case is not None and case.model.holds(STRONG, (case.world.symbol(wash),))


def _care_after(
    changes: Sequence[Change],
    after: Schedule,
    done: Effects,
    shares: Shares,
    world: World,
) -> Care | None:
    """What a routine with its changes lacks of conditioning."""
    concern = {family_of(film, world) for each in changes for film in each.better}
    return care(after, done, shares, changes[0].days if changes else None, concern)


def _wishes(
    routine: ast.Routine, world: World, done: Effects, hand: Sequence[str]
) -> tuple[Wishes, bool]:
    """The wishes, and whether a part counts as cleared for them, as in a plan."""
    found = wishes_of(routine, world, done)
    eased = _counting_parts(routine)
    films = found.named
    whole = all(any(done.surely(w, f) for w in hand) for f in films)
    if eased is None or whole:
        return found, False
    counted = replace(done, counting=eased.counting)
    return wishes_of(eased, world, counted), True


def _lacking(overview: Overview, hand: Sequence[str]) -> tuple[Film, ...]:
    """Films that build up, or may, of which no wash at hand surely takes a part.

    Those that are no reason for a stronger wash are left out.
    """
    families = [e for e in overview.of(*TROUBLE) if not no_reason(overview, e)]
    bad = (film for each in families for film in each.films)
    shares = overview.shares
    return tuple(f for f in bad if not any(shares.of(w, f).least for w in hand))


def _with_a_product(line: ast.UseLine, washes: Sequence[str]) -> str:
    """The line of a wash with a wash of the shelf, or with water alone."""
    return print_use(replace(line, product=washes[0] if washes else WATER))


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
        planned = plan(routine, world, most)
        eased = _counting_parts(routine)
        if planned.stuck and eased is not None:
            planned = plan(eased, world, most)
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
    return PlannedWithReasons(
        planned,
        purchases(first, world),
        rows,
        beside,
        _now(first) if beside else None,
        beside_plan(planned, beside[0].chosen) if beside else None,
        swap,
        _care(planned, beside[0]) if beside else None,
        first,
        _conditioner(planned, beside[0]) if beside else "",
        _left_out(planned, world),
    )


def _left_out(planned: Planned, world: World) -> tuple[list[str], bool]:
    """The washes that the wishes leave out and that take some of what is stuck.

    Beside them whether they surely do.
    """
    some = [w for w in washes_of(world) if w not in planned.problem.washes]
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
