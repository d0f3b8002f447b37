"""What helps beside the choice of washes: another conditioner, and one wash more.

Another conditioner comes in where no wash surely clears what one leaves.

One wash more comes in against what the plan leaves to build up. It takes the place of
one of the plan as seldom as is advised: a strong one once in two weeks or more, any
other once a week. The wishes that the plan keeps stay kept, and no other film comes
into trouble: both are tried over as many turns as that takes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Film, effects
from abluent.engine.routines.conditioning import interchangeable
from abluent.engine.routines.how_often import how_often, unadvised
from abluent.engine.routines.overview import TROUBLE, State, minded, state_of
from abluent.engine.routines.plan import Planned, plan, set_up, wishes_of
from abluent.engine.routines.plan_problem import PlanProblem, slots_of
from abluent.engine.routines.routine import WEEK, Schedule, Use, repeated
from abluent.grammar.routine import tree as ast

MOST_TRIED = 12
"""How many products of a kind are tried."""


class Swap(NamedTuple):
    """A product in the place of another, and the films that no wash surely cleared.

    Args:
        old: what is used.
        new: what takes its place, every time.
        films: the films of the old one that are not left any more.
    """

    old: str
    new: str
    films: tuple[Film, ...]


def swapped(planned: Planned, world: World, most: int) -> tuple[Planned, Swap] | None:
    """The plan with a product in the place of one that leaves what nothing clears.

    Args:
        planned: a plan in which some films are stuck.
        world: the base and the shelf.
        most: how many plans to find.

    Returns:
        The plan with the swap that leaves the fewest films stuck, or nothing where
        none leaves fewer than there are.
    """
    level, used = planned.effects.level, planned.schedule.products
    hand = interchangeable(world, [*world.products])
    stuck = [film for film in planned.stuck if film not in level]
    left = _stuck_of(planned, world, [n for n in hand if n not in used][:MOST_TRIED])
    best: tuple[int, Swap] | None = None
    for old in dict.fromkeys(film.source for film in stuck if film.source != WATER):
        mine = [film for film in stuck if film.source == old]
        if old not in hand:
            continue
        for new, count in left.items():
            gain = len(mine) - count
            if gain > 0 and (best is None or gain > best[0]):
                best = gain, Swap(old, new, tuple(mine))
    if best is None:
        return None
    found = plan(_with(planned.routine, best[1]), world, most)
    return (found, best[1]) if found.shown.plans else None


def _stuck_of(planned: Planned, world: World, names: Sequence[str]) -> dict[str, int]:
    """How many films of some products the wishes name and no wash at hand clears."""
    if not names:
        return {}
    washes, routine = planned.problem.washes, planned.routine
    done = effects(planned.case.world, names, washes, routine.counting)
    asked = wishes_of(routine, planned.case.world, done).named
    return {
        name: sum(
            film in asked
            and film not in done.level
            and not done.goes(film)
            and not any(done.surely(wash, film) for wash in washes)
            for film in done.left.get(name, ())
        )
        for name in names
    }


def _with(routine: ast.Routine, swap: Swap) -> ast.Routine:
    """The routine with the other product."""
    return replace(routine, uses=tuple(_line(line, swap) for line in routine.uses))


def _line(line: ast.UseLine, swap: Swap) -> ast.UseLine:
    when = line.when
    if isinstance(when, ast.Beside) and when.anchor == swap.old:
        when = replace(when, anchor=swap.new)
    product = swap.new if line.product == swap.old else line.product
    return replace(line, product=product, when=when)


# --- one wash more --------------------------------------------------------------------


@dataclass(frozen=True)
class Besides:
    """One wash in the place of another of a plan, which it need not have.

    Args:
        new: the wash.
        old: that in whose place it comes.
        use: where first.
        films: films in trouble under the plan, of which this takes some or may.
        every: in how many days it comes.
        sure: whether it surely takes a part of them.
        days: the days that it was tried in.
    """

    new: str
    old: str
    use: Use
    films: tuple[Film, ...]
    every: int
    sure: bool
    days: Schedule


class _Tried:
    """A plan over so many turns as a wash that comes seldom takes.

    Args:
        planned: what came of planning.
        chosen: the washes of the plan, slot by slot.
        every: in how many days the wash comes.
    """

    def __init__(self, planned: Planned, chosen: Sequence[str], every: int) -> None:
        days, world = planned.schedule, planned.case.world
        times = -(-every // days.days) if days.turns else 1
        self.days = repeated(days, times) if times > 1 else days
        self.chosen = [*chosen] * times
        self._world = world
        self.done = planned.effects
        self._shares = Shares(planned.effects)
        washes = planned.problem.washes
        left = [*planned.stuck, *(need.film for need in planned.late)]
        problem = planned.problem
        if times > 1:
            problem = set_up(planned.routine, world, self.days, self.done, washes)
        self.problem: PlanProblem = problem.without(left)

    def places(self, every: int) -> Iterator[list[int]]:
        """Slots so many days apart, those that come late in their days first."""
        slots = slots_of(self.days)
        spans = range(0, self.days.days, every)
        for offset in reversed(range(1, every + 1)):
            found = [
                number
                for number, use in enumerate(slots)
                if any(use.day == start + offset for start in spans)
            ]
            if found:
                yield found

    def bad(self, states: Mapping[Film, State]) -> list[Film]:
        """What builds up, or may, that is a reason for another wash."""
        return minded((f for f, s in states.items() if s in TROUBLE), self._world)

    def states(self, chosen: Sequence[str]) -> dict[Film, State]:
        """What becomes of each film that is left then."""
        slots = slots_of(self.days)
        by = {use.place: wash for use, wash in zip(slots, chosen, strict=True)}
        days = self.days.with_washes(by)
        films = dict.fromkeys(f for use in days.uses for f in self.done.leaves(use))
        return {
            film: state_of(days, self.done, self._shares, film)
            for film in films
            if not self.done.goes(film)
        }


def beside_plan(planned: Planned, chosen: Sequence[str]) -> Besides | None:
    """The wash that helps most beside a plan; nothing where none helps.

    One that is not strong comes first, then what helps against most.
    """
    seldom = how_often(planned.case.world).seldom
    found: list[tuple[tuple[bool, int, int], Besides]] = []
    for new in planned.problem.washes:
        if new in chosen or unadvised(planned.case, new):
            continue
        strong = planned.strong(new)
        every = seldom if strong else WEEK
        each = _one_more(_Tried(planned, chosen, every), new, every)
        if each is not None:
            rank = planned.problem.rank(new)
            found.append(((strong, -len(each.films), rank), each))
    return min(found, key=lambda each: each[0])[1] if found else None


def _one_more(tried: _Tried, new: str, every: int) -> Besides | None:
    """A wash beside a plan, where that spoils nothing and helps."""
    before = tried.states(tried.chosen)
    bad = tried.bad(before)
    if not bad:
        return None
    for places in tried.places(every):
        olds = {tried.chosen[at] for at in places}
        other = [new if n in places else w for n, w in enumerate(tried.chosen)]
        if len(olds) > 1 or not tried.problem.holds(tuple(other)):
            continue
        states = tried.states(other)
        worse = {f for f, state in states.items() if state in TROUBLE}.difference(bad)
        films = tuple(f for f in bad if states.get(f, State.CLEARED) > before[f])
        if films and not worse:
            sure = all(states.get(f, State.CLEARED) not in TROUBLE for f in films)
            use = slots_of(tried.days)[places[0]]
            return Besides(new, olds.pop(), use, films, every, sure, tried.days)
    return None
