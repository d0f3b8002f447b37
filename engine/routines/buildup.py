"""What builds up under a routine: an exact account, film by film.

A film here is one film-former as one product leaves it. Its state is how many uses
left it since it was last cleared, in two bounds: in the worst case only a wash that
surely clears it sets it back to none, in the best case also one of which that is
possible. A partly clearing wash takes away nothing in the worst case and all in the
best; `Counting` changes that. Washing takes off before it leaves anything.

A use sets the state to none, adds one, or leaves it as it is, so one turn of a
routine either sets a film to one fixed number, whatever it was before, or adds a
fixed number to it. That decides what becomes of it for ever; nothing is run until it
looks steady.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from abluent.engine.base.conditions import ConditionError, in_line
from abluent.engine.base.contract import (
    CONTESTED,
    FILLS_UP,
    LEAVES,
    LEVELS_OFF,
    USED_IN,
    VERDICT,
)
from abluent.engine.base.kinds import cleaning_kinds, product_kind, taking_kinds
from abluent.engine.base.roles import Role
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.origins import QUESTION
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine import tree as ast


class Film(NamedTuple):
    """A film-former as one product leaves it.

    `former` is its symbol, `source` the name of the product, or `water`.
    """

    former: str
    source: str


class Found(NamedTuple):
    """A verdict: what it says, and whether sources of equal rank part over it."""

    role: Role
    disputed: bool = False


@dataclass(frozen=True)
class Effects:
    """What products leave, and what washes do to it.

    Args:
        left: the films each product leaves.
        verdicts: by wash and film.
        counting: what doubtful verdicts are counted as.
        case: where it follows from; nothing where it was only stated.
        level: films that level off by themselves.
        fill: films that build up until hair holds what it can.
    """

    left: Mapping[str, tuple[Film, ...]]
    verdicts: Mapping[tuple[str, Film], Found]
    counting: ast.Counting = ast.AS_TOLD
    case: Case | None = None
    level: frozenset[Film] = frozenset()
    fill: frozenset[Film] = frozenset()

    def surely(self, wash: str, film: Film) -> bool:
        """Whether a wash takes a film off even in the worst case."""
        least, most = ENDS[self.verdicts[wash, film].role]
        if least is Role.ALL_OF_IT:
            return True
        if most is Role.ALL_OF_IT and self.counting.open == ast.CLEARING:
            return True
        return least is Role.PART_OF_IT and self.counting.partly == ast.CLEARING

    def wholly(self, wash: str, film: Film) -> bool:
        """Whether a wash surely takes all of a film, however a part is counted."""
        return ENDS[self.verdicts[wash, film].role][0] is Role.ALL_OF_IT

    def perhaps(self, wash: str, film: Film) -> bool:
        """Whether a wash takes a film off in the best case."""
        if self.surely(wash, film):
            return True
        least, most = ENDS[self.verdicts[wash, film].role]
        if most is Role.ALL_OF_IT and self.counting.open != ast.NOTHING:
            return True
        in_part = Role.PART_OF_IT in (least, most)
        return in_part and self.counting.partly != ast.NOTHING

    def takes(self, use: Use, film: Film) -> bool:
        """Whether a use is a wash, or a rinse that is judged like one."""
        return use.wash or (use.product, film) in self.verdicts

    def goes(self, film: Film) -> bool:
        """Whether a film needs no wash, and so never builds up."""
        return self.verdicts[WATER, film].role is Role.NO_WASH_NEEDED

    def leaves(self, use: Use) -> tuple[Film, ...]:
        """The films that one use leaves; water is part of every wash."""
        films = self.left.get(use.product, ())
        if use.wash and use.product != WATER:
            films += self.left.get(WATER, ())
        return films


def counted(counting: ast.Counting) -> Mapping[Role, str]:
    """What taking a part is counted as, and what an end that is open."""
    return {Role.PART_OF_IT: counting.partly, Role.OPEN: counting.open}


def washes_of(world: World) -> list[str]:
    """The products of a shelf that are sold to clean, in its order."""
    cleaning = cleaning_kinds(world.base)
    return [
        name
        for name, each in world.products.items()
        if product_kind(each.kind, world.base) in cleaning
    ]


def is_wash(world: World, name: str) -> bool:
    """Whether a product is a wash and none of the other kinds that clean."""
    kind = product_kind(world.products[name].kind, world.base)
    return kind == world.base.term(Role.WASH)


def rinses_of(world: World) -> list[str]:
    """The products of a shelf that are no washes and are to take something off."""
    taking = taking_kinds(world.base)
    return [
        name
        for name, each in world.products.items()
        if product_kind(each.kind, world.base) in taking
    ]


def fact(predicate: str, *args: Term) -> Fact:
    """A fact that only says what is asked, such as what is used when."""
    return Fact(predicate, args, Basis(origin=QUESTION))


def washed_as(routine: ast.Routine, world: World) -> World:
    """The world under the conditions that a routine states, above those of the shelf.

    Raises:
        GrammarError: a line states none, or two of them exclude one another.
    """
    stated: list[str] = []
    for said in routine.washing:
        try:
            stated += in_line(world.base, said.aspect, said.words)
        except ConditionError as error:
            where = (routine.text, said.span)
            raise GrammarError(str(error), *where, name=routine.place) from None
    try:
        return world.under(stated, "the routine")
    except ConditionError as error:
        raise GrammarError(f"{error}", hint="keep one of the two lines") from None


def effects(
    world: World,
    products: Iterable[str],
    washes: Iterable[str],
    counting: ast.Counting = ast.AS_TOLD,
    *,
    used: Iterable[str] = (),
) -> Effects:
    """What some products leave and some washes do to it, in one case.

    Args:
        world: the base and the shelf.
        products: names of everything that is used.
        washes: names of what is washed with, or might be.
        counting: what doubtful verdicts are counted as.
        used: products whose films decide which washes count as strong.

    Raises:
        KeyError: no product of the shelf is called that.
    """
    sources = dict.fromkeys([*products, *washes, WATER])
    case = Case.of(
        world,
        dict.fromkeys([*washes, WATER]),
        world.known.unlisted_films,
        [name for name in sources if name != WATER],
        more=[fact(USED_IN, world.symbol(name)) for name in dict.fromkeys(used)],
    )
    left: dict[str, list[Film]] = {}
    for product, former in sorted(case.model.match(LEAVES, (None, None))):
        name = world.name(product)
        if name in sources:
            left.setdefault(name, []).append(Film(str(former), name))
    films = {film for each in left.values() for film in each}
    disputed = {row[:3] for row in case.model.match(CONTESTED, (None,) * 4)}
    verdicts: dict[tuple[str, Film], Found] = {}
    for wash, former, product, value in case.model.match(VERDICT, (None,) * 4):
        film = Film(str(former), world.name(product) or WATER)
        if film in films:
            role = world.known.verdict_roles[str(value)]
            found = Found(role, (wash, former, product) in disputed)
            verdicts[world.name(wash), film] = found
    return Effects(
        {name: tuple(each) for name, each in left.items()},
        verdicts,
        counting,
        case,
        _which(case, LEVELS_OFF, films),
        _which(case, FILLS_UP, films),
    )


def _which(case: Case, predicate: str, films: Collection[Film]) -> frozenset[Film]:
    """The films of which something holds, if the base has a word for it."""
    if predicate not in case.world.known.program.arities:
        return frozenset()
    found = case.model.match(predicate, (None, None))
    named = (Film(str(f), case.world.name(source) or WATER) for f, source in found)
    return frozenset(film for film in named if film in films)


# --- the account ------------------------------------------------------------------


class Step(NamedTuple):
    """What one use does to a film.

    Args:
        use: the use.
        does: the verdict of a wash; nothing where the use leaves the film.
        disputed: whether that verdict is disputed.
        best: uses since it was cleared, in the best case, after this use.
        worst: the same in the worst case.
    """

    use: Use
    does: Role | None
    disputed: bool
    best: int
    worst: int


class Bound(NamedTuple):
    """What one turn comes to in the best or the worst case.

    Args:
        clears: whether a wash in it takes the film off.
        adds: uses that leave it: those after the last clearing, if there is one.
        most: the most uses since a clearing at any time once the turns are alike;
            nothing if it grows for ever.
    """

    clears: bool
    adds: int
    most: int | None


class Account(NamedTuple):
    """The account of one film.

    Args:
        film: the film.
        steps: what befalls it, in order, from hair without it.
        best: what a turn of the routine comes to in the best case.
        worst: the same in the worst case.
        days: the longest it stays without being surely cleared, in days, once the
            turns are alike; nothing if for ever.
    """

    film: Film
    steps: tuple[Step, ...]
    best: Bound
    worst: Bound
    days: int | None

    @property
    def peak(self) -> tuple[int, int]:
        """The most uses since a clearing among the steps, best and worst case."""
        return max(s.best for s in self.steps), max(s.worst for s in self.steps)

    @property
    def grows(self) -> bool:
        """Whether every turn surely adds to it, for ever."""
        return self.best.most is None


@dataclass(frozen=True)
class BuildUp:
    """What builds up under a routine.

    Args:
        schedule: the uses.
        effects: what they do.
        accounts: one for each film that stays until it is washed off.
        gone: films that need no wash.
    """

    schedule: Schedule
    effects: Effects
    accounts: tuple[Account, ...]
    gone: tuple[Film, ...]

    @cached_property
    def turns_before(self) -> int:
        """After how many turns every later one is alike, growing films aside."""
        ends = (
            bound.clears and end
            for a in self.accounts
            for bound, end in ((a.best, a.steps[-1].best), (a.worst, a.steps[-1].worst))
        )
        return int(any(ends))


def build_up(schedule: Schedule, effects: Effects) -> BuildUp:
    """The account of every film that a schedule leaves.

    Args:
        schedule: the uses, a product chosen for each.
        effects: what these products leave and do.
    """
    left = dict.fromkeys(f for use in schedule.uses for f in effects.leaves(use))
    gone = tuple(film for film in left if effects.goes(film))
    accounts = tuple(_account(schedule, effects, f) for f in left if f not in gone)
    return BuildUp(schedule, effects, accounts, gone)


def _account(schedule: Schedule, effects: Effects, film: Film) -> Account:
    steps = tuple(_steps(schedule.uses, effects, film))
    if not schedule.turns:
        worst = Bound(_cleared(steps, "worst"), steps[-1].worst, _most(steps, "worst"))
        best = Bound(_cleared(steps, "best"), steps[-1].best, _most(steps, "best"))
        return Account(film, steps, best, worst, _days(steps, schedule.days, 1))
    ended = steps[-1]
    turn = [ended, *_steps(schedule.uses, effects, film, (ended.best, ended.worst))]
    best, worst = _bound(turn, "best"), _bound(turn, "worst")
    days = _days(turn[1:], schedule.days, 2) if worst.clears else None
    return Account(film, steps, best, worst, days)


def _steps(
    uses: Sequence[Use], effects: Effects, film: Film, start: tuple[int, int] = (0, 0)
) -> Iterable[Step]:
    best, worst = start
    for use in uses:
        if effects.takes(use, film):
            found = effects.verdicts[use.product, film]
            best = 0 if effects.perhaps(use.product, film) else best
            worst = 0 if effects.surely(use.product, film) else worst
            yield Step(use, found.role, found.disputed, best, worst)
        if film in effects.leaves(use):
            best, worst = best + 1, worst + 1
            yield Step(use, None, False, best, worst)


def _bound(turn: Sequence[Step], which: str) -> Bound:
    """What a turn does that begins with the state after the step at its head."""
    adds = sum(step.does is None for step in turn[1:])
    if not _cleared(turn, which):
        return Bound(False, adds, None)
    return Bound(True, int(getattr(turn[-1], which)), _most(turn, which))


def _cleared(steps: Sequence[Step], which: str) -> bool:
    counts = [int(getattr(step, which)) for step in steps]
    return any(before and not now for before, now in pairwise(counts))


def _most(steps: Sequence[Step], which: str) -> int:
    return max(int(getattr(step, which)) for step in steps)


def _days(steps: Sequence[Step], days: int, turns: int) -> int:
    """The longest time from a leaving to the sure clearing after it, in days."""
    longest, since = 0, None
    for turn in range(turns):
        for step in steps:
            day = step.use.day + turn * days
            if step.does is None:
                since = day if since is None else since
            elif step.worst == 0 and since is not None:
                longest, since = max(longest, day - since), None
    if since is not None and turns == 1:
        longest = max(longest, days - since)
    return longest
