"""Why something builds up, or does not: the account of a film as facts that follow.

The uses that matter to the film go to the reasoner as facts of the question; that a
count holds, that nothing takes a film off, follows by `routine.rules` like any other
conclusion, and has a proof that can be traced and checked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from abluent.engine.base import contract as c
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Member
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import (
    Account,
    BuildUp,
    Film,
    Step,
    counted,
    fact,
)
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.routine import tree as ast


def account_rows(built: BuildUp, account: Account) -> list[Member]:
    """The proofs of an account: its largest counts, and what never takes it off.

    Args:
        built: the build-up that the account is of.
        account: the account of one film.
    """
    film, steps = account.film, account.steps
    effects = built.effects
    assert effects.case is not None  # stated effects have no proofs
    world, schedule = effects.case.world, built.schedule
    worst, best = _largest(steps, "worst"), _largest(steps, "best")
    wets = film in effects.left.get(WATER, ())
    said = [*use_facts(world, schedule, steps, wets)]
    case = film_case(world, [film], said, _washes(steps), effects.counting)
    name = schedule.use_name
    left = of(film, world)
    goals: list[Ground] = [
        (c.AT_MOST, (*left, name(worst.use), worst.worst)),
        (c.AT_LEAST, (*left, name(best.use), best.best)),
    ]
    if schedule.turns and account.worst.most is None:
        goals.append((c.NEVER_SURELY_OFF, left))
    if schedule.turns and account.best.most is None:
        goals.append((c.NEVER_OFF, left))
    return [Member(case, Item(INGREDIENT, film.former), goal) for goal in goals]


def of(film: Film, world: World) -> tuple[Term, Term]:
    """A film as two terms."""
    return film.former, world.symbol(film.source)


def use_facts(
    world: World, schedule: Schedule, steps: Sequence[Step], wets: bool
) -> Iterator[Fact]:
    """What was used when, as far as it matters to a film; `wets` as in `use_fact`."""
    uses = list(dict.fromkeys(step.use for step in steps))
    names = [schedule.use_name(use) for use in uses]
    yield fact(c.FIRST_USE, names[0])
    for before, after in pairwise(names):
        yield fact(c.NEXT_USE, before, after)
    taking = {step.use for step in steps if step.does is not None}
    for use, name in zip(uses, names, strict=True):
        yield from use_fact(world, use, name, wets)
        if use in taking and not use.wash:
            yield fact(c.WASHED_AT, name, world.symbol(use.product))


def use_fact(world: World, use: Use, name: str, wets: bool) -> Iterator[Fact]:
    """One use as facts; `wets` adds that a wash brings its water."""
    product = world.symbol(use.product)
    if use.wash:
        yield fact(c.WASHED_AT, name, product)
    yield fact(c.PUT_ON_AT, name, product)
    if use.wash and wets and use.product != WATER:
        yield fact(c.PUT_ON_AT, name, world.known.water_symbol)


def film_case(  # noqa: PLR0913, PLR0917 - one question, described in full
    world: World,
    films: Sequence[Film],
    said: Iterable[Fact],
    washes: Iterable[str],
    counting: ast.Counting,
    extra: Iterable[str] = (),
) -> Case:
    """A case about some films, with what a routine says of its uses.

    `extra` are further products whose labels it is to read.
    """
    sources = dict.fromkeys([*(f.source for f in films if f.source != WATER), *extra])
    asked = [
        fact(c.ASKS_ACCOUNT, *of(film, world), _target(film, world)) for film in films
    ]
    return Case.of(
        world,
        washes,
        [film.former for film in films if film.source == WATER],
        sources,
        more=[*asked, *said, *_counted(counting, world)],
    )


def _target(film: Film, world: World) -> str:
    """What the verdicts on a film call the product that left it."""
    return (
        world.known.any_product if film.source == WATER else world.symbol(film.source)
    )


def _counted(counting: ast.Counting, world: World) -> Iterator[Fact]:
    for role, way in counted(counting).items():
        yield fact(c.COUNTS_AS, world.base.term(role), way)


def _largest(steps: Sequence[Step], which: str) -> Step:
    """The last step on a use that ends with the most uses since a clearing."""
    ends = {step.use: step for step in steps}
    return max(ends.values(), key=lambda step: int(getattr(step, which)))


def _washes(steps: Sequence[Step]) -> list[str]:
    return list(dict.fromkeys(step.use.product for step in steps if step.does))
