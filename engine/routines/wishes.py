"""Whether what a routine asks for is kept: wish by wish, in washes and in days.

For films the longest wait is told from a use that leaves one to the wash that surely
takes it off, and to the one that surely takes a part of it. Where a calendar ends
before that, nothing is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.questions.world.world import WATER
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.plan_problem import Limit, Within, needs, slots_of
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.routine import tree as ast


class Wait(NamedTuple):
    """The longest wait of some film: for ever where both are nothing."""

    film: Film
    washes: int | None
    days: int | None


class Kept(NamedTuple):
    """Whether a wish is kept, and by how much.

    Args:
        want: the wish.
        kept: whether it is.
        whole: the longest wait for a wash that surely takes all, of the films that
            are cleared in time; nothing where there are none.
        overdue: the same of the others.
        part: their longest wait for a wash that surely takes a part.
        most: how many washes of those limited come together at the most.
        late: the films that are not cleared in time.
        used: how many washes of those limited there are in all.
        able: washes that surely take a part of the late film that waits longest.
        in_part: whether of some film that is cleared in time a part alone is surely
            taken, and that is counted as clearing.
    """

    want: ast.Want
    kept: bool
    whole: Wait | None = None
    overdue: Wait | None = None
    part: Wait | None = None
    most: int | None = None
    late: tuple[Film, ...] = ()
    used: int | None = None
    able: tuple[str, ...] = ()
    in_part: bool = False


class Wishes:
    """The wishes of a routine, their phrases looked up.

    Args:
        effects: what the products do.
        wants: the wishes, in their order.
        films: the films that each means that is about films.
        washes: the washes that each other means.
        limits: the limits that a wish about washes comes to under a schedule.
    """

    def __init__(
        self,
        effects: Effects,
        wants: Sequence[ast.Want],
        films: Mapping[ast.Clear, frozenset[Film]],
        washes: Mapping[ast.Want, frozenset[str]],
        limits: Callable[[Schedule, ast.AtMost | ast.Apart], Sequence[Limit]],
    ) -> None:
        self._effects, self._wants = effects, wants
        self._films, self._washes, self._limits = films, washes, limits
        self._shares = Shares(effects)

    @property
    def named(self) -> frozenset[Film]:
        """The films that any wish means."""
        return frozenset().union(*self._films.values())

    def kept(self, days: Schedule) -> tuple[Kept, ...]:
        """Whether each is kept by some uses."""
        left = dict.fromkeys(f for use in days.uses for f in self._effects.leaves(use))
        found: list[Kept] = []
        for want in self._wants:
            if isinstance(want, ast.Clear):
                films = [film for film in left if film in self._films[want]]
                found.append(cleared(want, films, days, self._effects, self._shares))
            elif isinstance(want, ast.Only):
                found.append(among(want, self._washes[want], days))
            else:
                limits = self._limits(days, want)
                found.append(limited(want, limits, self._washes[want], days))
        return tuple(found)


def cleared(
    want: ast.Clear,
    films: Sequence[Film],
    days: Schedule,
    effects: Effects,
    shares: Shares,
) -> Kept:
    """Whether some films are cleared as often as is asked."""

    def whole(wash: str, film: Film) -> bool:
        return effects.surely(wash, film)

    def part(wash: str, film: Film) -> bool:
        return bool(shares.of(wash, film).least)

    late = _late(want, films, days, effects)
    on_time = [film for film in films if film not in late and not effects.goes(film)]
    timely = _longest(on_time, days, effects, whole)
    washes = dict.fromkeys(use.product for use in days.washes)
    in_part = not all(any(effects.wholly(w, f) for w in washes) for f in on_time)
    overdue = _longest(late, days, effects, whole)
    partly = _longest(late, days, effects, part)
    able: tuple[str, ...] = ()
    if partly is not None:
        judged = dict.fromkeys(w for w, f in effects.verdicts if f == partly.film)
        able = tuple(w for w in judged if w != WATER and part(w, partly.film))
    ends = timely, overdue, partly
    return Kept(want, not late, *ends, late=late, able=able, in_part=in_part)


def _late(
    want: ast.Clear, films: Sequence[Film], days: Schedule, effects: Effects
) -> tuple[Film, ...]:
    """The films of which some need is not met, as a plan would have to."""
    chosen = [use.product for use in slots_of(days)]
    soon = Within(want.every, want.days)
    within = {film: [soon] for film in films}
    asked = needs(days, effects, list(dict.fromkeys(chosen)), within)
    missed = (
        need.film
        for need in asked
        if (not need.wash or chosen[need.at] == need.wash)
        and not any(effects.surely(chosen[slot], need.film) for slot in need.slots)
    )
    return tuple(dict.fromkeys(missed))


def limited(
    want: ast.AtMost | ast.Apart,
    limits: Sequence[Limit],
    washes: frozenset[str],
    days: Schedule,
) -> Kept:
    """Whether no more of some washes come together than is allowed."""
    chosen = [use.product for use in slots_of(days)]
    counts = [
        sum(often for slot, often in each.slots if chosen[slot] in each.washes)
        for each in limits
    ]
    used = sum(wash in washes for wash in chosen)
    most = max(counts, default=0)
    kept = all(n <= each.most for n, each in zip(counts, limits, strict=True))
    return Kept(want, kept, most=most, used=used)


def among(want: ast.Only, washes: frozenset[str], days: Schedule) -> Kept:
    """Whether only some washes are used."""
    return Kept(want, all(use.product in washes for use in slots_of(days)))


def _longest(
    films: Sequence[Film],
    days: Schedule,
    effects: Effects,
    takes: Callable[[str, Film], bool],
) -> Wait | None:
    found: list[Wait] = []
    for film in films:
        uses = [use for use in days.uses if film in effects.leaves(use)]
        waits = [
            _wait(days, film, use, takes) for use in uses if not effects.goes(film)
        ]
        known = [each for each in waits if each is not None]
        if waits and (not known or (days.turns and len(known) < len(waits))):
            return Wait(film, None, None)
        found += [Wait(film, *each) for each in known]
    return max(found, key=lambda each: (each.days or 0, each.washes or 0), default=None)


def _wait(
    days: Schedule, film: Film, use: Use, takes: Callable[[str, Film], bool]
) -> tuple[int, int] | None:
    """The washes and days until a film is taken; nothing where no wash does."""
    turns = (0, 1) if days.turns else (0,)
    later = [
        (each.day + turn * days.days, each)
        for turn in turns
        for each in days.washes
        if (turn, each.place) > (0, use.place)
    ]
    for number, (day, wash) in enumerate(later, 1):
        if takes(wash.product, film):
            return number, day - use.day
    return None
