"""Products of a routine of which nothing is counted, as their kind is not known."""

from __future__ import annotations

from abluent.engine.base.kinds import product_kind
from abluent.engine.base.roles import Role
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Effects
from abluent.engine.routines.routine import Schedule


def uncounted(days: Schedule, effects: Effects, world: World) -> list[str]:
    """The products that are used and of no known kind, and so leave nothing known.

    Args:
        days: the schedule.
        effects: what its products leave.
        world: the base and the shelf.
    """
    other = world.base.term(Role.OTHER_KIND)
    return [
        name
        for name in dict.fromkeys(use.product for use in days.uses)
        if name != WATER
        and name in world.products
        and product_kind(world.products[name].kind, world.base) == other
        and not effects.left.get(name)
    ]
