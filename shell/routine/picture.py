"""Films over days, to be read on a phone: a strip for families alike, worst first.

A strip has a column for each day. What is filled is there at the least, what is pale
may be there as well, so a strip that stays low and filled is known to be so and one
that is tall and pale is not known. Washes are ticked below.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.questions.world.world import World
from abluent.engine.routines.amounts import by_day
from abluent.engine.routines.overview import Family, Overview, State
from abluent.engine.routines.routine import Schedule
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.shell.pictures.framed import Frame, framed
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import PLAIN, WASH, Look, Sheet
from abluent.shell.pictures.text import LEADING, lines_of
from abluent.shell.routine.words import STATES, worth

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
    State.LEVELS: "level off by themselves",
    State.BOUNDED: "stay within bounds",
    State.CLEARED: "come off",
}
"""What becomes of several families."""
_Columns = tuple[tuple[Fraction, Fraction], ...]


class _Strip(NamedTuple):
    """Families of which the same becomes, day by day."""

    kinds: tuple[str, ...]
    state: State
    columns: _Columns


def films_over_days(
    name: str, overview: Overview, told: str, world: World, look: Look = PLAIN
) -> Sheet:
    """Draw how much of each family of films there is, day by day.

    Args:
        name: of the routine; may be empty.
        overview: what becomes of its films.
        told: the sentence that stands above.
        world: the base and the shelf.
        look: its colours and whose it is.
    """
    days = overview.built.schedule
    shown = MOST_DAYS if days.turns else min(days.days, MOST_DAYS)
    strips = _strips(overview, shown)
    top = max((high for s in strips for _, high in s.columns), default=Fraction(1))
    frame = framed(_SHAPE, look, name or "What builds up", told)
    foot_lines = _foot(frame, name, shown, top)
    foot = frame.shape.high - frame.shape.margins[2]
    foot -= len(foot_lines) * _TEXT * LEADING
    heads = [lines_of(_heading(s, world), frame.room, _TEXT, bold=True) for s in strips]
    fixed = sum(len(head) * _TEXT * LEADING + _TICKS + 18 for head in heads)
    least = fixed + len(strips) * _LEAST_STRIP + _TEXT
    y = _opening(frame, told, foot - least)
    free = foot - _TEXT - y - fixed
    tall = max(_LEAST_STRIP / 2, min(_MOST_STRIP, free / max(1, len(strips))))
    for strip, head in zip(strips, heads, strict=True):
        for line in head:
            frame.sheet.text(frame.left, y + _TEXT, line, frame.style(_TEXT, bold=True))
            y += _TEXT * LEADING
        y += 8
        _columns(frame, strip.columns, top, y, tall)
        _ticks(frame, days, shown, y + tall)
        y += tall + _TICKS + 10
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


def _heading(strip: _Strip, world: World) -> str:
    said = in_a_row([world.base.plural(kind) for kind in strip.kinds])
    words = _STATES if len(strip.kinds) > 1 or said.endswith("s") else STATES
    return f"{said[:1].upper()}{said[1:]} {words[strip.state]}"


def _opening(frame: Frame, told: str, most: float) -> float:
    """Set what is said above: its first clause large, then as much as fits."""
    head, colon, rest = told.partition(": ")
    if not colon or "." in head:
        head, _, rest = told.partition(". ")
    top, x, room = frame.shape.margins[0], frame.left, frame.room
    style = frame.style(_CLAIM, bold=True)
    top = frame.sheet.paragraph(x, top, room, as_sentence(head), style) + 8
    rest = rest[:1].upper() + rest[1:]
    for sentence in rest.split(". ") if rest else []:
        lines = lines_of(as_sentence(sentence), room, _TEXT)
        if top + len(lines) * _TEXT * LEADING > most:
            break
        top = frame.sheet.paragraph(
            x, top, room, as_sentence(sentence), frame.style(_TEXT)
        )
    return top + _TEXT * 0.5


def _columns(
    frame: Frame, columns: _Columns, top: Fraction, y: float, tall: float
) -> None:
    step = frame.room / max(1, len(columns))
    edge = {"stroke": frame.look.ink, "stroke_width": 1}
    for n, (low, high) in enumerate(columns):
        x = frame.left + n * step + 1
        for amount, fill in ((high, WASH), (low, frame.look.film)):
            part = float(amount / top) * tall if top else 0.0
            if part:
                frame.sheet.box(x, y + tall - part, step - 2, part, fill=fill, **edge)
    base = [(frame.left, y + tall), (frame.left + frame.room, y + tall)]
    frame.sheet.line(base, stroke=frame.look.ink)


def _ticks(frame: Frame, days: Schedule, shown: int, y: float) -> None:
    step = frame.room / shown
    on = {use.day for use in days.washes}
    for n in range(shown):
        if n % days.days + 1 in on:
            x = frame.left + (n + 0.5) * step
            ends = [(x, y + 4), (x, y + 18)]
            frame.sheet.line(ends, stroke=frame.look.ink, stroke_width=5)


def _foot(frame: Frame, name: str, shown: int, top: Fraction) -> Sequence[str]:
    key = (
        f"Days 1 to {shown}, left to right. Filled: surely there. Pale: may be there. "
        f"Ticks: washes. Full height: {worth(top)}."
    )
    by = " · ".join(filter(None, [frame.look.handle, name, "Abluent"]))
    return [x for text in (key, by) for x in lines_of(text, frame.room, _TEXT)]
