"""What becomes of films over weeks, to be read on a phone: strands side by side.

Families of which the same becomes share a row, worst first. A row has a strand for the
first week, one for the middle and one for the last, each with as much film as that
week has at its most, of whichever family has most: strands alike say that nothing
builds up, and thicker ones that it does. What is filled is there at the least; what is
dotted may be there as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.questions.world.world import World
from abluent.engine.routines.amounts import by_day
from abluent.engine.routines.overview import Family, Overview, State
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine.tree import CLEARING
from abluent.shell.pictures.card_lists import advice_high, draw_advice
from abluent.shell.pictures.framed import Frame, framed
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import PLAIN, Look, Sheet
from abluent.shell.pictures.text import LEADING, even_lines
from abluent.shell.routine import week_days
from abluent.shell.routine.film_strand import draw_film
from abluent.shell.routine.week_words import Fate, WeekWords

MOST_DAYS = 28
"""Days shown; of a routine that comes round, so many of its turns."""
_SHAPE = SHAPES["9:16"]
WIDE = float(_SHAPE.wide)
_TEXT, _HEAD = 37.0, 41.0
_LEAST_STRIP, _MOST_STRIP = 44.0, 190.0
_APART, _BELOW, _BETWEEN = 36.0, 26.0, 14.0
_ADVICE = 40.0
_STRIPS = 2
"""So many strips are drawn; of the rest it is told what becomes of them."""
_TRIED = [(size, less) for less in range(4) for size in (64.0, 56.0, 48.0)]
"""The sizes of the claim, and how much is left out, in the order in which they are
tried: first why of all but the worst, then the advice, and what is used when."""
_MOST_AIR = 70.0
_WEEK = 7
_Columns = tuple[tuple[Fraction, Fraction], ...]


class _Span(NamedTuple):
    """Some days that one strand stands for; `start` and `end` count from 0."""

    said: str
    start: int
    end: int


class _Shown(NamedTuple):
    """One strand: what it is of, and how much film it has at least and at most."""

    said: str
    most: tuple[Fraction, Fraction]


class _ByDay(NamedTuple):
    """The strand of one week, and how much film it has on each day."""

    said: str
    days: _Columns


class _Drawn(NamedTuple):
    """What is drawn of some films: strands side by side, or day by day."""

    shown: Sequence[_Shown]
    weeks: Sequence[_ByDay] = ()

    @property
    def rows(self) -> int:
        """How many strands stand below each other."""
        return len(self.weeks) or 1

    @property
    def beside(self) -> float:
        """How high what stands with the strands is."""
        if self.weeks:
            return len(self.weeks) * _BETWEEN + _BELOW
        return _TEXT * LEADING + _BELOW

    @property
    def most(self) -> Fraction:
        """The most film that is drawn."""
        days = [day for week in self.weeks for day in week.days]
        return max((high for _, high in days or [x.most for x in self.shown]))


class _Texts(NamedTuple):
    """The lines of a picture, cut to its width.

    `strips` are the lines that stand over each strip, bold ones and others, and `rest`
    those on what has no strip.
    """

    claim: Sequence[str]
    size: float
    routine: Sequence[str]
    strips: Sequence[tuple[Sequence[str], Sequence[str]]]
    rest: Sequence[str]
    advice: str
    foot: Sequence[str]
    week: week_days.Week | None = None

    def high(self, frame: Frame) -> float:
        """How high all is but the strips."""
        step = _TEXT * LEADING
        total = len(self.claim) * self.size * LEADING + len(self.routine) * step + _TEXT
        if self.week is not None:
            total += week_days.week_high(frame, self.week, _TEXT)
        for bold, plain in self.strips:
            total += len(bold) * _HEAD * LEADING + len(plain) * step + 8
        total += len(self.foot) * step + _TEXT
        total += len(self.rest) * step + _TEXT * 0.5 * bool(self.rest)
        return total + advice_high(frame, self.advice, _ADVICE)


def films_over_days(  # noqa: PLR0913 - what is drawn, and how
    name: str,
    overview: Overview,
    world: World,
    look: Look = PLAIN,
    *,
    claim: str = "",
    day: str = "",
) -> Sheet:
    """Draw how much of each family of films there is, day by day.

    Args:
        name: of the routine; may be empty.
        overview: what becomes of its films.
        world: the base and the shelf.
        look: its colours and whose it is.
        claim: the sentence that stands above; else what becomes of the worst film.
        day: the day to print, as `2026-01-31`.
    """
    words = WeekWords(overview, world)
    days = overview.built.schedule
    shown = MOST_DAYS if days.turns else min(days.days, MOST_DAYS)
    spans = _spans(shown)
    fates = words.fates[:_STRIPS]
    columns = [_together(fate, overview, shown) for fate in fates]
    ends = map(_end, fates)
    strands = [_strands(*each, spans) for each in zip(columns, ends, strict=True)]
    drawn = [_Drawn(some) for some in strands]
    if week_days.week_of(days) is not None:
        drawn = [_day_by_day(each, n == 0) for n, each in enumerate(columns)]
    rises = any(_rises(each) for each in drawn)
    claim = claim or words.heading(rises=rises)
    lines = [f"{words.line(fate)}. {words.why(fate)}" for fate in words.fates]
    told = " ".join([claim, words.routine(), *lines, words.advice()])
    frame = framed(_SHAPE, look, name or "What builds up", told)
    foot = _foot(frame, name, overview, day)
    room = frame.shape.high - frame.shape.margins[0] - frame.shape.margins[2]
    room -= sum(each.beside for each in drawn)
    rows = sum(each.rows for each in drawn)
    for size, less in _TRIED:
        texts = _texts(frame, words, claim, foot, (size, less))
        free = room - texts.high(frame)
        tall = min(_MOST_STRIP, free / max(1, rows))
        if tall >= _LEAST_STRIP:
            break
    tall = max(tall, _LEAST_STRIP / 2)
    air = max(0.0, free - tall * rows) / (len(drawn) + 2)
    _draw(frame, texts, drawn, (tall, min(air, _MOST_AIR)))
    return frame.sheet


def _rises(drawn: _Drawn) -> bool:
    """Whether there is more of a film later than at first."""
    if not drawn.weeks:
        return drawn.shown[-1].most[1] > drawn.shown[0].most[1]
    highs = [max(high for _, high in week.days) for week in drawn.weeks]
    return highs[-1] > highs[0]


def _day_by_day(columns: _Columns, first: bool) -> _Drawn:
    """The days of the last week that is shown; of the first films, of week 1 too."""
    last = len(columns) // _WEEK
    weeks = (1, last) if first and last > 1 else (last,)
    return _Drawn(
        (),
        [
            _ByDay(f"Film, week {n}", columns[(n - 1) * _WEEK : n * _WEEK])
            for n in weeks
        ],
    )


def _texts(
    frame: Frame,
    words: WeekWords,
    claim: str,
    foot: Sequence[str],
    how: tuple[float, int],
) -> _Texts:
    """The lines of a picture, in a size of its claim; the more `less`, the fewer."""
    size, less = how
    week = week_days.week_of(words.schedule)

    def plain(text: str) -> Sequence[str]:
        return even_lines(text, frame.room, _TEXT) if text else []

    strips = []
    for number, fate in enumerate(words.fates[:_STRIPS]):
        bold = even_lines(words.line(fate), frame.room, _HEAD, bold=True)
        told = less < 1 or (less < 3 and number == 0)
        strips.append((bold, plain(words.why(fate)) if told else []))
    return _Texts(
        even_lines(as_sentence(claim), frame.room, size, bold=True),
        size,
        _used(words, week, less, plain),
        strips,
        [x for f in words.fates[_STRIPS:] for x in plain(as_sentence(words.line(f)))],
        words.advice() if less < 2 else "",
        foot,
        week,
    )


def _used(
    words: WeekWords,
    week: week_days.Week | None,
    less: int,
    plain: Callable[[str], Sequence[str]],
) -> Sequence[str]:
    """What is used when, as far as no days of it are drawn."""
    if week is not None:
        # Of several weeks only the washes have their days drawn.
        few = week.weeks > 1 and less < 3
        return plain(words.routine(washes=False)) if few else []
    return plain(words.routine()) if less < 3 else []


def _draw(
    frame: Frame, texts: _Texts, strips: Sequence[_Drawn], how: tuple[float, float]
) -> None:
    """Set all of it from the top down."""
    tall, air = how
    top = max((each.most for each in strips), default=Fraction(1)) or Fraction(1)
    y = _lines(frame, texts.claim, frame.shape.margins[0], texts.size, bold=True) + 6
    if texts.week is not None:
        y = week_days.draw_week(frame, texts.week, y, _TEXT)
    y = _lines(frame, texts.routine, y, _TEXT) + _TEXT * 0.7 + air
    for (bold, plain), drawn in zip(texts.strips, strips, strict=True):
        y = _lines(frame, bold, y, _HEAD, bold=True)
        y = _lines(frame, plain, y, _TEXT) + 8
        for n, week in enumerate(drawn.weeks):
            at = y + n * (tall + _BETWEEN)
            _week_of_film(frame, week, top, at, tall)
        _side_by_side(frame, drawn.shown, top, (y, tall))
        y += drawn.rows * tall + drawn.beside + air
    y = _lines(frame, texts.rest, y, _TEXT) + _TEXT * 0.5 * bool(texts.rest)
    if texts.advice:
        draw_advice(frame, texts.advice, y + _ADVICE * 0.2, _ADVICE)
    foot = frame.shape.high - frame.shape.margins[2] - len(texts.foot) * _TEXT * LEADING
    frame.rule(foot - _TEXT * 0.35)
    _lines(frame, texts.foot, foot, _TEXT)


def _side_by_side(
    frame: Frame, shown: Sequence[_Shown], top: Fraction, place: tuple[float, float]
) -> None:
    """Set strands beside each other, each with what it is of."""
    y, tall = place
    wide = (frame.room + _APART) / max(1, len(shown)) - _APART
    for n, each in enumerate(shown):
        x = frame.left + n * (wide + _APART)
        draw_film(frame, each.most, top, (x, y), (wide, tall))
        frame.sheet.text(x, y + tall + _TEXT, each.said, frame.style(_TEXT))


def _week_of_film(
    frame: Frame, week: _ByDay, top: Fraction, y: float, tall: float
) -> None:
    """Set a strand that runs through the days, as thick as there is film on each."""
    left, wide = week_days.columns_of(frame)
    frame.sheet.text(
        frame.left, y + tall / 2 + _TEXT * 0.34, week.said, frame.style(_TEXT)
    )
    for n, amount in enumerate(week.days):
        draw_film(frame, amount, top, (left + n * wide, y), (wide, tall))


def _lines(
    frame: Frame, lines: Sequence[str], top: float, size: float, *, bold: bool = False
) -> float:
    """Set some lines; return where they end."""
    for line in lines:
        frame.sheet.text(frame.left, top + size, line, frame.style(size, bold=bold))
        top += size * LEADING
    return top


def _strands(
    columns: _Columns, end: tuple[Fraction, Fraction] | None, spans: Sequence[_Span]
) -> list[_Shown]:
    """The strands of a strip; where it comes to an end, that is the last of them."""
    found = [_Shown(span.said, _most(columns, span)) for span in spans]
    if end is not None and len(found) > 1 and end[1] >= found[-1].most[1]:
        found[1:] = [found[-1], _Shown("In the end", end)]
    return found


def _end(fate: Fate) -> tuple[Fraction, Fraction] | None:
    """What some families come to in the end at least and at most, if to any end."""
    if fate.state is not State.BOUNDED:
        return None
    lows, highs = zip(*(each.plateau for each in fate.families), strict=True)
    if None in highs:
        return None
    return max(low or Fraction(0) for low in lows), max(highs)


def _together(fate: Fate, overview: Overview, shown: int) -> _Columns:
    """Of some families, how much there is of whichever has most, day by day."""
    each = [_days(family, overview, shown) for family in fate.families]
    return tuple(
        (max(low for low, _ in day), max(high for _, high in day))
        for day in zip(*each, strict=True)
    )


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


def _counts_parts(overview: Overview) -> bool:
    """Whether what a wash takes in part is counted as taken."""
    return overview.built.effects.counting.partly == CLEARING


def _foot(frame: Frame, name: str, overview: Overview, day: str) -> Sequence[str]:
    key = "Solid: film. Dotted: there may be film. The thicker, the more."
    week = week_days.week_of(overview.built.schedule)
    if week is not None:
        of_days = week_days.KEY if week.weeks == 1 else week_days.KEY_OF_WEEKS
        key = f"{of_days} {key}"
    sure = "How sure: from the labels, not measured."
    if _counts_parts(overview):
        sure += " What a wash takes in part is counted as taken whole."
    by = " · ".join(filter(None, [frame.look.handle, name, f"Abluent {day}".strip()]))
    said = (f"{key} {sure}", by)
    return [x for text in said for x in even_lines(text, frame.room, _TEXT)]
