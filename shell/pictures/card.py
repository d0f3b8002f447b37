"""An answer as a picture for posting: large enough to be read on a phone.

One claim, one large mark, two or three reasons. Nothing is cut: what has no room is
left out whole, and of what is listed every group says how many it holds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.world.world import World
from abluent.shell.ground.strand import EDGE, HIGH, WIDE, Strand
from abluent.shell.pictures.card_grid import draw_grid
from abluent.shell.pictures.card_ladder import draw_ladders
from abluent.shell.pictures.card_lists import (
    advice_high,
    draw_advice,
    draw_groups,
    draw_reasons,
    draw_table,
    indent_of,
)
from abluent.shell.pictures.card_steps import draw_steps
from abluent.shell.pictures.framed import Frame, framed
from abluent.shell.pictures.marks_key import key_of
from abluent.shell.pictures.shapes import BROAD, SHAPES, SHEET
from abluent.shell.pictures.sheet import PLAIN, Look, Sheet
from abluent.shell.pictures.text import LEADING, even_lines, lines_of, width
from abluent.shell.told.telling import told_of
from abluent.shell.told.told import Told

_LARGEST = 2.2  # the claim, in sizes of the body
_LEAST_CLAIM = 1.12
_WORKS = 12
"""So many sources are named on a sheet."""
_FULL_NAME = 5
"""So many lines a long name may take at the foot."""
_SMALL_ON_PAPER = 1.4
"""How much larger small text may be on a sheet than it must."""
_SPREAD, _MOST_AIR = 0.8, 46.0
"""How much of the room that is left over is set between the parts of a card, and how
much at the most between two, in pixels at the least size."""
_LARGER = (1.7, 1.6, 1.5, 1.4, 1.3, 1.2, 1.12, 1.06, 1.0)
_SIZES = (
    *((larger, 0.45) for larger in _LARGER),
    *((1.0, share) for share in (0.36, 0.28)),
    *((0.9, share) for share in (0.28, 0.2)),
)
"""How large the body is, in its least sizes, and the share of the room that a claim may
take: the first at which all of it can be set."""
_BESIDE_A_DRAWING = 1.2
"""How large the body is at the most beside a drawing, in its least sizes."""
_ENDLESS = 9e3
"""As much room as anything needs."""
_LADDER = 0.56
"""How much of a broad card a list of ingredients takes, beside what is said of it."""
_SHEET_SIZES = (*((larger, 0.45) for larger in (2.2, 2.0, 1.8, 1.65)), *_SIZES)


class Wish(NamedTuple):
    """How a card is to look.

    Args:
        shape: a key of `SHAPES`.
        day: the day to print, as `2026-01-31`.
        look: its colours and whose it is.
        chosen: the places of the reasons to show; those that say most if None.
        world: what was asked, for an answer without rows that know it.
    """

    shape: str = "16:9"
    day: str = ""
    look: Look = PLAIN
    chosen: tuple[int, ...] | None = None
    world: World | None = None


def answer_card(answer: Answer, question: str, wish: Wish) -> Sheet:
    """Return an answer as a card: as large as all of it can be set.

    Args:
        answer: the answer.
        question: as it was typed.
        wish: how it is to look.
    """
    told = told_of(answer, question, wish.world)
    sizes = _SHEET_SIZES if wish.shape == SHEET else _SIZES
    drawing = tuple(how for how in sizes if how[0] <= _BESIDE_A_DRAWING)
    for each in told.plainer():
        # A list has a line for each name rather than larger letters.
        for apart in (True, False) if each.groups else (False,):
            for how in drawing if each.drawn else sizes:
                sheet, left_out, _ = _drawn(each, wish, how, apart)
                if not left_out:
                    return _aired(
                        each.filled(told, _fits(wish, how, apart)), wish, how, apart
                    )
    return sheet


def _fits(
    wish: Wish, sizes: tuple[float, float], apart: bool
) -> Callable[[Told], bool]:
    """Whether all of what a card is to say has room at a size."""
    return lambda told: not _drawn(told, wish, sizes, apart)[1]


def _aired(told: Told, wish: Wish, sizes: tuple[float, float], apart: bool) -> Sheet:
    """Draw a card that has room, some of what is left over between its parts."""
    sheet, _, free = _drawn(told, wish, sizes, apart)
    air = min(free * _SPREAD / 4, sizes[0] * _MOST_AIR)
    aired, left_out, _ = _drawn(told, wish, sizes, apart, air)
    return sheet if left_out else aired


def _drawn(
    told: Told,
    wish: Wish,
    sizes: tuple[float, float],
    apart: bool,
    air: float = 0.0,
) -> tuple[Sheet, int, float]:
    """Draw a card at a size.

    Returns what had no room as well, and how much room there was left; `air` of it is
    set between the parts of the card.
    """
    larger, share = sizes
    whole, told = told, told.short()
    if told.drawn and told.word and wish.shape == BROAD:
        told = told._replace(word="", claim=told.in_one)
    shape = SHAPES[wish.shape]
    printed = wish.shape == SHEET
    small = shape.small * (min(larger, _SMALL_ON_PAPER) if printed else 1.0)
    shape = shape._replace(body=max(small, shape.body * larger), small=small)
    aloud = whole.aloud(wish.chosen)
    frame = framed(shape, wish.look, whole.claim, aloud)
    picked = told.chosen if wish.chosen is None else wish.chosen
    if printed:
        # A sheet has room for every reason.
        picked = tuple(range(len(told.reasons)))
    lines = _foot_lines(told, wish, frame)
    foot = _foot_top(frame, len(lines)) - small * LEADING * 0.9
    end, foot = foot, foot - advice_high(frame, told.advice, shape.body)
    listed = told.table is not None or bool(told.groups) or told.drawn
    top = _head(frame, told, foot, share * (0.75 if listed else 1.0)) + air
    top = _beneath(frame, told, top) + air
    left_out = 0
    reasons = [told.reasons[n] for n in picked if n < len(told.reasons)]
    whole_frame = frame
    if told.drawn:
        left_out, top, frame = _drawing(frame, told, reasons, (top, foot))
    if told.table:
        draw = draw_grid if told.bare else draw_table
        top, left_out = draw(frame, told.table, top, foot)
    if told.groups:
        place = (top, foot - _last_lines(frame, reasons))
        top, more = draw_groups(frame, told.groups, place, apart=apart)
        left_out += more
        top += air
    top, more = draw_reasons(frame, reasons, top, foot, air)
    frame = whole_frame
    if told.advice:
        top += min(air, max(0.0, foot - top))
        top = max(top, min(top + shape.body * 0.4, foot))
        draw_advice(frame, told.advice, top, shape.body)
        top += end - foot
    _foot(frame, lines)
    over = int(top > end + 1)
    return frame.sheet, left_out + more + over, end - top


def _drawing(
    frame: Frame, told: Told, reasons: Sequence[str], ends: tuple[float, float]
) -> tuple[int, float, Frame]:
    """Draw lists of ingredients, or stages.

    Returns how many things had no room, and where the rest begins, on which frame.
    """
    top, foot = ends
    apart = frame.shape.body * 0.3
    rest = bool(told.groups or reasons)
    alone = len(told.ladders) == 1
    if alone and rest and frame.shape.wide > frame.shape.high:
        one, other = _halves(frame, _LADDER)
        _, left_out = draw_ladders(one, told.ladders, top, foot)
        return left_out, top, other
    size = frame.shape.body
    below = foot - _last_lines(frame, reasons) - apart - size * 0.4
    if told.groups:
        scratch = framed(frame.shape, frame.look, "", "")
        end, _ = draw_groups(scratch, told.groups, (0.0, _ENDLESS), apart=False)
        below -= end
    left_out = 0
    if told.ladders:
        top, left_out = draw_ladders(frame, told.ladders, top, below)
        top += apart
    if told.steps:
        top, more = draw_steps(frame, told.steps, top, below)
        left_out += more
        top += apart
    return left_out, top, frame


def _halves(frame: Frame, share: float) -> tuple[Frame, Frame]:
    """Two parts of a card beside each other; the first has a share of the room."""
    shape, gap = frame.shape, frame.shape.body * 0.8
    up, right, down, left = shape.margins
    first = frame.room * share
    one = shape._replace(margins=(up, shape.wide - left - first, down, left))
    other = shape._replace(margins=(up, right, down, left + first + gap))
    return frame._replace(shape=one), frame._replace(shape=other)


def _foot_lines(told: Told, wish: Wish, frame: Frame) -> list[str]:
    """The lines at the foot; on a sheet what it rests on as well."""
    small = frame.shape.small
    texts = _foot_texts(told, wish)
    texts += [(work, 0) for work in told.works[:_WORKS] if wish.shape == SHEET]
    return [
        x
        for t, most in texts
        for x in (
            lines_of(t, frame.room, small, most=most)
            if most
            else even_lines(t, frame.room, small)
        )
    ]


def _beneath(frame: Frame, told: Told, top: float) -> float:
    """Set what stands right beneath the claim; return where it ends."""
    size = frame.shape.body
    for text in told.beneath:
        for line in even_lines(text, frame.room, size):
            frame.sheet.text(frame.left, top + size, line, frame.style(size))
            top += size * LEADING
        top += size * 0.3
    return top


def _last_lines(frame: Frame, reasons: Sequence[str]) -> float:
    """How high the reasons below a list are."""
    size = frame.shape.body
    indent = indent_of(reasons, size)
    lines = sum(len(lines_of(t, frame.room - indent, size)) for t in reasons)
    return lines * size * LEADING + size * 0.3 * (len(reasons) + 1) * bool(reasons)


# -- the claim and its mark --------------------------------------------------------


def _head(frame: Frame, told: Told, foot: float, share: float) -> float:
    """Set the mark or the word, then the claim; return where that ends."""
    shape = frame.shape
    top, x, room = _above(frame, told, shape.margins[0]), frame.left, frame.room
    if told.word:
        top = _word(frame, told, top)
        return _claim(frame, told.claim, (x, top, room), foot, share)
    if told.mark is None:
        return _claim(frame, told.claim, (x, top, room), foot, share)
    broad = shape.wide > shape.high
    share_of_room = 0.42 if told.groups else 0.5
    if broad:
        share_of_room = 0.16 if told.groups else 0.26
    wide = min(room * share_of_room, shape.body * 12)
    frame.sheet.strand((x - wide * EDGE / WIDE, top), wide, told.mark, frame.look)
    below = top + wide * HIGH / WIDE + shape.small * 0.3
    if not broad:
        beside = x + wide + shape.body * 0.6
        middle = top + wide * HIGH / WIDE / 2
        _key(frame, told.mark, (beside, middle), room - wide, middle=True)
    if broad:
        x, room = x + wide + shape.body * 1.2, room - wide - shape.body * 1.2
        start = (x, top - shape.body * 0.2)
        end = _claim(frame, told.claim, (*start, room), foot, share)
        return max(below + shape.body * 0.3, end)
    place = (x, below + shape.body * 0.3, room)
    return _claim(frame, told.claim, place, foot, share)


def _above(frame: Frame, told: Told, top: float) -> float:
    """Set what stands above all else; return where it ends."""
    small = frame.shape.small
    for line in lines_of(told.above, frame.room, small) if told.above else ():
        frame.sheet.text(frame.left, top + small, line, frame.style(small))
        top += small * LEADING
    return top + small * 0.3 * bool(told.above)


def _key(
    frame: Frame,
    mark: Strand,
    place: tuple[float, float],
    room: float,
    *,
    middle: bool = False,
) -> float:
    """Set what the pieces of the one mark mean, a line each; return where it ends."""
    x, top = place
    small = frame.shape.small
    parts = [part for text in key_of([mark]) for part in re.split(r"(?<=\.) ", text)]
    lines = [line for part in parts for line in lines_of(part, room, small)]
    top -= len(lines) * small * LEADING / 2 * middle
    for line in lines:
        frame.sheet.text(x, top + small, line, frame.style(small))
        top += small * LEADING
    return top


def _word(frame: Frame, told: Told, top: float) -> float:
    """Set the word that judges, and beside it the mark of what shows it."""
    size, x = frame.shape.body, frame.left
    large = size * (1.7 if told.drawn else 2.6)
    while width(told.word, large, bold=True) > frame.room:
        large *= 0.95
    style = frame.style(large, bold=True)
    frame.sheet.text(x, top + large * 0.85, told.word, style)
    mark = large * 2.1
    free = frame.room - width(told.word, large, bold=True) - size
    if told.mark is not None and free >= mark:
        place = (x + frame.room - mark, top + large * 0.1)
        frame.sheet.strand(place, mark, told.mark, frame.look)
    y, high = top + large * 1.05, size * 0.14
    frame.sheet.box(x, y, frame.room, high, fill=frame.look.film)
    return y + size * 0.6


def _claim(
    frame: Frame,
    text: str,
    place: tuple[float, float, float],
    foot: float,
    share: float,
) -> float:
    """Set the claim as large as its share of the room allows."""
    x, top, room = place
    size = frame.shape.body * _LARGEST
    share = share if len(text) < 160 else max(share, 0.5)
    while size > frame.shape.body * _LEAST_CLAIM:
        lines = lines_of(text, room, size, bold=True)
        longest = max(width(word, size, bold=True) for word in text.split() or [""])
        if len(lines) * size * LEADING <= (foot - top) * share and longest <= room:
            break
        size *= 0.94
    size = max(size, frame.shape.body * _LEAST_CLAIM)
    for line in even_lines(text, room, size, bold=True):
        frame.sheet.text(x, top + size, line, frame.style(size, bold=True))
        top += size * LEADING
    return top + frame.shape.body * 0.45


# -- the foot ----------------------------------------------------------------------


def _foot_top(frame: Frame, lines: int) -> float:
    """Where so many lines at the bottom begin."""
    shape = frame.shape
    return shape.high - shape.margins[2] - lines * shape.small * LEADING


def _foot(frame: Frame, lines: Sequence[str]) -> None:
    """Set what stands at the bottom, under a line."""
    small = frame.shape.small
    top, step = _foot_top(frame, len(lines)), small * LEADING
    frame.rule(top - step * 0.4)
    for number, line in enumerate(lines):
        y = top + number * step + small
        frame.sheet.text(frame.left, y, line, frame.style(small))


def _foot_texts(told: Told, wish: Wish) -> list[tuple[str, int]]:
    """The texts at the foot, each with the most lines it may take; 0 for all."""
    marks = [*(g.mark for g in told.groups if g.mark)]
    marks += [told.mark] if told.word and told.mark else []
    alone = told.mark is not None and not told.word
    if (
        told.groups
        and not told.table
        and all(g.word or not g.mark for g in told.groups)
    ):
        # Each mark has its own words beside it.
        marks = []
    key = key_of(marks) if marks and not alone else []
    sure = f"How sure: {told.sure}" if told.sure else ""
    by = " · ".join(filter(None, [wish.look.handle, told.cited, f"Abluent {wish.day}"]))
    of_table = told.table.key if told.table else ""
    said = [text for text in (of_table, *key, told.note, sure, told.caution) if text]
    found = [(" ".join(said), 0)] if said else []
    found += [(f"In full: {name}", _FULL_NAME) for name in told.names]
    return [*found, (by, 0)]
