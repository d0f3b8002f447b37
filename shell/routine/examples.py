"""Lines for a routine that somebody may type, of products on her own shelf."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import washes_of
from abluent.engine.routines.routine import wash_line
from abluent.grammar.routine.printer import quoted


def account_lines(world: World) -> list[str]:
    """A routine that an account can be made of."""
    washes = washes_of(world)
    return [wash_line(washes), *_others(world, washes)]


def plan_lines(world: World) -> list[str]:
    """A routine whose washes a plan can choose."""
    others = _others(world, washes_of(world))
    return ["wash twice a week", *others, "clear everything every 3 washes"]


def _others(world: World, washes: Sequence[str]) -> list[str]:
    other = next((name for name in world.products if name not in washes), None)
    return [f"use {quoted(other)} after every wash"] if other else []
