"""An answer as a picture for posting: large enough to be read on a phone.

One claim, one large mark, two or three reasons. Nothing is cut: what has no room is
left out whole, and what is listed and left out is counted once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.questions.answers.answer import Answer
from abluent.shell.ground.strand import HIGH, WIDE, Half
from abluent.shell.pictures.shapes import SHAPES, SHEET, Shape
from abluent.shell.pictures.sheet import PLAIN, Look, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of, width
from abluent.shell.pictures.told import Group, Told, told_of

DASH = "\N{EN DASH}"
_LARGEST = 2.3  # the claim, in sizes of the body
_LEAST_CLAIM = 1.12
_WORKS = 12
"""So many sources are named on a sheet."""
_SIZES = (
    *((larger, 0.42) for larger in (1.4, 1.3, 1.2, 1.12, 1.06, 1.0)),
    *((1.0, share) for share in (0.34, 0.27)),
)
"""How large the body is, in its least sizes, and the share of the room that a claim may
take: the first at which all of it can be set."""


class _Frame(NamedTuple):
    """Where things may stand."""

    sheet: Sheet
    shape: Shape
    look: Look
    share: float

    @property
    def left(self) -> float:
        return self.shape.margins[3]

    @property
    def room(self) -> float:
        return self.shape.wide - self.shape.margins[1] - self.shape.margins[3]

    def style(self, size: float, *, bold: bool = False) -> Style:
        return Style(size, bold=bold, fill=self.look.ink)


class Wish(NamedTuple):
    """How a card is to look.

    Args:
        shape: a key of `SHAPES`.
        day: the day to print, as `2026-01-31`.
        look: its colours and whose it is.
        chosen: the places of the reasons to show; those that say most if None.
    """

    shape: str = "16:9"
    day: str = ""
    look: Look = PLAIN
    chosen: tuple[int, ...] | None = None


def answer_card(answer: Answer, question: str, wish: Wish) -> Sheet:
    """Return an answer as a card: as large as all of it can be set.

    Args:
        answer: the answer.
        question: as it was typed.
        wish: how it is to look.
    """
    told = told_of(answer, question)
    for larger, share in _SIZES:
        sheet, left_out = _drawn(told, wish, larger, share)
        if not left_out:
            break
    return sheet


def _drawn(told: Told, wish: Wish, larger: float, share: float) -> tuple[Sheet, int]:
    """Draw a card at a size; return what had no room as well."""
    size = SHAPES[wish.shape]
    size = size._replace(body=size.body * larger)
    aloud = told.aloud(wish.chosen)
    sheet = Sheet(size.wide, size.high, told.claim, aloud, wish.look.paper)
    frame = _Frame(sheet, size, wish.look, share)
    told = _whole(told) if wish.shape == SHEET else told
    texts = _foot_texts(told, wish.day, wish.look.handle)
    texts += told.works[:_WORKS] if wish.shape == SHEET else ()
    lines = [x for text in texts for x in lines_of(text, frame.room, size.small)]
    foot = _foot_top(frame, len(lines)) - size.small * LEADING * 0.8
    top = _head(frame, told, foot)
    left_out = 0
    if told.groups:
        top, left_out = _groups(frame, told.groups, top, foot)
    picked = told.chosen if wish.chosen is None else wish.chosen
    reasons = [told.reasons[n] for n in picked if n < len(told.reasons)]
    left_out += _reasons(frame, reasons, top, foot)
    _foot(frame, lines)
    return sheet, left_out


def _whole(told: Told) -> Told:
    """What is told with every reason, for a sheet that has room for it."""
    return told._replace(chosen=tuple(range(len(told.reasons))))


# -- the claim and its mark --------------------------------------------------------


def _head(frame: _Frame, told: Told, foot: float) -> float:
    """Set the mark or the word, then the claim; return where that ends."""
    sheet, shape = frame.sheet, frame.shape
    top, size = shape.margins[0], shape.body
    broad = shape.wide > shape.high
    mark_wide = min(frame.room * (0.3 if broad else 0.56), size * 11)
    x, room = frame.left, frame.room
    if told.word:
        large = size * 2.6
        while width(told.word, large, bold=True) > frame.room:
            large *= 0.95
        sheet.text(x, top + large * 0.85, told.word, frame.style(large, bold=True))
        high = size * 0.14
        sheet.box(x, top + large * 1.05, frame.room, high, fill=frame.look.film)
        return _claim(
            frame, told.claim, (x, top + large * 1.05 + size * 0.6), room, foot
        )
    if told.mark is None:
        return _claim(frame, told.claim, (x, top), room, foot)
    mark_high = mark_wide * HIGH / WIDE
    sheet.strand((x, top), mark_wide, told.mark, frame.look)
    caption = lines_of(told.caption, mark_wide, shape.small, bold=True)
    below = top + mark_high + shape.small * 0.2
    for line in caption if not told.groups else ():
        sheet.text(x, below + shape.small, line, frame.style(shape.small, bold=True))
        below += shape.small * LEADING
    if broad:
        x, room = x + mark_wide + size * 1.2, room - mark_wide - size * 1.2
        return max(below, _claim(frame, told.claim, (x, top - size * 0.2), room, foot))
    return _claim(frame, told.claim, (x, below + size * 0.4), room, foot)


def _claim(
    frame: _Frame, text: str, start: tuple[float, float], room: float, foot: float
) -> float:
    """Set the claim as large as its share of the room allows."""
    x, top = start
    size = frame.shape.body * _LARGEST
    share = frame.share if len(text) < 160 else max(frame.share, 0.5)
    while size > frame.shape.body * _LEAST_CLAIM:
        lines = lines_of(text, room, size, bold=True)
        longest = max(width(word, size, bold=True) for word in text.split() or [""])
        if len(lines) * size * LEADING <= (foot - top) * share and longest <= room:
            break
        size *= 0.94
    style = frame.style(max(size, frame.shape.body * _LEAST_CLAIM), bold=True)
    return frame.sheet.paragraph(x, top, room, text, style) + frame.shape.body * 0.45


# -- reasons and lists -------------------------------------------------------------


def _reasons(frame: _Frame, texts: Sequence[str], top: float, foot: float) -> int:
    """Set as many whole reasons as there is room for; return how many are not."""
    size = frame.shape.body
    step, indent = size * LEADING, size * 0.85
    style = frame.style(size)
    left_out = 0
    for text in texts:
        lines = lines_of(text, frame.room - indent, size)
        if top + len(lines) * step > foot:
            left_out += 1
            continue
        frame.sheet.text(frame.left, top + size, DASH, style)
        for line in lines:
            frame.sheet.text(frame.left + indent, top + size, line, style)
            top += step
        top += size * 0.3
    return left_out


def _groups(
    frame: _Frame, groups: Sequence[Group], top: float, foot: float
) -> tuple[float, int]:
    """Set what is alike together, each with its mark; count once what has no room.

    Returns where that ends, and how many things were only counted.
    """
    size = frame.shape.body
    step, mark = size * LEADING, size * 2.5
    indent = mark + size * 0.5
    left_out = sum(group.many for group in groups)
    for number, group in enumerate(groups):
        most = int((foot - top) / step)
        names, kept = _fitting(frame, group, indent, most)
        if kept < group.many or (number < len(groups) - 1 and len(names) >= most):
            # A line is kept free for the count of what has no room.
            names, kept = _fitting(frame, group, indent, most - 1)
        if group.mark is not None and kept:
            place = (frame.left, top + size * 0.1)
            frame.sheet.strand(place, mark, group.mark, frame.look)
        for line, bold in names:
            x = frame.left + indent
            frame.sheet.text(x, top + size, line, frame.style(size, bold=bold))
            top += step
        left_out -= kept
        if kept < group.many:
            break
        top += size * 0.35 if number < len(groups) - 1 else 0
    if left_out > 0:
        told = f"… and {left_out} more."
        frame.sheet.text(frame.left + indent, top + size, told, frame.style(size))
        top += step
    return top + size * 0.3, left_out


def _fitting(
    frame: _Frame, group: Group, indent: float, most: int
) -> tuple[list[tuple[str, bool]], int]:
    """The lines of a group that fit, bold or not, and how many things they tell of."""
    room, size = frame.room - indent, frame.shape.body
    head = [(line, True) for line in lines_of(group.word, room, size, bold=True)]
    head = head if group.word else []
    names = list(group.names)
    while names:
        body = [(line, False) for line in lines_of(", ".join(names), room, size)]
        if len(head) + len(body) <= most:
            whole = len(names) == len(group.names)
            return [*head, *body], group.many if whole else len(names)
        names.pop()
    return [], 0


# -- the foot ----------------------------------------------------------------------


def _foot_top(frame: _Frame, lines: int) -> float:
    """Where so many lines at the bottom begin."""
    shape = frame.shape
    return shape.high - shape.margins[2] - lines * shape.small * LEADING


def _foot(frame: _Frame, lines: Sequence[str]) -> None:
    """Set what stands at the bottom, under a line."""
    small = frame.shape.small
    top, step = _foot_top(frame, len(lines)), small * LEADING
    rule = top - step * 0.4
    frame.sheet.line(
        [(frame.left, rule), (frame.left + frame.room, rule)],
        stroke=frame.look.ink,
        stroke_width=2,
    )
    for number, line in enumerate(lines):
        y = top + number * step + small
        frame.sheet.text(frame.left, y, line, frame.style(small))


def _key(told: Told) -> str:
    """What the pieces of the marks mean; empty where no mark is drawn."""
    marks = [*([told.mark] if told.mark else []), *(g.mark for g in told.groups)]
    halves = {half for m in marks if m for half in (m.first, m.second)}
    words = {
        Half.NOBODY_KNOWS: "Dotted: not known whether this part comes off.",
        Half.STAYS: "Solid: this part stays.",
    }
    return " ".join(text for half, text in words.items() if half in halves)


def _foot_texts(told: Told, day: str, handle: str) -> list[str]:
    count = len(told.works)
    works = f"{count} source{'' if count == 1 else 's'}" if count else ""
    sure = f"How sure: {told.sure}" if told.sure else ""
    by = ", ".join(filter(None, [handle, works, f"Abluent {day}"]))
    return [each for each in (_key(told), sure, told.caution, by) if each]
