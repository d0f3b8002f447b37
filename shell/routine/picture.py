"""What becomes of films over weeks, to be read on a phone: strands side by side.

Families of which the same becomes share a row, worst first. A row has a strand for the
first week, one for the middle and one for the last, each with as much film as that
week has at its most: strands alike say that nothing builds up, and thicker ones that
it does. What is filled is there at the least; what is dotted may be there as well.
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
from abluent.shell.pictures.sheet import PLAIN, Look, Sheet
from abluent.shell.pictures.text import LEADING, even_lines
from abluent.shell.routine.words import STATES, worth

MOST_DAYS = 28
"""Days shown; of a routine that comes round, so many of its turns."""
_SHAPE = SHAPES["9:16"]
WIDE = float(_SHAPE.wide)
_CLAIM, _TEXT = 60.0, 37.0
_LEAST_STRIP, _MOST_STRIP = 44.0, 150.0
_APART, _BELOW, _SHAFT, _STEP = 36.0, 26.0, 0.24, 13.0
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
_THIN = 5.0
"""How thick the least film is drawn, so that it is seen."""
_DOTS: dict[str, Any] = {
    "stroke_width": 7,
    "stroke_linecap": "round",
    "stroke_dasharray": "0.1 15",
}
_WELL = "Nothing builds up"
"""What is said of a routine that is well; what rises for a while does so to an end."""
_Columns = tuple[tuple[Fraction, Fraction], ...]


class _Span(NamedTuple):
    """Some days that one strand stands for; `start` and `end` count from 0."""

    said: str
    start: int
    end: int


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
    strips, spans = _strips(overview, shown), _spans(shown)
    parts = _counts_parts(overview)
    top = max((high for s in strips for _, high in s.columns), default=Fraction(1))
    frame = framed(_SHAPE, look, name or "What builds up", told)
    foot_lines = _foot(frame, name, overview, day)
    foot = frame.shape.high - frame.shape.margins[2]
    foot -= len(foot_lines) * _TEXT * LEADING
    heads = [
        even_lines(
            _heading(s, strips, world, spans, parts=parts), frame.room, _TEXT, bold=True
        )
        for s in strips
    ]
    fixed = sum(len(head) * _TEXT * LEADING + _BELOW + 10 for head in heads)
    numbered = len(strips) if len(strips) <= _NUMBERED else 1
    fixed += numbered * _TEXT * LEADING
    least = fixed + len(strips) * _LEAST_STRIP + _TEXT
    if any(s.state is State.BOUNDED for s in strips):
        told = told.replace(_WELL, f"{_WELL} without end", 1)
    y = _opening(frame, told, foot - least, _beneath(strips, spans, parts=parts))
    free = foot - _TEXT - y - fixed
    tall = max(_LEAST_STRIP / 2, min(_MOST_STRIP, free / max(1, len(strips))))
    for left, (strip, head) in enumerate(zip(strips, heads, strict=True)):
        for line in head:
            frame.sheet.text(frame.left, y + _TEXT, line, frame.style(_TEXT, bold=True))
            y += _TEXT * LEADING
        y += 10
        for n, span in enumerate(spans):
            place = (frame.left + n * (frame.room + _APART) / len(spans), y)
            wide = (frame.room + _APART) / len(spans) - _APART
            _strand(frame, _most(strip.columns, span), top, place, (wide, tall))
            if len(strips) - left <= numbered:
                at = y + tall + _TEXT
                frame.sheet.text(place[0], at, span.said, frame.style(_TEXT))
        y += tall + _BELOW
        y += _TEXT * LEADING * (len(strips) - left <= numbered)
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
    strip: _Strip,
    strips: Sequence[_Strip],
    world: World,
    spans: Sequence[_Span],
    *,
    parts: bool,
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
        if _alike(strip, spans):
            last = f"{spans[-1].said[:1].lower()}{spans[-1].said[1:]}"
            first = f"{spans[0].said[:1].lower()}{spans[0].said[1:]}"
            return f"{said[:1].upper()}{said[1:]}: no more in {last} than in {first}"
        highest = max(high for _, high in strip.columns)
        return f"{said[:1].upper()}{said[1:]}: never more than {worth(highest)}"
    words = _STATES if len(strip.kinds) > 1 or said.endswith("s") else STATES
    return f"{said[:1].upper()}{said[1:]} {words[strip.state]}"


def _beneath(strips: Sequence[_Strip], spans: Sequence[_Span], *, parts: bool) -> str:
    """What strands that stay alike show, as the film on them is no film of before."""
    if {s.state for s in strips} == {State.BOUNDED}:
        return "A wash takes at least a part of each, so that what rises levels off."
    if parts or any(s.state is not State.CLEARED for s in strips) or not strips:
        return ""
    if all(_most(s.columns, spans[-1])[0] > 0 for s in strips):
        return (
            "A wash takes the film off, and what is used after it lays a new one. "
            "It gets no thicker from week to week."
        )
    return "A wash takes the film off before it can grow from week to week."


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


def _spans(shown: int) -> list[_Span]:
    """The first days shown, those in the middle and the last: weeks, if there are."""
    long = _WEEK if shown > _WEEK else 1
    unit = "Week" if long > 1 else "Day"
    count = max(1, -(-shown // long))
    picked = sorted({0, count // 2 - (count > 2 and count % 2 == 0), count - 1})
    return [
        _Span(f"{unit} {n + 1}", n * long, min(shown, (n + 1) * long))
        for n in picked
        if n >= 0
    ]


def _most(columns: _Columns, span: _Span) -> tuple[Fraction, Fraction]:
    """The most film of some days, at least and at most."""
    found = columns[span.start : span.end] or ((Fraction(0), Fraction(0)),)
    return max(low for low, _ in found), max(high for _, high in found)


def _alike(strip: _Strip, spans: Sequence[_Span]) -> bool:
    """Whether the last days surely have no more film than the first."""
    low, high = _most(strip.columns, spans[0])
    last = _most(strip.columns, spans[-1])
    return len(spans) > 1 and last[0] <= low and last[1] <= high


def _strand(
    frame: Frame,
    amount: tuple[Fraction, Fraction],
    top: Fraction,
    place: tuple[float, float],
    size: tuple[float, float],
) -> None:
    """Draw a strand with its film on both sides, as thick as there is of it."""
    (x, y), (wide, tall) = place, size
    shaft, middle = tall * _SHAFT, y + tall / 2
    most = (tall - shaft) / 2
    sure, may = (max(_THIN, float(a / top) * most) if a else 0.0 for a in amount)
    look = frame.look
    frame.sheet.box(x, middle - shaft / 2, wide, shaft, fill=look.ink)
    for side in (-1, 1):
        edge = middle + side * shaft / 2
        if sure:
            begin = min(edge, edge + side * sure)
            how: dict[str, Any] = {"stroke": look.ink, "stroke_width": 1.5}
            frame.sheet.box(x, begin, wide, sure, fill=look.film, **how)
        for at in _dotted(sure, may):
            ends = [(x + 5, edge + side * at), (x + wide - 5, edge + side * at)]
            frame.sheet.line(ends, stroke=look.film, **_DOTS)


def _dotted(sure: float, may: float) -> list[float]:
    """How far from the shaft lines of dots stand between two thicknesses."""
    lines = round((may - sure) / _STEP) or int(may > sure)
    return [sure + (may - sure) * (n + 0.5) / lines for n in range(lines)]


def _counts_parts(overview: Overview) -> bool:
    """Whether what a wash takes in part is counted as taken."""
    return overview.built.effects.counting.partly == CLEARING


def _foot(frame: Frame, name: str, overview: Overview, day: str) -> Sequence[str]:
    key = (
        "Solid: film that is there. Dotted: it may be there. "
        "Each strand shows that week or day at its fullest: the thicker, the more."
    )
    sure = "How sure: worked out from the labels, not measured."
    if _counts_parts(overview):
        sure += " What a wash takes in part is counted as taken whole."
    by = " · ".join(filter(None, [frame.look.handle, name, f"Abluent {day}".strip()]))
    said = (key, sure, by)
    return [x for text in said for x in even_lines(text, frame.room, _TEXT)]
