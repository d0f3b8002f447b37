"""Films over days, to be read on a phone: a strip for families alike, worst first.

A strip has a column for each day, as it ends. What is filled is there at the least,
what is pale may be there as well, so a strip that stays low and filled is known to be
so and one that is tall and pale is not known. Washes are ticked below, days numbered.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from abluent.engine.questions.world.world import World
from abluent.engine.routines.amounts import by_day
from abluent.engine.routines.overview import Family, Overview, State
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.grammar.routine.tree import CLEARING
from abluent.shell.pictures.framed import Frame, framed
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import PLAIN, WASH, Look, Sheet
from abluent.shell.pictures.text import LEADING, even_lines, width
from abluent.shell.routine.words import STATES, number, worth

MOST_DAYS = 28
"""Days shown; of a routine that comes round, so many of its turns."""
_SHAPE = SHAPES["9:16"]
WIDE = float(_SHAPE.wide)
_CLAIM, _TEXT = 60.0, 37.0
_LEAST_STRIP, _MOST_STRIP = 44.0, 210.0
_TICKS = 22.0
_STATES = {
    State.GROWS: "build up",
    State.MAY_GROW: "may build up",
    State.LEVELS: "are expected to level off",
    State.BOUNDED: "may rise, but only so far",
}
"""What becomes of several families; of what comes off it is told how high it gets."""
_NUMBERED = 3
"""So many strips are numbered each; of more the last alone."""
_WEEK = 7
_WELL = "Nothing builds up"
"""What is said of a routine that is well; what rises for a while does so to an end."""
_Columns = tuple[tuple[Fraction, Fraction], ...]


class _Scale(NamedTuple):
    """What is shown, and of how much: days of turns of a length, some with a wash."""

    top: Fraction
    shown: int
    turn: int
    washes: frozenset[int]

    @property
    def gutter(self) -> float:
        """The room for the numbers on the left."""
        return width(number(self.top), _TEXT) + 12

    def place(self, frame: Frame, day: int) -> tuple[float, float]:
        """Where the column of a day begins, counted from 0, and how wide it is."""
        step = (frame.room - self.gutter) / max(1, self.shown)
        return frame.left + self.gutter + day * step, step


class _Strip(NamedTuple):
    """Families of which the same becomes, day by day."""

    kinds: tuple[str, ...]
    state: State
    columns: _Columns


def films_over_days(  # noqa: PLR0913 - what is drawn, and how
    name: str,
    overview: Overview,
    told: str,
    world: World,
    look: Look = PLAIN,
    *,
    day: str = "",
) -> Sheet:
    """Draw how much of each family of films there is, day by day.

    Args:
        name: of the routine; may be empty.
        overview: what becomes of its films.
        told: the sentence that stands above.
        world: the base and the shelf.
        look: its colours and whose it is.
        day: the day to print, as `2026-01-31`.
    """
    days = overview.built.schedule
    shown = MOST_DAYS if days.turns else min(days.days, MOST_DAYS)
    strips = _strips(overview, shown)
    parts = _counts_parts(overview)
    top = max((high for s in strips for _, high in s.columns), default=Fraction(1))
    frame = framed(_SHAPE, look, name or "What builds up", told)
    foot_lines = _foot(frame, name, overview, day)
    foot = frame.shape.high - frame.shape.margins[2]
    foot -= len(foot_lines) * _TEXT * LEADING
    heads = [
        even_lines(
            _heading(s, strips, world, parts=parts), frame.room, _TEXT, bold=True
        )
        for s in strips
    ]
    fixed = sum(len(head) * _TEXT * LEADING + _TICKS + 28 for head in heads)
    numbered = len(strips) if len(strips) <= _NUMBERED else 1
    fixed += numbered * _TEXT * LEADING
    least = fixed + len(strips) * _LEAST_STRIP + _TEXT
    if any(s.state is State.BOUNDED for s in strips):
        told = told.replace(_WELL, f"{_WELL} without end", 1)
    y = _opening(frame, told, foot - least, _beneath(strips, shown, parts=parts))
    free = foot - _TEXT - y - fixed
    tall = max(_LEAST_STRIP / 2, min(_MOST_STRIP, free / max(1, len(strips))))
    scale = _Scale(top, shown, days.days, frozenset(u.day for u in days.washes))
    for left, (strip, head) in enumerate(zip(strips, heads, strict=True)):
        for line in head:
            frame.sheet.text(frame.left, y + _TEXT, line, frame.style(_TEXT, bold=True))
            y += _TEXT * LEADING
        y += 18
        _columns(frame, strip.columns, scale, y, tall)
        _ticks(frame, scale, y + tall)
        y += tall + _TICKS + 10
        if len(strips) - left <= numbered:
            y = _numbers(frame, scale, y)
    frame.rule(foot - _TEXT * 0.35)
    for number_, line in enumerate(foot_lines):
        at = foot + number_ * _TEXT * LEADING + _TEXT
        frame.sheet.text(frame.left, at, line, frame.style(_TEXT))
    return frame.sheet


def _strips(overview: Overview, shown: int) -> list[_Strip]:
    """The families, those together of which the same becomes on each day."""
    found: dict[tuple[State, _Columns], list[str]] = {}
    for family in overview.families:
        key = (family.state, _days(family, overview, shown))
        found.setdefault(key, []).append(family.kind)
    return [
        _Strip(tuple(dict.fromkeys(kinds)), state, columns)
        for (state, columns), kinds in found.items()
    ]


def _days(family: Family, overview: Overview, shown: int) -> _Columns:
    """The most of any film of a family at the end of each day, at least and at most."""
    built = overview.built
    each = [
        by_day(built.schedule, built.effects, overview.shares, film, shown)
        for film in family.films
    ]
    return tuple(
        (max(low for low, _ in day), max(high for _, high in day))
        for day in zip(*each, strict=True)
    )


def _heading(
    strip: _Strip, strips: Sequence[_Strip], world: World, *, parts: bool
) -> str:
    """What stands over a strip; `parts`: what is taken in part is counted as taken."""
    met = [kind for each in strips for kind in each.kinds]
    said = in_a_row(
        [
            f"{'some ' * (met.count(kind) > 1)}{world.base.plural(kind)}"
            for kind in strip.kinds
        ]
    )
    if strip.state is State.CLEARED and parts:
        return f"{said[:1].upper()}{said[1:]}: at least a part comes off"
    if strip.state is State.CLEARED:
        highest = max(high for _, high in strip.columns)
        return f"{said[:1].upper()}{said[1:]}: never above {worth(highest)}"
    words = _STATES if len(strip.kinds) > 1 or said.endswith("s") else STATES
    return f"{said[:1].upper()}{said[1:]} {words[strip.state]}"


def _beneath(strips: Sequence[_Strip], shown: int, *, parts: bool) -> str:
    """What the bars of films that come off show, where these never are gone."""
    comes = [s for s in strips if s.state is State.CLEARED]
    if {s.state for s in strips} == {State.BOUNDED}:
        return "A wash takes at least a part of each, so that what rises levels off."
    if parts or not comes or len(comes) < len(strips):
        return ""
    if any(all(low > 0 for low, _ in s.columns[-shown // 2 :]) for s in comes):
        return (
            "A wash takes the film off; what is used after it lays a new one. "
            "So a bar stays, and does not grow week by week."
        )
    return "A wash takes the film off before it can grow week by week."


def _opening(frame: Frame, told: str, most: float, instead: str) -> float:
    """Set what is said above: its first clause large, then as much as fits.

    Where the strips say the rest themselves, `instead` is set in its place.
    """
    head, colon, rest = told.partition(": ")
    if not colon or "." in head:
        head, _, rest = told.partition(". ")
    top, x, room = frame.shape.margins[0], frame.left, frame.room
    for line in even_lines(as_sentence(head), room, _CLAIM, bold=True):
        frame.sheet.text(x, top + _CLAIM, line, frame.style(_CLAIM, bold=True))
        top += _CLAIM * LEADING
    top += 8
    rest = instead or rest[:1].upper() + rest[1:]
    for sentence in rest.split(". ") if rest else []:
        lines = even_lines(as_sentence(sentence), room, _TEXT)
        if top + len(lines) * _TEXT * LEADING > most:
            break
        for line in lines:
            frame.sheet.text(x, top + _TEXT, line, frame.style(_TEXT))
            top += _TEXT * LEADING
    return top + _TEXT * 0.5


def _columns(
    frame: Frame, columns: _Columns, scale: _Scale, y: float, tall: float
) -> None:
    top = scale.top
    edge: dict[str, Any] = {"stroke": frame.look.ink, "stroke_width": 1}
    begin, _ = scale.place(frame, 0)
    marks = [top, Fraction(1)] if top >= 2 and tall > 3 * _TEXT else [top]
    for amount in marks if top else []:
        at = y + tall - float(amount / top) * tall
        ends = [(begin, at), (frame.left + frame.room, at)]
        frame.sheet.line(ends, stroke=frame.look.ink, stroke_dasharray="3 7")
        frame.sheet.text(
            frame.left, at + _TEXT * 0.35, number(amount), frame.style(_TEXT)
        )
    for n, (low, high) in enumerate(columns):
        x, step = scale.place(frame, n)
        for amount, fill in ((high, WASH), (low, frame.look.film)):
            part = float(amount / top) * tall if top else 0.0
            if part:
                at, wide = y + tall - part, step - 2
                frame.sheet.box(x + 1, at, wide, part, fill=fill, **edge)
    base = [(begin, y + tall), (frame.left + frame.room, y + tall)]
    frame.sheet.line(base, stroke=frame.look.ink)


def _ticks(frame: Frame, scale: _Scale, y: float) -> None:
    for n in range(scale.shown):
        if n % scale.turn + 1 in scale.washes:
            x, step = scale.place(frame, n)
            ends = [(x + step / 2, y + 4), (x + step / 2, y + 18)]
            frame.sheet.line(ends, stroke=frame.look.ink, stroke_width=5)


def _numbers(frame: Frame, scale: _Scale, y: float) -> float:
    """Set the numbers of some days below their columns; return where they end."""
    few = scale.shown <= _WEEK
    days = [d for d in range(1, scale.shown + 1) if few or d == 1 or d % _WEEK == 0]
    for day in days:
        x, step = scale.place(frame, day - 1)
        said = "Day 1" if day == 1 else str(day)
        half = width(said, _TEXT) / 2
        x = x if day == 1 else min(x + step / 2, frame.left + frame.room - half) - half
        frame.sheet.text(x, y + _TEXT * 0.8, said, frame.style(_TEXT))
    return y + _TEXT * LEADING


def _counts_parts(overview: Overview) -> bool:
    """Whether what a wash takes in part is counted as taken."""
    return overview.built.effects.counting.partly == CLEARING


def _foot(frame: Frame, name: str, overview: Overview, day: str) -> Sequence[str]:
    key = (
        "Filled: surely there as the day ends. Pale: may be there. "
        "Numbers on the left: uses' worth. Ticks: washes."
    )
    sure = "How sure: worked out from the labels, not measured."
    if _counts_parts(overview):
        sure += " What a wash takes in part is counted as taken whole."
    by = " · ".join(filter(None, [frame.look.handle, name, f"Abluent {day}".strip()]))
    said = (key, sure, by)
    return [x for text in said for x in even_lines(text, frame.room, _TEXT)]
