"""A wash that comes too seldom for what is left in between, or for what a note tells.

Of what is left in only so many uses may lie between two washes that take it, and what
the water brings is taken within so many days: both as the base advises. Against what
hardly goes in one wash the strongest at hand is counted on. A note may tell of films
whatever is used: green hair speaks of metal from water or a pool.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import STRONG, STRONGER_ON
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import (
    Film,
    washes_of,
)
from abluent.engine.routines.conditioning import left_in
from abluent.engine.routines.how_often import (
    gathers_after,
    how_often,
    purpose,
    taken_within,
    unadvised,
    uses_between,
    washed_for,
)
from abluent.engine.routines.overview import Overview, State, family_of, stays_on
from abluent.engine.routines.routine import WEEK, Schedule, Use, repeated

RHYTHMS = (28, 21, 14, 10, 7, 4, 2)
"""In how many days a wash may be advised, the most seldom first."""

LONG = 56
"""How many days are looked at of a routine that comes round sooner."""


class Oftener(NamedTuple):
    """A wash that is advised more often than it is used.

    Args:
        wash: the wash.
        every: in how many days.
        now: how many days lie between two uses of it now; 0 where it is not used.
        instead: the wash in whose place it comes; empty if there is no other.
        films: the films for whose sake.
        uses: how many uses that leave them lie between two such washes now.
        sure: whether it surely takes a part of them.
        all_days: in how many days any wash is advised; 0 for as often as now.
        slots: in how many days there is a wash now, on average.
        word: the word of a note that tells of the films; empty if none does.
        mild: whether it is no strong wash, and comes where only strong ones take them.
        rinse: whether it is no wash, and comes beside one.
    """

    wash: str
    every: int
    now: int
    instead: str
    films: tuple[Film, ...]
    uses: int
    sure: bool
    all_days: int = 0
    slots: int = 0
    word: str = ""
    mild: bool = False
    rinse: bool = False


def oftener(
    overview: Overview, world: World, coated: str, harmed: str = ""
) -> Oftener | None:
    """The wash that comes too seldom by most, for what is left in or the water brings.

    Args:
        overview: what becomes of the films.
        world: the base and the shelf.
        coated: the word of a note that says hair feels coated; may be empty.
        harmed: the word of one that says it is washed too harshly; may be empty.
    """
    days = overview.built.schedule
    if not (days.turns and any(use.product != WATER for use in days.washes)):
        return None
    days = repeated(days, -(-LONG // days.days)) if days.days < LONG else days
    tried = _Seldom(overview, world, days, bool(coated), bool(harmed))
    found: dict[str, Oftener] = {}
    for each in tried.each():
        other = found.get(each.wash)
        if other is None or each.every < other.every:
            found[each.wash] = each
        elif each.every == other.every and each.sure == other.sure:
            films = (*other.films, *each.films)
            found[each.wash] = other._replace(films=films)
    return min(found.values(), key=lambda e: (e.every, -len(e.films)), default=None)


class _Seldom:
    """What comes too seldom in some days.

    Args:
        overview: what becomes of the films.
        world: the base and the shelf.
        days: the routine, repeated where it is short.
        coated: whether hair feels coated.
        harmed: whether hair or skin is washed too harshly.
    """

    def __init__(
        self,
        overview: Overview,
        world: World,
        days: Schedule,
        coated: bool,
        harmed: bool,
    ) -> None:
        self._overview, self._world, self._days = overview, world, days
        self._done, self._coated = overview.built.effects, coated
        self._harmed = harmed
        assert self._done.case is not None
        self._case = self._done.case
        self._washes = [use for use in days.washes if use.product != WATER]
        self._used = list(dict.fromkeys(use.product for use in self._washes))
        self._often = how_often(world)

    def each(self) -> Iterator[Oftener]:
        """For each film that is taken too seldom, the wash to use more often."""
        for told in self._overview.told:
            film = told.film
            state = told.state
            if state in {State.LEVELS, State.GROWS}:
                continue
            if film.source == WATER:
                found = self._mineral(film)
            elif left_in(self._world, film.source):
                found = self._left_in(film)
            else:
                found = None
            if found is not None:
                yield found

    def _mineral(self, film: Film) -> Oftener | None:
        """A wash in use that may take what the water brings, and comes too seldom."""
        within = taken_within(self._world.base, family_of(film, self._world))
        able = self._able(film, self._used)
        gap, uses = self._gap(film, able)
        if not (within and able and gap > within):
            return None
        return self._told(able[0], film, within, gap, uses)

    def _left_in(self, film: Film) -> Oftener | None:
        """A wash that takes what is left in, after too many uses of that."""
        base = self._world.base
        if not washed_for(base, family_of(film, self._world)):
            return None
        most, strongest = uses_between(base, film.former, coated=self._coated)
        able = self._able(film, self._used)
        if strongest:
            hand = [*self._used, *(w for w in self._hand() if w not in self._used)]
            able = strongest_on(self._case, self._able(film, hand), film)
        used = [wash for wash in able if wash in self._used]
        if not (most and able):
            return None
        gap, uses = self._gap(film, used)
        left = sum(film in self._done.leaves(use) for use in self._days.uses)
        few = not used and left * self._often.seldom <= most * self._days.days
        harsh = self._strong((used or able)[0]) and not (strongest or self._coated)
        if uses <= most or few:
            return None
        if harsh:
            return self._between(film, used, uses) or self._sooner(film, able, gap)
        every = _rhythm(most * self._days.days / left)
        return self._told((used or able)[0], film, every, gap if used else 0, uses)

    def _between(self, film: Film, used: Sequence[str], uses: int) -> Oftener | None:
        """A mild wash at hand where only strong ones, used seldom, take a film now."""
        case, shares = self._case, self._overview.shares
        mild = [w for w in self._hand() if not self._strong(w) and w not in self._used]
        mild = self._able(film, mild)
        now = [wash for wash in self._used if not self._strong(wash)]
        firmer = mild and all(_beats(case, mild[0], w, film) for w in now)
        sure = mild and shares.of(mild[0], film).least
        if not (used and now and mild and (sure or firmer)):
            return None
        told = self._told(mild[0], film, WEEK, 0, uses)
        return told and told._replace(mild=True)

    def _sooner(self, film: Film, able: Sequence[str], gap: int) -> Oftener | None:
        """A strong wash in use sooner, where a film gathers and no mild one helps."""
        base, used = self._world.base, [wash for wash in able if wash in self._used]
        if not used or gap <= max(gathers_after(base), self._often.harmed):
            return None
        _, uses = self._gap(film, used)
        return self._told(used[0], film, self._often.seldom, gap, uses)

    def _told(
        self, wash: str, film: Film, every: int, gap: int, uses: int
    ) -> Oftener | None:
        """A wash at its rhythm, and the rhythm of all washes where that is shorter."""
        strong = self._strong(wash)
        own = max(every, self._apart) if strong else every
        slots = round(self._days.days / len(self._washes))
        more = every if slots > every else 0
        if gap and gap <= own and not more:
            return None
        others = [each for each in self._used if each != wash]
        instead = max(others, key=self._count, default="")
        return Oftener(
            wash,
            own,
            gap,
            instead,
            (film,),
            uses,
            bool(self._overview.shares.of(wash, film).least),
            more,
            slots,
        )

    @property
    def _apart(self) -> int:
        """How many days apart a strong wash is advised; more where washes are few."""
        often = self._often
        if self._harmed:
            return max(often.harmed, often.apart)
        few = len(self._washes) * WEEK <= self._days.days
        return often.seldom if few else often.apart

    def _count(self, wash: str) -> int:
        return sum(use.product == wash for use in self._washes)

    def _able(self, film: Film, washes: Iterable[str]) -> list[str]:
        """Those of some washes that surely take a film, else that may; mild first."""
        shares = self._overview.shares
        known = [w for w in washes if (w, film) in self._done.verdicts]
        known = [w for w in known if not unadvised(self._case, w)]
        sure = [wash for wash in known if shares.of(wash, film).least]
        able = sure or [wash for wash in known if shares.of(wash, film).most]
        return sorted(able, key=lambda w: (self._strong(w), w not in self._used))

    def _hand(self) -> list[str]:
        """The washes at hand that leave nothing and are for nothing else."""
        return [
            wash
            for wash in washes_of(self._world)
            if not (stays_on(self._done, wash) or purpose(self._world, wash))
        ]

    def _strong(self, wash: str) -> bool:
        return self._case.model.holds(STRONG, (self._case.world.symbol(wash),))

    def _gap(self, film: Film, washes: Sequence[str]) -> tuple[int, int]:
        """The most days, and the most uses of a film, between two of some washes."""
        at = [use for use in self._washes if use.product in washes]
        leaving = [u for u in self._days.uses if film in self._done.leaves(u)]
        if not at:
            return 0, len(leaving)
        longest, uses = 0, 0
        for wash, then in zip(at, [*at[1:], at[0]], strict=True):
            wraps = then.place <= wash.place
            gap = then.day - wash.day + (self._days.days if wraps else 0)
            between = sum(_between(use, wash, then, wraps=wraps) for use in leaving)
            longest, uses = max(longest, gap), max(uses, between)
        return longest, uses


def _between(use: Use, wash: Use, then: Use, *, wraps: bool) -> bool:
    """Whether a use comes after one wash and before another, or round the turn."""
    if wraps:
        return use.place > wash.place or use.place < then.place
    return wash.place < use.place < then.place


def strongest_on(case: Case, washes: Sequence[str], film: Film) -> list[str]:
    """Those of some washes that no other of them is stronger than on a film."""
    return [
        wash
        for wash in washes
        if not any(_beats(case, other, wash, film) for other in washes)
    ]


def _beats(case: Case, wash: str, other: str, film: Film) -> bool:
    """Whether a wash is stronger than another on a family that a film is of."""
    symbol, isa = case.world.symbol, case.world.base.classes_of(film.former)
    pair = symbol(wash), symbol(other)
    return any(
        family in isa for *_, family in case.model.match(STRONGER_ON, (*pair, None))
    )


def _rhythm(days: float) -> int:
    """The most seldom rhythm that is no more seldom than so many days."""
    return next((each for each in RHYTHMS if each <= days), RHYTHMS[-1])
