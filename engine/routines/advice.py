"""The changes of a routine that help most, shown to work by its account.

Tried is each wash at hand in the place of a wash of the routine: once in a routine
that comes round soon, once a week in any other, or every time; a strong one once in
two weeks or more where there are two washes a week at the most, and at the wash after
what seldom leaves films in trouble; and each conditioner
that is rinsed off in the place of another, every time. Left out is a change in which a
family of films gets worse, but for one that may build up where another no longer does
for certain, and a wash of a kind that nobody is advised to take.

A change is better the fewer wishes about washes it breaks, then the fewer films build
up, then the fewer may, then the more films are cleared as is wished, then the fewer
washes are of a kind that nobody is advised to take, then the fewer count as strong,
then the fewer uses change; of those that stand alike the mildest comes first. A wash
that counts as strong is never tried for every wash of more than two a week, nor every
time in the place of one that does not count as strong; nor, where one at hand does
not count as strong, every time in the place of one that nobody is advised to take.

One for mildness alone leaves no more films that come off in part, unless strong washes
come more often than the base advises. Where films are in trouble still, a second change
is looked for in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from abluent.engine.base.contract import COUNTS_STRONG, MILDER
from abluent.engine.routines.advice_tried import How, Swap, Tries, spread
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import (
    BuildUp,
    Effects,
    Film,
    build_up,
    is_wash,
    washes_of,
)
from abluent.engine.routines.conditioning import interchangeable
from abluent.engine.routines.how_often import (
    how_often,
    purpose,
    taken_apart,
    unadvised,
    washed_for,
)
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    State,
    family_of,
    state_of,
    stays_on,
)
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.routine import Schedule, Use, unrolled
from abluent.engine.routines.wishes import Wishes
from abluent.grammar.routine import tree as ast

MOST_CHANGES = 2
"""How many changes are advised together at the most."""


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
        before: what becomes of the films without it.
        kept: wishes that are kept then and are not now.
        milder: whether it is advised for its mildness alone, all being as well.
        follows: the product after each use of which it comes; empty if none.
        often: whether what it takes the place of is a strong wash used too often.
    """

    old: str
    new: str
    how: How
    use: Use
    overview: Overview
    days: Schedule
    better: tuple[Film, ...]
    before: Overview
    kept: tuple[ast.Want, ...]
    milder: bool = False
    follows: str = ""
    often: bool = False

    @property
    def after(self) -> Schedule:
        """The schedule with the change."""
        return self.overview.built.schedule

    @property
    def every(self) -> int:
        """For every how-manieth wash it is, where it is evenly so; else 0."""
        pairs = [*zip(slots_of(self.days), slots_of(self.after), strict=True)]
        places = [n for n, (old, new) in enumerate(pairs) if old != new]
        step = len(pairs) // max(1, len(places))
        even = places == [*range(places[0], len(pairs), step)] if places else False
        return step if even and len(places) * step == len(pairs) else 0


class Worth(NamedTuple):
    """What a routine comes to; the less the better, the first first."""

    broken: int
    grow: int
    may_grow: int
    late: int
    unadvised: int
    strong: int
    changed: int
    bounded: int
    harsher: int

    @property
    def ills(self) -> tuple[int, int, int, int]:
        """What should change."""
        return self[:4]


def advised(
    built: BuildUp,
    effects: Effects,
    kinds: Mapping[str, str],
    wishes: Wishes,
    *,
    never: bool = False,
) -> tuple[Change, ...]:
    """The change that helps most, and the one that helps most after it; see `Adviser`.

    None where none helps; nothing comes after a change for mildness alone.
    """
    found: list[Change] = []
    while len(found) < MOST_CHANGES:
        adviser = Adviser(built, effects, kinds, wishes, never=never)
        some = [each.new for each in found if each.how is not How.ALWAYS]
        change = adviser.best(keep=[each.new for each in found], seldom=some)
        if change is None:
            break
        found.append(change)
        if change.milder:
            break
        built = change.overview.built
    return tuple(found)


