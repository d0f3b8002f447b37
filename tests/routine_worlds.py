"""Random small routines with stated effects, and plain slow answers about them.

Nothing here uses the account or the planner: `simulate` goes through the uses one by
one, `all_plans` tries every choice of washes by simulating it, and `milder` pairs
washes off by trying every permutation.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import permutations, product
from random import Random

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film, Found
from abluent.engine.routines.plan_problem import (
    Limit,
    PlanProblem,
    Within,
    apart,
    at_most,
    ills,
    needs,
    slots_of,
)
from abluent.engine.routines.routine import Schedule, Use

TIMES = int(os.environ.get("ABLUENT_ROUTINES", "30"))
"""How many random shelves are tried; 2,000 and more were."""

_MARKS = Fraction(1, 10), Fraction(19, 20)
"""From what share on a part is taken, and all."""

_VALUES = [Role.CLEARED] * 5 + [
    Role.PARTLY_CLEARED,
    Role.AT_LEAST_PARTLY,
    Role.AT_MOST_PARTLY,
    Role.OPEN,
    Role.NOT_CLEARED,
]


@dataclass(frozen=True)
class Small:
    """A small shelf, a routine on it, and what a plan is to keep to."""

    schedule: Schedule
    effects: Effects
    washes: tuple[str, ...]
    within: Mapping[Film, Sequence[Within]]
    limits: tuple[tuple[str, frozenset[str], int, int], ...]
    milder: frozenset[tuple[str, str]]
    strong: frozenset[str]
    unread: frozenset[str]
    harsh: Mapping[str, int]

    @property
    def problem(self) -> PlanProblem:
        """The problem as the planner takes it."""
        films = {film for each in self.effects.left.values() for film in each}
        surely = self.effects.surely
        shares, limits = Shares(self.effects, _MARKS), list[Limit]()
        for said, washes, most, days in self.limits:
            if days:
                limits += at_most(self.schedule, said, washes, most, days)
            else:
                limits += apart(self.schedule, said, washes)
        return PlanProblem(
            slots_of(self.schedule),
            self.washes,
            {w: frozenset(f for f in films if surely(w, f)) for w in self.washes},
            needs(self.schedule, self.effects, self.washes, self.within),
            tuple(limits),
            self.milder,
            self.strong,
            self.unread,
            tuple(use.product for use in slots_of(self.schedule)),
            ills(self.schedule, self.effects, self.washes, shares),
            self.harsh,
        )


def small(random: Random) -> Small:
    """A random small shelf with a routine."""
    washes = tuple(f"wash {n}" for n in range(random.randint(1, 4)))
    others = [f"cream {n}" for n in range(random.randint(0, 2))]
    left = {
        name: tuple(Film(f, name) for f in "abc" if random.random() < often)
        for names, often in ((others, 0.5), (washes, 0.2), (["water"], 0.15))
        for name in names
    }
    films = [film for each in left.values() for film in each]
    goes = {film: random.random() < 0.1 for film in films}
    verdicts = {("water", f): _found(random, Role.NOT_CLEARED, goes[f]) for f in films}
    verdicts |= {
        (w, f): _found(random, random.choice(_VALUES), goes[f])
        for w in washes
        for f in films
    }
    within = {
        film: [Within(random.randint(1, 4), random.random() < 0.4)] for film in films
    }
    strong = frozenset(w for w in washes if random.random() < 0.4)
    case = Small(
        _schedule(random, others, washes),
        Effects(left, verdicts),
        washes,
        within,
        tuple(_limits(random, washes)),
        _order(random, washes),
        strong,
        frozenset(w for w in strong if random.random() < 0.3),
        {},
    )
    level = frozenset(film for film in films if random.random() < 0.2)
    harsh = {wash: random.choice([0, 0, 1, 2]) for wash in washes}
    return replace(case, effects=replace(case.effects, level=level), harsh=harsh)


def _found(random: Random, role: Role, goes: bool) -> Found:
    return Found(Role.NO_WASH_NEEDED) if goes else Found(role, random.random() < 0.1)


def _schedule(random: Random, others: Sequence[str], washes: Sequence[str]) -> Schedule:
    days, uses, washed = random.choice([3, 4, 5, 7]), list[Use](), 0
    for day in range(1, days + 1):
        for name in random.sample([*others, "", ""], len(others) + 2):
            if name and random.random() < 0.4:
                uses.append(Use(day, len(uses), name, False))
            elif not name and random.random() < 0.35 and washed < 4:
                now = random.choice(["", *washes])
                uses.append(Use(day, len(uses), now, True))
                washed += 1
    if not washed:
        uses.append(Use(days, len(uses), "", True))
    return Schedule(days, random.random() < 0.6, tuple(uses))


def _limits(
    random: Random, washes: Sequence[str]
) -> Iterator[tuple[str, frozenset[str], int, int]]:
    some = frozenset(random.sample(washes, random.randint(1, len(washes))))
    if random.random() < 0.3:
        yield "at most", some, random.randint(0, 2), random.choice([2, 3, 7, 9])
    if random.random() < 0.3:
        yield "apart", some, 1, 0


def _order(random: Random, washes: Sequence[str]) -> frozenset[tuple[str, str]]:
    order = {
        (one, other)
        for n, one in enumerate(washes)
        for other in washes[n + 1 :]
        if random.random() < 0.35
    }
    while more := {(a, d) for a, b in order for c, d in order if b == c} - order:
        order |= more
    return frozenset(order)


# --- plain and slow ---------------------------------------------------------------


def simulate(
    schedule: Schedule, effects: Effects, film: Film, turns: int, sure: bool
) -> list[int]:
    """The uses since a film was cleared, after every use, over some turns."""
    counts, now = [], 0
    for _ in range(turns):
        for use in schedule.uses:
            if use.wash:
                role = effects.verdicts[use.product, film].role
                gone = role in {Role.CLEARED, Role.NO_WASH_NEEDED}
                if gone if sure else role is not Role.NOT_CLEARED:
                    now = 0
            sources = {use.product, "water"} if use.wash else {use.product}
            now += film.source in sources and film in effects.left[film.source]
            counts.append(now)
    return counts


def all_plans(case: Small) -> list[tuple[str, ...]]:
    """Every choice of washes that keeps to everything, by trying each."""
    choices = product(case.washes, repeat=len(slots_of(case.schedule)))
    return [chosen for chosen in choices if _keeps(case, chosen)]


def _keeps(case: Small, chosen: Sequence[str]) -> bool:
    places = [use.place for use in slots_of(case.schedule)]
    days = case.schedule.with_washes(dict(zip(places, chosen, strict=True)))
    return all(
        _in_time(days, case.effects, film, each)
        for film, wants in case.within.items()
        for each in wants
    ) and all(_within_limit(days, *limit) for limit in case.limits)


def kept_in_time(case: Small, days: Schedule, film: Film, want: Within) -> bool:
    """Whether some uses clear a film in time."""
    return _in_time(days, case.effects, film, want)


def _in_time(days: Schedule, effects: Effects, film: Film, want: Within) -> bool:
    """Follow every leaving of a film until it is cleared, over many turns."""
    if effects.verdicts["water", film].role is Role.NO_WASH_NEEDED:
        return True
    turns = 6 if days.turns else 1
    uses = [(t * days.days + u.day, u) for t in range(turns) for u in days.uses]
    for n, (day, use) in enumerate(uses[: len(days.uses)]):
        sources = {use.product, "water"} if use.wash else {use.product}
        if film.source not in sources or film not in effects.left[film.source]:
            continue
        later = [(at, u.product) for at, u in uses[n + 1 :] if u.wash]
        if want.days:
            if not days.turns and day + want.every > days.days:
                continue
            later = [(at, w) for at, w in later if at <= day + want.every]
        elif not days.turns and len(later) < want.every:
            continue
        else:
            later = later[: want.every]
        found = [effects.verdicts[wash, film] for _, wash in later]
        if not any(each.role is Role.CLEARED for each in found):
            return False
    return True


def _within_limit(
    days: Schedule, said: str, washes: frozenset[str], most: int, length: int
) -> bool:
    turns = 6 if days.turns else 1
    on = [
        t * days.days + u.day
        for t in range(turns)
        for u in days.washes
        if u.product in washes
    ]
    if said == "apart":
        return not any(a + 1 == b for a in on for b in on)
    last = turns * days.days
    return all(
        sum(first <= day < first + length for day in on) <= most
        for first in range(1, max(1, last - length + 1) + 1)
    )


def milder(case: Small, one: Sequence[str], other: Sequence[str]) -> bool:
    """Whether the washes of one plan pair off with those of another as milder."""
    if sorted(one) == sorted(other):
        return False
    return any(
        all(a == b or (a, b) in case.milder for a, b in zip(one, order, strict=True))
        for order in permutations(other)
    )


def count_of_wishes(
    case: Small, chosen: Sequence[str]
) -> tuple[int, int, int, int, int, int]:
    """What a plan comes to, wish by wish, counted plainly."""
    now = [use.product for use in case.schedule.uses if use.wash]
    return (
        sum(1 for wash in chosen if wash in case.strong),
        sum(1 for wash in chosen if wash in case.unread),
        sum(case.harsh[wash] for wash in chosen),
        _left_growing(case, chosen),
        len(set(chosen)),
        sum(1 for a, b in zip(chosen, now, strict=True) if b and a != b),
    )


def _left_growing(case: Small, chosen: Sequence[str]) -> int:
    """For every film that a plan leaves: one if none can take it, one if none must."""
    places = [use.place for use in slots_of(case.schedule)]
    days = case.schedule.with_washes(dict(zip(places, chosen, strict=True)))
    count = 0
    for source, films in case.effects.left.items():
        wet = source == "water"
        uses = [u for u in days.uses if u.product == source or (wet and u.wash)]
        for film in films if uses else ():
            found = case.effects.verdicts
            level = film in case.effects.level
            if level or found["water", film].role is Role.NO_WASH_NEEDED:
                continue
            washes = [u for u in days.uses if u.wash]
            if not days.turns and source not in case.washes:
                washes = [u for u in washes if u.place > uses[0].place]
            ends = [ENDS[found[u.product, film].role] for u in washes]
            count += not any(most is not Role.NONE_OF_IT for _, most in ends)
            count += not any(least is not Role.NONE_OF_IT for least, _ in ends)
    return count


def unbeaten(case: Small, plans: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Of the plans with the fewest strong and unread washes those none is milder than.

    Of these washes, not of their order: a plan stands here for each way of using them.
    """
    fewest = min(count_of_wishes(case, each)[:2] for each in plans)
    few = [each for each in plans if count_of_wishes(case, each)[:2] == fewest]
    kinds = {tuple(sorted(each)) for each in few}
    best = {m for m in kinds if not any(milder(case, o, m) for o in kinds)}
    return [each for each in few if tuple(sorted(each)) in best]
