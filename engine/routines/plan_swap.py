"""Another conditioner at hand, where no wash surely clears what one leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Film, effects
from abluent.engine.routines.conditioning import interchangeable
from abluent.engine.routines.plan import Planned, plan, wishes_of
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
