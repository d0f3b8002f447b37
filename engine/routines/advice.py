"""The one change of a routine that helps most, shown to work by its account.

Tried is each wash at hand in the place of a wash of the routine: once in a routine
that comes round soon, once a week in any other, or every time; and each product of the
same kind in the place of another, every time. A change is better the
fewer films build up, then the fewer may, then the more wishes are kept, then the fewer
washes count as strong, then the fewer uses change; of those that stand alike the
mildest comes first. A wash that counts as strong is never tried for every wash of more
than two a week, nor every time in the place of one that does not count as strong.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import NamedTuple

from abluent.engine.base.contract import COUNTS_STRONG, MILDER
from abluent.engine.questions.world.world import WATER
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import BuildUp, Effects, Film, build_up, washes_of
from abluent.engine.routines.overview import TROUBLE, Overview, State, state_of
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.routine import WEEK, Schedule, Use, unrolled
from abluent.engine.routines.wishes import Wishes
from abluent.grammar.routine import tree as ast

MOST_TRIED = 40
"""How many washes of a shelf are tried, in its order."""

STRONG_A_WEEK = 2
"""How many strong washes a week are advised at the most, where all are strong now."""

SOON = 10
"""In how many days a routine comes round for one wash in it to be often enough."""


class How(StrEnum):
    """How often one product takes the place of another."""

    ONCE = "once"
    WEEKLY = "once a week"
    ALWAYS = "every time"


@dataclass(frozen=True)
class Change:
    """A change of a routine, and what comes of it.

    Args:
        old: the product that another takes the place of.
        new: that other.
        how: how often it does.
        use: the first use that changes.
        overview: what becomes of the films then.
        days: the schedule that changes; a short turn several times over.
        better: films that built up, or may have, and do not now.
        kept: wishes that are kept then and are not now.
        milder: whether it is advised for its mildness alone, all films being well.
    """

    old: str
    new: str
    how: How
    use: Use
    overview: Overview
    days: Schedule
    better: tuple[Film, ...]
    kept: tuple[ast.Want, ...]
    milder: bool = False


class Worth(NamedTuple):
    """What a routine comes to; the less the better, the first first."""

    grow: int
    may_grow: int
    broken: int
    strong: int
    changed: int
    bounded: int
    harsher: int

    @property
    def ills(self) -> tuple[int, int, int]:
        """What should change."""
        return self[:3]


class _Swap(NamedTuple):
    """A product in the place of another at some uses."""

    new: str
    how: How
    uses: Sequence[Use]


class Adviser:
    """Tries changes of one routine.

    Args:
        built: what builds up under it.
        effects: what its products and all that may take their place do.
        kinds: the kind of each product of the shelf, by its name.
        wishes: what the routine asks for.
    """

    def __init__(
        self,
        built: BuildUp,
        effects: Effects,
        kinds: Mapping[str, str],
        wishes: Wishes,
    ) -> None:
        self._built, self._effects, self._kinds = built, effects, kinds
        self._wishes = wishes
        self._shares = Shares(effects)
        self._now = unrolled(built.schedule)
        assert effects.case is not None  # stated effects come with no shelf
        self._case = effects.case
        self._states: dict[tuple[frozenset[str], Film], State] = {}

    def best(self) -> Change | None:
        """The change that helps most, or nothing if none helps."""
        now = self._worth(self._now, 0, "")
        tried = [(self._tried(each), each) for each in self._changes()]
        if not tried:
            return None
        worth, best = min(tried, key=lambda each: each[0])
        if worth.ills < now.ills:
            return self._change(best, milder=False)
        as_well = worth.bounded <= now.bounded and worth.strong < now.strong
        if not any(now.ills) and not any(worth.ills) and as_well:
            return self._change(best, milder=True)
        return None

    def _tried(self, swap: _Swap) -> Worth:
        return self._worth(self._with(swap), len(swap.uses), swap.new)

    def _with(self, swap: _Swap) -> Schedule:
        return self._now.with_washes({use.place: swap.new for use in swap.uses})

    def _change(self, swap: _Swap, *, milder: bool) -> Change:
        """A change with its account; what is better is read off both accounts."""
        after = Overview(build_up(self._with(swap), self._effects), self._shares)
        before = Overview(self._built, self._shares)
        bad = [each.film for each in before.told if each.state in TROUBLE]
        still = {each.film for each in after.told if each.state in TROUBLE}
        better = tuple(film for film in bad if film not in still)
        kept = [each.want for each in self._wishes.kept(self._now) if each.kept]
        then = [each.want for each in self._wishes.kept(self._with(swap)) if each.kept]
        first = swap.uses[0]
        new = tuple(want for want in then if want not in kept)
        told = (first.product, swap.new, swap.how, first)
        return Change(*told, after, self._now, better, new, milder)

    def _worth(self, days: Schedule, changed: int, new: str) -> Worth:
        films = dict.fromkeys(f for u in days.uses for f in self._effects.leaves(u))
        states = [
            state_of(days, self._effects, self._shares, film)
            for film in films
            if not self._effects.goes(film)
        ]
        strong = sum(self.strong(use.product) for use in slots_of(days))
        return Worth(
            states.count(State.GROWS),
            states.count(State.MAY_GROW),
            sum(not each.kept for each in self._wishes.kept(days)),
            strong,
            changed,
            states.count(State.BOUNDED),
            self._rank(new),
        )

    def strong(self, wash: str) -> bool:
        """Whether a wash counts as strong for what the routine leaves."""
        return self._case.model.holds(COUNTS_STRONG, (self._case.world.symbol(wash),))

    def _rank(self, wash: str) -> int:
        if not wash:
            return 0
        symbol = self._case.world.symbol(wash)
        return sum(1 for _ in self._case.model.match(MILDER, (None, symbol)))

    def _changes(self) -> Iterator[_Swap]:
        """Every change that is tried."""
        slots = [use for use in slots_of(self._now) if use.product]
        hand = washes_of(self._case.world)[:MOST_TRIED]
        olds = dict.fromkeys(use.product for use in slots)
        for new, old in product(hand, olds):
            uses = [use for use in slots if use.product == old]
            if old == new:
                continue
            if self._now.turns and self._now.days <= SOON:
                yield _Swap(new, How.ONCE, uses[:1])
            else:
                weeks = {(use.day - 1) // WEEK: use for use in reversed(uses)}
                yield _Swap(
                    new, How.WEEKLY, sorted(weeks.values(), key=lambda u: u.place)
                )
            if not self.strong(new) or (self.strong(old) and self._seldom(uses)):
                yield _Swap(new, How.ALWAYS, uses)
        yield from self._others()

    def _seldom(self, uses: Sequence[Use]) -> bool:
        """Whether some uses are no more than a strong wash may have."""
        return len(uses) * WEEK <= STRONG_A_WEEK * self._now.days

    def _others(self) -> Iterator[_Swap]:
        """Products of the same kind in the place of what is no wash."""
        others = [use for use in self._now.uses if not use.wash]
        used = dict.fromkeys(use.product for use in others)
        for old, new in product(used, self._effects.left):
            alike = self._kinds.get(new) == self._kinds.get(old)
            if alike and new not in used and new != WATER:
                uses = [use for use in others if use.product == old]
                yield _Swap(new, How.ALWAYS, uses)
