"""How often a strong wash is advised, as the base has it: practice, with a standing."""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.base.conditions import implied
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.world.world import World
from abluent.engine.routines.routine import WEEK

STRONG_AT_MOST = "strongWashAtMost"
"""The property that says how many strong washes a week are advised at the most."""

STRONG_ONE_OF = "strongWashOneOf"
"""The property that says of how many washes a week one may be strong."""

STRONG_APART = "strongWashApart"
"""The property that says how many days apart strong washes are to be."""

NOT_WASHED_FOR = "notWashedFor"
"""The property of a family of films that is no reason for a stronger wash."""

TAKEN_APART = "takenApart"
"""The property of a family of films that is washed for no more often than that."""


class HowOften(NamedTuple):
    """How often a strong wash is advised in one way of washing; 0 where nothing says.

    Args:
        most: from how many a week on a milder one comes first.
        one_of: of how many washes a week one may be strong; of fewer, one in two weeks.
        apart: how many days there are from one to the next.
    """

    most: int
    one_of: int
    apart: int

    @property
    def span(self) -> int:
        """In how many days there is one at the most."""
        return max(self.apart, WEEK)

    @property
    def seldom(self) -> int:
        """In how many days one is advised that is not surely needed."""
        return max(self.apart, 2 * WEEK)

    def too_often(self, uses: int, days: int) -> bool:
        """Whether so many in so many days are such that a milder one comes first."""
        many = bool(self.most) and uses * WEEK >= self.most * days
        return many or (self.apart > WEEK and uses * self.apart > days)

    def may_be(self, uses: int, days: int) -> bool:
        """Whether so many in so many days are no more than one may have."""
        few = not self.most or uses * WEEK <= self.most * days
        return few and (self.apart <= WEEK or uses * self.apart <= days)


def how_often(world: World) -> HowOften:
    """How often a strong wash is advised in the way of washing that is stated."""
    base = world.base
    wash = base.term(Role.WASH)
    said = [wash, *(up for each in world.stated for up in implied(base, each))]
    apart = max(_number(base, each, STRONG_APART) for each in said)
    most, one_of = (_number(base, wash, n) for n in (STRONG_AT_MOST, STRONG_ONE_OF))
    return HowOften(most, one_of, apart)


def taken_apart(base: Base, family: str) -> int:
    """How many days apart washes for the sake of a family need be; 0 for any."""
    return _number(base, family, TAKEN_APART)


def washed_for(base: Base, family: str) -> bool:
    """Whether films of a family that may build up are a reason for a stronger wash."""
    return not (family in base and base.record(family).truth(NOT_WASHED_FOR))


def _number(base: Base, symbol: str, name: str) -> int:
    return int(base.record(symbol).number(name) or 0) if symbol in base else 0
