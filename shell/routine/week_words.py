"""What a picture of a routine says: which film does what, and which wash decides it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import WASH_DAY, advice_on
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Film, rinses_of
from abluent.engine.routines.how_often import unadvised
from abluent.engine.routines.overview import (
    Family,
    Overview,
    State,
    called,
    takers,
    unknown,
)
from abluent.engine.routines.routine import Schedule
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine.tree import CLEARING
from abluent.shell.told.long_names import shortened
from abluent.shell.told.spoken_names import aloud, few, spoken_alone

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_KINDS = 3
"""So many families are named; more are counted."""
_TO_WATCH = "toWatch"
"""The property of a wash that says what to watch for."""
_WASHES = 3
_FATES = {
    State.GROWS: ("builds up", "build up"),
    State.MAY_GROW: ("may build up", "may build up"),
    State.LEVELS: ("should level off by itself", "should level off by themselves"),
    State.BOUNDED: ("may thicken, but only so far", "may thicken, but only so far"),
    State.CLEARED: ("comes off", "come off"),
}
"""What becomes of one thing, and of several."""
NOTHING_LEFT = "Nothing that this routine leaves needs a wash."


_LEVELS = (
    "Nothing builds up beyond a limit.",
    "What builds up levels off: it grows only so far.",
)
"""What is said of films within bounds, the second where there is more of them later."""


class Fate(NamedTuple):
    """Families of which the same becomes.

    Args:
        state: what becomes of them.
        families: they.
        dark: whether nothing is known of what the washes take of them.
    """

    state: State
    families: tuple[Family, ...]
    dark: bool = False

    @property
    def films(self) -> tuple[Film, ...]:
        """Their films."""
        return tuple(film for each in self.families for film in each.films)


def fates_of(overview: Overview) -> list[Fate]:
    """The families by what becomes of them, the worst first, the unknown last."""
    found: dict[tuple[bool, State], list[Family]] = {}
    for each in overview.families:
        found.setdefault((unknown(overview, each), each.state), []).append(each)
    return [
        Fate(state, tuple(some), dark)
        for (dark, state), some in sorted(found.items(), key=_worst_first)
    ]


def _worst_first(item: tuple[tuple[bool, State], object]) -> tuple[bool, bool, int]:
    """What levels off by itself is no trouble, and stands behind what needs a wash."""
    (dark, state), _ = item
    return dark, state is State.LEVELS, state


class WeekWords:
    """The words of one picture.

    Args:
        overview: what becomes of the films.
        world: the base and the shelf.
    """

    def __init__(self, overview: Overview, world: World) -> None:
        self.overview, self.world, self.base = overview, world, world.base
        self.schedule = overview.built.schedule
        self.effects = overview.built.effects
        self.washes = list(dict.fromkeys(u.product for u in self.schedule.washes))
        self.fates = fates_of(overview)

    def heading(self, *, rises: bool = False) -> str:
        """What happens to which film, the worst, in one sentence.

        `rises` if there may be more of some in a later week than in the first.
        """
        if not self.fates:
            return NOTHING_LEFT
        worst = self.fates[0]
        sources = {film.source for film in worst.films}
        whose = f" from {next(iter(sources))}" if len(sources) == 1 else ""
        if WATER in sources:
            whose = ""
        names = self.names(worst, 2)
        if worst.dark:
            return f"We do not know whether {names}{whose} build up."
        if worst.state in {State.GROWS, State.MAY_GROW}:
            return as_sentence(f"{names}{whose} {self._fate(worst)}")
        if worst.state is State.CLEARED and rises:
            return "What builds up for a while comes off again."
        if worst.state is State.CLEARED:
            return "Nothing builds up from week to week."
        return _LEVELS[rises]

    def routine(self, *, washes: bool = True) -> str:
        """What is used when, in one line; without its washes where they are drawn."""
        said = []
        for product in dict.fromkeys(u.product for u in self.schedule.uses):
            days = [u.day for u in self.schedule.uses if u.product == product]
            washed = product in self.washes
            if washed and not washes:
                continue
            told = f"{shortened(product)} {_when(days, self.schedule)}"
            said.append(f"wash with {told}" if washed else told)
        return as_sentence("; ".join(said)) if said else ""

    def names(self, fate: Fate, most: int = _KINDS) -> str:
        """The families of a fate; of one that has several fates, its films."""
        often = [each.kind for each in self.overview.families]
        told = []
        for each in fate.families:
            name = called(self.base, each.kind)
            if often.count(each.kind) > 1:
                films = dict.fromkeys(
                    spoken_alone(aloud(self.base, film.former)) for film in each.films
                )
                name = listed(list(films)) if len(films) <= 3 else f"some {name}"
            told.append(name)
        return few(told, most)

    def line(self, fate: Fate) -> str:
        """What becomes of what: what stands over a strip."""
        names = self.names(fate, _KINDS)
        if fate.dark:
            return f"{names[:1].upper()}{names[1:]}: nobody knows"
        return f"{names[:1].upper()}{names[1:]} {self._fate(fate)}"

    def _fate(self, fate: Fate) -> str:
        one, many = _FATES[fate.state]
        return one if self._is_one(fate) else many

    def _is_one(self, fate: Fate) -> bool:
        """Whether the name of what is told of is a singular."""
        return len(fate.families) == 1 and not self.names(fate).endswith("s")

    def why(self, fate: Fate) -> str:
        """Which wash decides what becomes of some films, in one sentence."""
        if fate.dark:
            return "Nothing is known of what these washes take of them."
        if not self.washes:
            return "Nothing in this routine washes."
        those = few(self.washes, _WASHES)
        it = "it" if self._is_one(fate) else "them"
        if fate.state is State.GROWS:
            s = "s" * (len(self.washes) == 1)
            return f"{those} take{s} none of {it} off."
        parts = self.effects.counting.partly == CLEARING
        if fate.state is State.CLEARED and parts:
            return "A wash takes some off; it is counted as all."
        taking = [w for w in self.washes if self._takes(w, fate)]
        s = "s" * (len(taking) == 1)
        if fate.state is State.MAY_GROW or not taking:
            are = "is" if len(self.washes) == 1 else "are"
            told = f"{are} not known to take any of {it} off"
            if not taking and self._between_them(fate):
                told = "between them take some of each off"
            return f"{those} {told}."
        one = self._is_one(fate)
        each = it if one else "each"
        much = f"all of {it}" if fate.state is State.CLEARED else f"some of {each}"
        told = f"{few(taking, _WASHES)} take{s} {much} off"
        rest = [wash for wash in self.washes if wash not in taking]
        are = "is" if len(rest) == 1 else "are"
        doubt = f"{few(rest, _WASHES)} {are} not known to{'' if one else ' do so'}"
        return as_sentence(f"{told}; {doubt}" if rest else told)

    def _between_them(self, fate: Fate) -> bool:
        """Whether of each of some films one wash or another surely takes a part."""
        each = (takers(self.effects, self.washes, [film]) for film in fate.films)
        return len(self.washes) > 1 and all(each)

    def _takes(self, wash: str, fate: Fate) -> bool:
        """Whether a wash surely does to some films what makes their fate."""
        if fate.state is State.CLEARED:
            return all(self.effects.surely(wash, film) for film in fate.films)
        return wash in takers(self.effects, [wash], fate.films)

    def advice(self) -> str:
        """What to change, where something builds up or may; else what to watch for."""
        trouble = [f for f in self.fates if f.state in {State.GROWS, State.MAY_GROW}]
        films = [film for fate in trouble[:1] for film in fate.films]
        if not films:
            bounded = any(fate.state is State.BOUNDED for fate in self.fates)
            wash = self.base.record(self.base.term(Role.WASH))
            return (wash.text(_TO_WATCH) or "") if bounded else ""
        found = self._at_hand(films)
        if found:
            s = "s" * (len(found) == 1)
            return (
                f"Of your washes, {few(found, _WASHES)} take{s} off some of each: "
                "use one now and then."
            )
        told = [
            advice.text
            for film in films
            if (advice := advice_on(self.base, WASH_DAY, film.former, side=Role.FILM))
        ]
        return max(told, key=told.count) if told else ""

    def _at_hand(self, films: Sequence[Film]) -> list[str]:
        """The washes at hand that surely take a part of some films."""
        case = self.effects.case
        if case is None:
            return []
        rinses = rinses_of(self.world)
        known: Iterable[str] = dict.fromkeys(w for w, _ in self.effects.verdicts)
        others = [w for w in known if w not in {WATER, *rinses, *self.washes}]
        others = [w for w in others if not unadvised(case, w)]
        return takers(self.effects, others, films)


def _when(days: Sequence[int], schedule: Schedule) -> str:
    """On which days something is used, in a few words."""
    each = sorted(dict.fromkeys(days))
    if len(each) == schedule.days > 1:
        return "every day"
    if schedule.turns and schedule.days == len(_WEEKDAYS):
        return f"on {few([_WEEKDAYS[day - 1] for day in each], 6)}"
    if len(each) == 1 and schedule.turns:
        return f"every {schedule.days} days"
    of = f"{len(each)} of {schedule.days} days"
    return f"on {of}"
