"""A plan as a problem to be solved: wash days, washes at hand, what must be kept.

Every wash of a routine but a rinse with water is a slot that some wash at hand is to
fill. A film that a use leaves must meet a wash that surely clears it within the next
so many washes, or days; where a calendar ends before that, nothing is asked.

A film builds up where no wash of a plan can take any of it, and may where none surely
takes any. Either counts one against a plan; so does each of a wash that leaves a film
itself, where it is used.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain
from typing import NamedTuple

from abluent.engine.questions.world.world import WATER
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.routine import Schedule, Use


class Within(NamedTuple):
    """How soon a film must be cleared: in so many washes, or so many days."""

    every: int
    days: bool

    def __str__(self) -> str:
        unit = "day" if self.days else "wash"
        many = "days" if self.days else "washes"
        return f"{self.every} {unit if self.every == 1 else many}"


class Need(NamedTuple):
    """A film that must meet a clearing wash in some of the slots.

    Args:
        film: the film.
        use: the use that leaves it.
        slots: the slots in time, by number, the soonest first.
        wash: the wash that leaves it, where that is for the plan to choose; it
            stands in slot `at`.
        at: the slot, or -1.
    """

    film: Film
    use: Use
    slots: tuple[int, ...]
    wash: str = ""
    at: int = -1


class Demand(NamedTuple):
    """One of some washes is needed in one of some slots.

    Where `wash` is named, it is needed if that wash stands in slot `at`.
    """

    at: int
    wash: str
    slots: frozenset[int]
    able: frozenset[str]


class Limit(NamedTuple):
    """At most so many of some washes in some slots, each slot counted so often."""

    said: str
    washes: frozenset[str]
    slots: tuple[tuple[int, int], ...]
    most: int


class Ill(NamedTuple):
    """A film that none of some washes takes in some of the slots, which counts one.

    Args:
        wash: the wash that leaves it, where that is for the plan to choose.
        slots: the slots.
        able: the washes.
    """

    wash: str
    slots: frozenset[int]
    able: frozenset[str]

    def met(self, chosen: Sequence[str]) -> bool:
        """Whether a plan is clear of it."""
        if self.wash and self.wash not in chosen:
            return True
        return any(chosen[slot] in self.able for slot in self.slots)


class Worth(NamedTuple):
    """What a plan comes to by the wishes that count something; the less the better.

    Args:
        strong: washes that count as strong.
        unread: washes with lines that nobody understood.
        harsh: of the harshest that cleans, how many its washes hold.
        ill: how many films build up, and how many may.
        different: how many different washes.
        changed: washes that are another one than now.
    """

    strong: int
    unread: int
    harsh: int
    ill: int
    different: int
    changed: int


@dataclass(frozen=True)
class PlanProblem:
    """What a plan must keep to, and what it is chosen by.

    Args:
        slots: the washes to be chosen.
        washes: the washes at hand, in the order of the shelf.
        clears: the films that each surely clears.
        needs: what must be cleared in time.
        limits: what must not be exceeded.
        milder: the pairs of washes of which the first is known to be the milder.
        strong: the washes that count as strong.
        unread: those of them with lines that nobody understood.
        now: what stands in each slot before anything is planned; empty for nothing.
        ills: what counts against a plan, and how often.
        harsh: how many of the harshest that clean each wash holds; none where unsaid.
    """

    slots: tuple[Use, ...]
    washes: tuple[str, ...]
    clears: Mapping[str, frozenset[Film]]
    needs: tuple[Need, ...]
    limits: tuple[Limit, ...]
    milder: frozenset[tuple[str, str]]
    strong: frozenset[str] = frozenset()
    unread: frozenset[str] = frozenset()
    now: tuple[str, ...] = ()
    ills: Mapping[Ill, int] = field(default_factory=dict)
    harsh: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def demands(self) -> list[Demand]:
        """The needs that say all there is to say.

        What fewer washes in the same slots meet anyway is left out.
        """
        films: dict[Film, frozenset[str]] = {}
        groups: dict[frozenset[int], dict[tuple[int, str], set[frozenset[str]]]] = {}
        for need in self.needs:
            if need.wash and need.wash not in self.washes:
                continue
            if need.film not in films:
                able = (w for w in self.washes if need.film in self.clears[w])
                films[need.film] = frozenset(able)
            group = groups.setdefault(frozenset(need.slots), {})
            group.setdefault((need.at, need.wash), set()).add(films[need.film])
        return [each for group in groups.items() for each in _strictest(*group)]

    def without(self, films: Iterable[Film]) -> PlanProblem:
        """The problem with some films left alone."""
        out = set(films)
        return replace(self, needs=tuple(n for n in self.needs if n.film not in out))

    def with_washes(self, washes: Sequence[str]) -> PlanProblem:
        """The problem with fewer washes at hand."""
        return replace(self, washes=tuple(washes))

    def holds(self, chosen: Sequence[str]) -> bool:
        """Whether a choice of a wash for every slot keeps to everything."""
        for need in self.needs:
            if need.wash and chosen[need.at] != need.wash:
                continue
            if not any(need.film in self.clears[chosen[s]] for s in need.slots):
                return False
        return all(
            sum(often for slot, often in each.slots if chosen[slot] in each.washes)
            <= each.most
            for each in self.limits
        )

    def as_mild(self, one: str, other: str) -> bool:
        """Whether a wash is another one, or known to be milder than it."""
        return one == other or (one, other) in self.milder

    def rank(self, wash: str) -> int:
        """How many washes at hand are known to be milder than one."""
        return sum((other, wash) in self.milder for other in self.washes)

    def worth(self, chosen: Sequence[str]) -> Worth:
        """What a plan comes to, but for its mildness."""
        return Worth(
            sum(wash in self.strong for wash in chosen),
            sum(wash in self.unread for wash in chosen),
            sum(self.harsh.get(wash, 0) for wash in chosen),
            sum(often for ill, often in self.ills.items() if not ill.met(chosen)),
            len(set(chosen)),
            sum(a != b for a, b in zip(chosen, self.now, strict=False) if b),
        )


def _strictest(
    slots: frozenset[int], group: Mapping[tuple[int, str], set[frozenset[str]]]
) -> Iterator[Demand]:
    """The demands on some slots that no other demand on them implies."""
    always = group.get((-1, ""), set())
    for (at, wash), sets in group.items():
        for able in sets:
            implied = any(less < able for less in always | sets)
            if not (implied or (wash and able in always)):
                yield Demand(at, wash, slots, able)


def needs(
    schedule: Schedule,
    effects: Effects,
    washes: Sequence[str],
    within: Mapping[Film, Sequence[Within]],
) -> tuple[Need, ...]:
    """Everything that must be cleared in time.

    Args:
        schedule: the uses.
        effects: what they leave.
        washes: what may stand in a slot.
        within: how soon each film must be cleared; others may stay.
    """
    slots = slots_of(schedule)
    number = {use.place: n for n, use in enumerate(slots)}
    found: dict[tuple[object, ...], Need] = {}
    for use in schedule.uses:
        for film, wash in _left(use, use.place in number, effects, washes):
            for each in within.get(film, ()):
                window = _window(schedule, slots, use, each)
                if window is None or effects.goes(film):
                    continue
                at = number[use.place] if wash else -1
                found.setdefault((film, window, at), Need(film, use, window, wash, at))
    return tuple(found.values())


def _left(
    use: Use, is_slot: bool, effects: Effects, washes: Sequence[str]
) -> Iterator[tuple[Film, str]]:
    """The films a use leaves, with the wash that does where that is open."""
    if not is_slot:
        yield from ((film, "") for film in effects.leaves(use))
        return
    yield from ((film, "") for film in effects.left.get(WATER, ()))
    for wash in washes:
        yield from ((film, wash) for film in effects.left.get(wash, ()))


def slots_of(schedule: Schedule) -> tuple[Use, ...]:
    """The washes that a plan chooses: all but rinses with water."""
    return tuple(use for use in schedule.washes if use.product != WATER)


def _window(
    schedule: Schedule, slots: Sequence[Use], use: Use, within: Within
) -> tuple[int, ...] | None:
    """The slots in which a use may wait to be cleared; nothing if none is asked."""
    later = [n for n, slot in enumerate(slots) if slot.place > use.place]
    if schedule.turns:
        later += [n for n in range(len(slots)) if n not in set(later)]
        days = [(slots[n].day - use.day) % schedule.days for n in later]
        for place, n in enumerate(later):
            if slots[n].place <= use.place and slots[n].day == use.day:
                days[place] = schedule.days
    else:
        days = [slots[n].day - use.day for n in later]
    if within.days:
        if not schedule.turns and use.day + within.every > schedule.days:
            return None
        return tuple(n for n, d in zip(later, days, strict=True) if d <= within.every)
    if len(later) < within.every and not schedule.turns:
        return None
    return tuple(later[: within.every])


def at_most(
    schedule: Schedule, said: str, washes: Iterable[str], most: int, days: int
) -> Iterator[Limit]:
    """At most so many of some washes in any so many days running."""
    slots, chosen = slots_of(schedule), frozenset(washes)
    last = schedule.days if schedule.turns else max(1, schedule.days - days + 1)
    seen = set()
    for first in range(1, last + 1):
        often = tuple(
            (n, times)
            for n, slot in enumerate(slots)
            if (times := _times(schedule, slot.day, first, days))
        )
        if sum(times for _, times in often) > most and often not in seen:
            seen.add(often)
            yield Limit(said, chosen, often, most)


def _times(schedule: Schedule, day: int, first: int, days: int) -> int:
    """How often a day comes in a stretch of days that may go round."""
    if not schedule.turns:
        return int(first <= day < first + days)
    whole, rest = divmod(days, schedule.days)
    return whole + int((day - first) % schedule.days < rest)


def apart(schedule: Schedule, said: str, washes: Iterable[str]) -> Iterator[Limit]:
    """None of some washes on two days running."""
    slots, chosen = slots_of(schedule), frozenset(washes)
    by_day: dict[int, list[int]] = {}
    for n, slot in enumerate(slots):
        by_day.setdefault(slot.day, []).append(n)
    for day, here in by_day.items():
        after = day + 1
        if schedule.turns and after > schedule.days:
            after = 1
        for one in here:
            for other in by_day.get(after, ()):
                pair = ((one, 2),) if one == other else ((one, 1), (other, 1))
                yield Limit(said, chosen, pair, 1)


def unclearable(problem: PlanProblem) -> tuple[Film, ...]:
    """The films that no wash at hand surely clears, though they must be cleared.

    A film that only a wash leaves does not count: that wash can be left out.
    """
    known = set(chain.from_iterable(problem.clears[w] for w in problem.washes))
    fixed = dict.fromkeys(need.film for need in problem.needs if not need.wash)
    return tuple(film for film in fixed if film not in known)


# --- what counts against a plan -------------------------------------------------------


def ills(
    days: Schedule, effects: Effects, washes: Sequence[str], shares: Shares
) -> Mapping[Ill, int]:
    """What counts against a plan, and how often.

    Args:
        days: the uses; what its washes are is open.
        effects: what the products leave and the washes do.
        washes: what may stand in a slot.
        shares: what the washes take.
    """
    return Counter(_each_ill(days, effects, washes, shares))


def _each_ill(
    days: Schedule, effects: Effects, washes: Sequence[str], shares: Shares
) -> Iterator[Ill]:
    slots = slots_of(days)
    every = frozenset(range(len(slots)))
    chosen = {use.place for use in slots}
    fixed = [use for use in days.uses if use.place not in chosen]
    first: dict[Film, int] = {}
    for use in days.uses:
        own = effects.left.get(WATER, ()) if use.place in chosen else None
        for film in effects.leaves(use) if own is None else own:
            first.setdefault(film, use.place)
    for film, place in first.items():
        after = [u for u in fixed if days.turns or u.place > place]
        takers = [u.product for u in after if effects.takes(u, film)]
        later = (n for n in every if days.turns or slots[n].place > place)
        known = effects, washes, shares
        yield from _ills_of(film, "", frozenset(later), takers, known)
    others = [use for use in fixed if use.wash]
    for wash in washes:
        for film in effects.left.get(wash, ()):
            takers = [use.product for use in others]
            yield from _ills_of(film, wash, every, takers, (effects, washes, shares))


def _ills_of(
    film: Film,
    wash: str,
    slots: frozenset[int],
    takers: Sequence[str],
    known: tuple[Effects, Sequence[str], Shares],
) -> Iterator[Ill]:
    """The two that one film may be, but for what a use that is no slot meets."""
    effects, washes, shares = known
    if film in effects.level or effects.goes(film):
        return
    if not any(shares.of(each, film).most for each in takers):
        able = (w for w in washes if shares.of(w, film).most)
        yield Ill(wash, slots, frozenset(able))
    if not any(shares.of(each, film).least for each in takers):
        able = (w for w in washes if shares.of(w, film).least)
        yield Ill(wash, slots, frozenset(able))
