"""Films over days, to be read on a phone: a strip for each family, worst first.

A strip has a column for each day. What is dark is there at the least, what is pale may
be there as well, so a strip that stays low and dark is known to be so and one that is
tall and pale is not known. Washes are ticked below.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from abluent.engine.questions.world.world import World
from abluent.engine.routines.amounts import by_day
from abluent.engine.routines.overview import Family, Overview
from abluent.engine.routines.routine import Schedule
from abluent.shell.pictures.sheet import BRASS, INK, RULE, SOFT, WASH, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of
from abluent.shell.routine.words import STATES, named, number

WIDE = 720.0
MOST_DAYS = 28
"""Days shown; of a routine that comes round, so many of its turns."""
MOST_FAMILIES = 10
_MARGIN, _STRIP = 36.0, 84.0
_HEAD, _TEXT, _SMALL = 40.0, 30.0, 24.0


def films_over_days(name: str, overview: Overview, told: str, world: World) -> Sheet:
    """Draw how much of each family of films there is, day by day.

    Args:
        name: of the routine; may be empty.
        overview: what becomes of its films.
        told: the sentence that stands above.
        world: the base and the shelf.
    """
    days = overview.built.schedule
    shown = MOST_DAYS if days.turns else min(days.days, MOST_DAYS)
    families = overview.families[:MOST_FAMILIES]
    strips = [_strip(each, overview, shown) for each in families]
    top = max((high for strip in strips for _, high in strip), default=Fraction(1))
    title = name or "What builds up"
    room = WIDE - 2 * _MARGIN
    sentence = lines_of(told, room, _TEXT)
    heads = [_heading(each, world) for each in families]
    each_high = [
        (len(lines_of(head, room, _SMALL)) + 0.4) * _SMALL * LEADING + _STRIP + 30
        for head in heads
    ]
    high = _MARGIN + _HEAD * LEADING + len(sentence) * _TEXT * LEADING + 20
    high += sum(each_high) + 5 * _SMALL * LEADING + _MARGIN
    sheet = Sheet(WIDE, high, title, told)
    y = sheet.paragraph(_MARGIN, _MARGIN, room, title, Style(_HEAD, bold=True))
    y = sheet.paragraph(_MARGIN, y, room, told, Style(_TEXT)) + 20
    for head, strip in zip(heads, strips, strict=True):
        y = sheet.paragraph(_MARGIN, y, room, head, Style(_SMALL, bold=True)) + 8
        _columns(sheet, strip, top, y, room)
        _ticks(sheet, days, shown, y + _STRIP, room)
        y += _STRIP + 22 + 0.4 * _SMALL
    key = (
        f"Days 1 to {shown} from left to right; the tallest column is "
        f"{number(top)} uses' worth. Dark: there at the least. Pale: may be there. "
        "A mark below: a wash."
    )
    left = len(overview.families) - len(families)
    if left > 0:
        key += f" {left} more families are not shown."
    sheet.paragraph(_MARGIN, y + 6, room, key, Style(_SMALL, fill=SOFT))
    return sheet


def _heading(family: Family, world: World) -> str:
    kind = world.base.plural(family.kind)
    return f"{kind}: {STATES[family.state]} ({named(family.films, world, 2)})"


def _strip(
    family: Family, overview: Overview, shown: int
) -> list[tuple[Fraction, Fraction]]:
    """The most of any film of a family at the end of each day, at least and at most."""
    built = overview.built
    each = [
        by_day(built.schedule, built.effects, overview.shares, film, shown)
        for film in family.films
    ]
    return [
        (max(low for low, _ in day), max(high for _, high in day))
        for day in zip(*each, strict=True)
    ]


def _columns(
    sheet: Sheet,
    strip: Sequence[tuple[Fraction, Fraction]],
    top: Fraction,
    y: float,
    room: float,
) -> None:
    step = room / len(strip)
    for n, (low, high) in enumerate(strip):
        x = _MARGIN + n * step + 1
        for amount, fill in ((high, WASH), (low, INK)):
            tall = float(amount / top) * _STRIP if top else 0.0
            edge = {"stroke": SOFT, "stroke_width": 1} if fill == WASH else {}
            if tall:
                sheet.box(x, y + _STRIP - tall, step - 2, tall, fill=fill, **edge)
    base = [(_MARGIN, y + _STRIP), (_MARGIN + room, y + _STRIP)]
    sheet.line(base, stroke=RULE)


def _ticks(sheet: Sheet, days: Schedule, shown: int, y: float, room: float) -> None:
    step = room / shown
    on = {use.day for use in days.washes}
    for n in range(shown):
        if n % days.days + 1 in on:
            x = _MARGIN + (n + 0.5) * step
            sheet.line([(x, y + 3), (x, y + 13)], stroke=BRASS, stroke_width=4)