class Adviser:
    """Tries changes of one routine.

    Args:
        built: what builds up under it.
        effects: what its products and all that may take their place do.
        kinds: the kind of each product of the shelf, by its name.
        wishes: what the routine asks for.
        never: whether no strong wash is advised at all.
    """

    def __init__(
        self,
        built: BuildUp,
        effects: Effects,
        kinds: Mapping[str, str],
        wishes: Wishes,
        *,
        never: bool = False,
    ) -> None:
        self._never = never
        self._built, self._effects, self._kinds = built, effects, kinds
        self._wishes = wishes
        self._shares = Shares(effects)
        assert effects.case is not None  # stated effects come with no shelf
        self._case, self._world = effects.case, effects.case.world
        self._often = how_often(effects.case.world)
        self._now = spread(unrolled(built.schedule), self._often)
        self._found: dict[tuple[str, ...], list[tuple[Film, State]]] = {}
        self._against = {
            wash: bool(unadvised(effects.case, wash))
            for wash in washes_of(effects.case.world)
        }

    def best(
        self, *, keep: Sequence[str] = (), seldom: Sequence[str] = ()
    ) -> Change | None:
        """The change that helps most, or is milder and as good; nothing if none is.

        Args:
            keep: products that are not replaced.
            seldom: washes that come in at some uses alone, and at no more.
        """
        now = self._worth(self._now, 0, "")
        changes = [e for e in self._tries() if e.uses[0].product not in keep]
        changes = [each for each in changes if each.new not in seldom]
        changes = [e for e in changes if self._harmless(e) and not self._needless(e)]
        if self._never and now.strong:
            return self._mildest()
        tried = [(self._tried(each), each) for each in changes]
        if not tried:
            return None
        worth, best = min(tried, key=lambda each: each[0])
        if worth.ills < now.ills:
            return self._change(best, milder=False)
        often = self._too_often(now.strong)
        as_well = worth.ills == now.ills and (often or worth.bounded <= now.bounded)
        if as_well and worth.strong < now.strong:
            return self._change(best, milder=True)
        return None

    def _mildest(self) -> Change | None:
        """The change that does without a strong wash, where none is advised at all."""
        mild = [
            (self._tried(each), each)
            for each in self._tries()
            if each.how is How.ALWAYS
            and self.strong(each.uses[0].product)
            and not self.strong(each.new)
        ]
        best = min(mild, key=lambda each: each[0], default=None)
        return None if best is None else self._change(best[1], milder=True)

    def _harmless(self, swap: Swap) -> bool:
        """Whether no family of films is worse off with a change than without.

        One may come to build up perhaps where fewer build up for certain.
        """
        before, after = self._families(self._now), self._families(self._with(swap))
        worse = [
            state
            for kind, state in after.items()
            if state in TROUBLE and state < before.get(kind, State.CLEARED)
        ]
        sure = [sum(s is State.GROWS for s in e.values()) for e in (before, after)]
        return not worse or (State.GROWS not in worse and sure[1] < sure[0])

    def _needless(self, swap: Swap) -> bool:
        """Whether every use of a wash is replaced where one in some days would do.

        That is so where it helps against nothing but what is taken so seldom.
        """
        days, base = self._now, self._case.world.base
        if swap.how not in {How.ALWAYS, How.MOSTLY} or not swap.uses[0].wash:
            return False
        before, after = self._families(days), self._families(self._with(swap))
        eased = [k for k, s in before.items() if s < after.get(k, State.CLEARED)]
        eased = [kind for kind in eased if before[kind] in TROUBLE]
        apart = [taken_apart(base, kind) for kind in eased]
        return bool(eased) and all(len(swap.uses) * n > days.days for n in apart)

    def _families(self, days: Schedule) -> dict[str, State]:
        """The worst that becomes of a film of each family."""
        found: dict[str, State] = {}
        for film, state in self._states(days):
            kind = family_of(film, self._case.world)
            counted = self._counted(film, state)
            found[kind] = min(counted, found.get(kind, counted))
        return found

    def _states(self, days: Schedule) -> list[tuple[Film, State]]:
        """What becomes of each film, worked out once for the same products."""
        key = tuple(use.product for use in days.uses)
        if key not in self._found:
            films = dict.fromkeys(f for u in days.uses for f in self._effects.leaves(u))
            self._found[key] = [
                (film, state_of(days, self._effects, self._shares, film))
                for film in films
                if not self._effects.goes(film)
            ]
        return self._found[key]

    def _counted(self, film: Film, state: State) -> State:
        """What a film counts as: what is not washed for is as if it levelled off."""
        base, kind = self._world.base, family_of(film, self._world)
        minor = state is State.MAY_GROW and not washed_for(base, kind)
        return State.LEVELS if minor else state

    def _tried(self, swap: Swap) -> Worth:
        changed = 1 if self._instead(swap) else len(swap.uses)
        return self._worth(self._with(swap), changed, swap.new)

    def _instead(self, swap: Swap) -> bool:
        """Whether a wash takes the place of one that leaves films in trouble itself.

        To do without that one counts as one change, however often it is used.
        """
        first = swap.uses[0]
        if swap.how is not How.ALWAYS or not first.wash:
            return False
        if not is_wash(self._world, first.product) and is_wash(self._world, swap.new):
            return False  # who chose to co-wash is advised a wash in between
        bad = {film.source for film, s in self._states(self._now) if s in TROUBLE}
        as_strong = self.strong(swap.new) <= self.strong(first.product)
        stays = stays_on(self._effects, swap.new)
        return first.product in bad and as_strong and not stays

    def _with(self, swap: Swap) -> Schedule:
        return self._now.with_washes({use.place: swap.new for use in swap.uses})

    def _change(self, swap: Swap, *, milder: bool) -> Change:
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
        return Change(
            *told,
            overview=after,
            days=self._now,
            better=better,
            before=before,
            kept=new,
            milder=milder,
            follows=swap.follows,
            often=self._too_often(
                sum(use.product == first.product for use in self._now.uses)
            ),
        )

    def _too_often(self, strong: int) -> bool:
        """Whether so many strong washes are more than are advised."""
        if self._never:
            return bool(strong)
        return self._often.too_often(strong, self._now.days)

    def _worth(self, days: Schedule, changed: int, new: str) -> Worth:
        states = [self._counted(*each) for each in self._states(days)]
        washes = [use.product for use in slots_of(days)]
        strong = sum(map(self.strong, washes))
        against = sum(self._against.get(wash, False) for wash in washes)
        missed = [each.want for each in self._wishes.kept(days) if not each.kept]
        late = sum(isinstance(want, ast.Clear) for want in missed)
        return Worth(
            len(missed) - late,
            states.count(State.GROWS),
            states.count(State.MAY_GROW),
            late,
            against,
            strong,
            changed,
            states.count(State.BOUNDED),
            self._rank(new),
        )

    def _tries(self) -> Iterator[Swap]:
        """Every change that is tried."""
        bad = {film.source for film, s in self._states(self._now) if s in TROUBLE}
        hand = Tries(
            self._now, self._case, self._often, self.strong, self._against, bad
        )
        for each in hand.washes():
            if purpose(self._world, each.uses[0].product):
                continue  # such a wash is used for more than what is left on hair
            if not (self._never and each.how is How.MOSTLY):
                yield each
        others = interchangeable(self._case.world, [*self._kinds])
        yield from hand.others([name for name in others if name in self._effects.left])

    def strong(self, wash: str) -> bool:
        """Whether a wash counts as strong for what the routine leaves."""
        return self._case.model.holds(COUNTS_STRONG, (self._case.world.symbol(wash),))

    def _rank(self, wash: str) -> int:
        if not wash:
            return 0
        symbol = self._case.world.symbol(wash)
        return sum(1 for _ in self._case.model.match(MILDER, (None, symbol)))
