"""What a routine comes to: its account, with what to do next and the reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from abluent.engine.base.contract import COUNTS_STRONG, STRONG
from abluent.engine.faults import as_data
from abluent.engine.questions.answers.answer import Answer, Member
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.advice import Change, advised
from abluent.engine.routines.advice_tried import MOST_TRIED, How
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
from abluent.engine.routines.gentler import Gentler, gentler, overdone, rare
from abluent.engine.routines.how_often import how_often, purpose, unadvised
from abluent.engine.routines.noted import (
    care_needed,
    cared_for_seldom,
    coated,
    for_whom,
    harmed,
    no_strong,
    oily,
    well,
)
from abluent.engine.routines.noted_films import noted_film
from abluent.engine.routines.oftener import Oftener, oftener
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    State,
    family_of,
    no_reason,
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
from abluent.engine.routines.plan import fixed_products, wishes_of
from abluent.engine.routines.plan_eased import counting_parts
from abluent.engine.routines.plan_purchase import Remedy, remedies
from abluent.engine.routines.plan_why import unconditioned
from abluent.engine.routines.routine import WEEK, Schedule, schedule, unrolled
from abluent.engine.routines.wishes import Kept, Wishes
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_routine, print_use


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
        overdone: strong washes that are used too often, and no change is known for.
        mild: surfactants of a mild wash to buy in the place of such a one.
        gentler: a wash at hand that is gentler than one of those, and does as much.
        then_overdone: strong washes that a change brings too often.
        seldom_care: what conditions, and is to come after every wash; may be none.
        oftener: washes that come too seldom, for a film that a note tells of, and for
            what is left in or the water brings.
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
    overdone: Sequence[str] = ()
    mild: Sequence[Remedy] = ()
    gentler: Gentler | None = None
    then_overdone: Sequence[str] = ()
    seldom_care: str = ""
    oftener: Sequence[Oftener] = ()

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

    @cached_property
    def to_replace(self) -> str:
        """The wash that nobody is advised to take, where all that are used are such."""
        case = self.built.effects.case
        assert case is not None
        used = dict.fromkeys(use.product for use in self.built.schedule.washes)
        washes = [wash for wash in used if wash != WATER]
        against = washes and all(unadvised(case, wash) for wash in washes)
        return washes[0] if against and not self.changes else ""

    @property
    def harmed_apart(self) -> int:
        """How many days apart strong washes are where hair or skin is harmed."""
        case = self.built.effects.case
        assert case is not None
        return how_often(case.world).harmed

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
    if changes and changes[-1].milder and _better_not(changes[-1], routine, world):
        changes = changes[:-1]
    then = changes[-1].overview if changes else Overview(built, shares)
    after = then.built.schedule
    lacking = _lacking(then, hand)
    buy: Sequence[Remedy] = ()
    never = lacking
    if any(film.source != WATER for film in lacking):
        fixed = fixed_products(days)
        gently = bool(harmed(routine, world.base)) or how_often(world).apart > WEEK
        told = world, routine.counting, fixed
        buy, never = remedies(lacking, *told, mild=mild or gently)
        if gently and not mild and never:
            grow = {e.film for e in then.told if e.state is State.GROWS}
            harsher, never = remedies(never, *told)
            buy = [*buy, *(e for e in harsher if not buy or grow & {*e.films})]
    buy, harder = before_buying(buy, stronger(then, world), then, world)
    some = perhaps(then, world)
    often = overdone(routine, after if changes else unrolled(days), done, world)
    milder = gentler(often, hand, then)
    if milder is None and oily(routine, world.base):
        often = []  # nobody is sent out to buy a milder wash for what is soon oily
    mild_buy = _mild_to_buy(then, world, routine.counting) if often else ()
    after_change, often = (often, []) if changes else ([], often)
    more = _oftener(routine, changes, then, world, lacking)
    if mild:
        more = [each for each in more if not _strong(done, each.wash)]
        harder, some = (), [each for each in some if not _strong(done, each.name)]
    return Accounted(
        routine,
        built,
        unconditioned(world, days),
        changes,
        wishes.kept(unrolled(days)),
        wishes.kept(after),
        parts,
        care_needed(_care_after(changes, after, done, shares, world), routine, world),
        some,
        harder,
        buy,
        never,
        () if mild else could_take(never, then),
        best_conditioner(after, built.schedule, done, shares),
        often,
        mild_buy,
        None if changes else milder,
        after_change,
        cared_for_seldom(routine, after, done, world),
        more,
    )


def _better_not(change: Change, routine: ast.Routine, world: World) -> bool:
    """Whether a milder wash is not advised.

    All is well, or hair feels coated, or the other comes too seldom for what is left
    in between, now or with the milder one.
    """
    felt = coated(routine, world.base)
    if (
        well(routine, world.base)
        or felt
        or rare(change.old, change.days, routine, world)
    ):
        return True
    harm = harmed(routine, world.base)
    tried = (
        oftener(each, world, felt, harm) for each in (change.before, change.overview)
    )
    return any(each is not None and each.wash == change.old for each in tried)


def _oftener(
    routine: ast.Routine,
    changes: Sequence[Change],
    then: Overview,
    world: World,
    lacking: Sequence[Film],
) -> list[Oftener]:
    """The washes that come too seldom: for what a note tells of, and for what is left.

    Of one wash one thing is said; and none where the product leaves films as well of
    which no wash at hand surely takes a part.
    """
    told = noted_film(routine, then, world)
    some = {change.new for change in changes if change.how is not How.ALWAYS}
    if some and (at_first := noted_film(routine, changes[0].before, world)):
        told = at_first if at_first.wash in some else told
    base = world.base
    seldom = oftener(then, world, coated(routine, base), harmed(routine, base))
    brings = {film.source for film in lacking} - {WATER}
    if seldom is not None and brings & {film.source for film in seldom.films}:
        seldom = None
    found = [each for each in (told, seldom) if each is not None]
    return found[:1] if len({each.wash for each in found}) == 1 else found


def _mild_to_buy(
    then: Overview, world: World, counting: ast.Counting
) -> Sequence[Remedy]:
    """What mild washes take of what the routine leaves."""
    films = [
        each.film
        for each in then.told
        if each.state in {State.BOUNDED, State.CLEARED} and each.film.source != WATER
    ]
    used = fixed_products(then.built.schedule)
    return remedies(films, world, counting, used, mild=True)[0] if films else ()


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
    eased = counting_parts(routine)
    films = found.named
    whole = all(any(done.surely(w, f) for w in hand) for f in films)
    if eased is None or whole:
        return found, False
    counted = replace(done, counting=eased.counting)
    return wishes_of(eased, world, counted), True


def _lacking(overview: Overview, hand: Sequence[str]) -> tuple[Film, ...]:
    """Films that build up, or may, of which no wash at hand surely takes a part.

    Those that are no reason for a stronger wash are left out, and what a wash that is
    for more than cleaning leaves itself.
    """
    case = overview.built.effects.case
    assert case is not None
    more = {wash for wash in hand if purpose(case.world, wash)}
    families = [e for e in overview.of(*TROUBLE) if not no_reason(overview, e)]
    bad = (f for each in families for f in each.films if f.source not in more)
    shares = overview.shares
    return tuple(f for f in bad if not any(shares.of(w, f).least for w in hand))


def _with_a_product(line: ast.UseLine, washes: Sequence[str]) -> str:
    """The line of a wash with a wash of the shelf, or with water alone."""
    return print_use(replace(line, product=washes[0] if washes else WATER))


def conditions_of(routine: ast.Routine, world: World) -> Sequence[str]:
    """Under what a routine is washed: what it says, then the shelf, by symbol."""
    return washed_as(routine, world).stated


def done(step: Step, world: World) -> str:
    """What a use does to a film, in words of the base: leaves it, or a verdict."""
    return world.base.label(world.base.term(step.does)) if step.does else "leaves"
