"""Which changes of a routine are tried: what in the place of what, and how often.

A wash at hand is tried once in a routine that comes round soon, once a week in any
other, or every time; a strong one as seldom as the base advises, and at the wash after
what seldom leaves films in trouble. What conditions is tried every time.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import product
from typing import NamedTuple

from abluent.engine.questions.world.case import Case
from abluent.engine.routines.buildup import washes_of
from abluent.engine.routines.conditioning import left_in
from abluent.engine.routines.how_often import HowOften
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.routine import WEEK, Schedule, Use, repeated

MOST_TRIED = 40
"""How many washes of a shelf are tried, in its order."""

SOON = 10
"""In how many days a routine comes round for one wash in it to be often enough."""


class How(StrEnum):
    """How often one product takes the place of another."""

    ONCE = "once"
    WEEKLY = "once a week"
    SELDOM = "once in two weeks"
    ALWAYS = "every time"
    MOSTLY = "all but a few times"


class Swap(NamedTuple):
    """A product in the place of another at some uses."""

    new: str
    how: How
    uses: Sequence[Use]
    follows: str = ""


def spread(days: Schedule, often: HowOften) -> Schedule:
    """A turn so often that one wash of it can be a strong one and most are not."""
    slots = len(slots_of(days))
    if not (days.turns and slots):
        return days
    longer = -(-often.span // days.days) if often.span > WEEK else 1
    return repeated(days, max(-(-often.one_of // slots), longer))


@dataclass(frozen=True)
class Tries:
    """The changes that are tried of one schedule.

    Args:
        now: the schedule.
        case: where what is known of the shelf follows.
        often: how often a strong wash is advised.
        strong: whether a wash counts as strong.
        against: of each wash, whether nobody is advised to take it.
        bad: the products that leave films in trouble.
    """

    now: Schedule
    case: Case
    often: HowOften
    strong: Callable[[str], bool]
    against: Mapping[str, bool]
    bad: Collection[str]

    def washes(self) -> Iterator[Swap]:
        """Every wash at hand in the place of one that is used, as often as may help."""
        slots = [use for use in slots_of(self.now) if use.product]
        washes = washes_of(self.case.world)[:MOST_TRIED]
        hand = [wash for wash in washes if not self.against[wash]]
        olds = dict.fromkeys(use.product for use in slots)
        mild = any(not self.strong(wash) for wash in hand)
        for new, old in product(hand, olds):
            uses = [use for use in slots if use.product == old]
            if old == new:
                continue
            some, how = self._some(uses, strong=self.strong(new))
            against = self.against.get(old, False)
            part = not against or (mild and self.strong(new))
            if len(some) < len(uses) and part:
                yield from self._following(new, old, len(some), how)
                yield Swap(new, how, some)
            seldom = not part or len(some) == len(uses)
            seldom = seldom or (not against and self._seldom(uses))
            if not self.strong(new) or (
                self.strong(old) and (seldom or (old in self.bad and not against))
            ):
                yield Swap(new, How.ALWAYS, uses)
                few, follows = self._kept(uses)
                rest = [use for use in uses if use not in few]
                if rest and self.strong(old) and not (self.strong(new) or against):
                    yield Swap(new, How.MOSTLY, rest, follows)
            elif len(some) == len(uses):
                yield Swap(new, how, some)

    def _some(self, uses: Sequence[Use], *, strong: bool) -> tuple[Sequence[Use], How]:
        """One use in a routine that comes round soon, one a week in any other.

        Where there are fewer than three washes a week, every second, or where the new
        one is strong one in two weeks or more; all where there is not one a week and
        the new one is not strong.
        """
        slots, days = slots_of(self.now), self.now
        if not strong and len(slots) * WEEK < days.days:
            return uses, How.ALWAYS  # washes are rarer than weekly as it is
        few = len(slots) * WEEK < self.often.one_of * days.days
        if few and days.turns and len(slots) < 2 * self.often.one_of:
            second = slots[slots.index(uses[0]) % 2 :: 2]
            if strong or len(slots) % 2:
                return uses[:1], How.ONCE
            return [use for use in second if use in uses], How.ONCE
        span = self.often.span if strong else WEEK
        if days.turns and days.days <= max(SOON, span):
            return uses[:1], How.ONCE
        span = max(span, 2 * WEEK) if few and strong else span
        spans = {(use.day - 1) // span: use for use in reversed(uses)}
        how = How.WEEKLY if span == WEEK else How.SELDOM
        return sorted(spans.values(), key=lambda use: use.place), how

    def _kept(self, uses: Sequence[Use]) -> tuple[Sequence[Use], str]:
        """The few uses of a strong wash that stay: after what is seldom left in, if so.

        Beside them the product that they follow; empty if none.
        """
        few, _ = self._some(uses, strong=True)
        slots = slots_of(self.now)
        for source in self._seldom_left:
            after = self._after_each(source)
            some = [use for use in after if use in uses]
            step = max(1, -(-len(some) // len(few)))
            if len(some) >= len(few) and len(after) < len(slots):
                return some[::step], source
        return few, ""

    @cached_property
    def _seldom_left(self) -> list[str]:
        """What is left in, and once a week or less."""
        days, world = self.now, self.case.world
        often = Counter(use.product for use in days.uses if not use.wash)
        few = [name for name, n in often.items() if n * WEEK <= days.days]
        return [name for name in few if left_in(world, name)]

    def _after_each(self, source: str) -> list[Use]:
        """The wash right after each use of a product."""
        days, slots = self.now, slots_of(self.now)
        after = dict[Use, None]()
        for use in (use for use in days.uses if use.product == source):
            later = [slot for slot in slots if slot.place > use.place]
            after |= dict.fromkeys(later[:1] or (slots[:1] if days.turns else ()))
        return sorted(after, key=lambda use: use.place)

    def _following(self, new: str, old: str, most: int, how: How) -> Iterator[Swap]:
        """At the wash right after each use of what is seldom left in.

        What leaves films in trouble comes first.
        """
        days, slots = self.now, slots_of(self.now)
        world = self.case.world
        bad = sorted(name for name in self.bad if left_in(world, name))
        for source in dict.fromkeys([*bad, *self._seldom_left]):
            after = some = self._after_each(source)
            some = some[:: max(1, -(-len(some) // most))]
            seldom = len(after) * WEEK <= days.days and len(after) < len(slots)
            if some and seldom and all(use.product == old for use in some):
                yield Swap(new, how, some, source)

    def _seldom(self, uses: Sequence[Use]) -> bool:
        """Whether some uses are no more than a strong wash may have."""
        return self.often.may_be(len(uses), self.now.days)

    def others(self, hand: Sequence[str]) -> Iterator[Swap]:
        """What conditions in the place of another that is used.

        Args:
            hand: what may stand in the place of one another.
        """
        others = [use for use in self.now.uses if not use.wash]
        used = dict.fromkeys(use.product for use in others)
        for old, new in product(used, hand):
            if old in hand and new not in used:
                uses = [use for use in others if use.product == old]
                yield Swap(new, How.ALWAYS, uses)
