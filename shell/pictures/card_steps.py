"""What happens on a strand, stage by stage: beside each other, or below if tall."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.shell.ground.stages import HIGH, WIDE
from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.text import LEADING, even_lines, lines_of
from abluent.shell.told.group import Step

_GAP, _ROW_GAP = 0.7, 0.5
"""How far stages are apart, beside each other and below, in sizes of the text."""
_LEAST, _BESIDE = 0.55, 0.4
"""How wide a stage is drawn at the least, in parts of its column; in a tall card."""
_TALL = 1.6


class _Words(NamedTuple):
    """The words of a stage, cut to its width."""

    title: Sequence[str]
    text: Sequence[str]


def draw_steps(
    frame: Frame, steps: Sequence[Step], top: float, foot: float
) -> tuple[float, int]:
    """Set the stages of what happens, as large as the room allows.

    Returns where they end, and how many had no room.
    """
    if frame.shape.high > _TALL * frame.shape.wide:
        return _below(frame, steps, top, foot)
    return _beside(frame, steps, top, foot)


def _beside(
    frame: Frame, steps: Sequence[Step], top: float, foot: float
) -> tuple[float, int]:
    small = frame.shape.small
    gap = small * _GAP
    wide = (frame.room + gap) / len(steps) - gap
    words = [_words(step, wide, small) for step in steps]
    high = max(_high(each, small) for each in words)
    free = foot - top - high - small * 0.3
    drawn = min(wide, free * WIDE / HIGH)
    left_out = len(steps) * (drawn < wide * _LEAST)
    drawn = max(drawn, wide * _LEAST)
    tall = drawn * HIGH / WIDE
    for n, (step, each) in enumerate(zip(steps, words, strict=True)):
        x = frame.left + n * (wide + gap)
        frame.sheet.stage((x, top), drawn, step.shapes, frame.look)
        if n:
            _arrow(frame, (x - gap * 0.94, top + tall / 2), gap * 0.88)
        _set(frame, each, (x, top + tall + small * 0.1))
    return top + tall + high + small * 0.3, left_out


def _below(
    frame: Frame, steps: Sequence[Step], top: float, foot: float
) -> tuple[float, int]:
    small = frame.shape.small
    drawn = frame.room * _BESIDE
    tall = drawn * HIGH / WIDE
    x = frame.left + drawn + small * _GAP
    words = [_words(each, frame.left + frame.room - x, small) for each in steps]
    highs = [max(tall, _high(each, small)) for each in words]
    gap = small * _ROW_GAP
    end = top + sum(highs) + gap * len(highs)
    for step, each, high in zip(steps, words, highs, strict=True):
        place = (frame.left, top + (high - tall) / 2)
        frame.sheet.stage(place, drawn, step.shapes, frame.look)
        _set(frame, each, (x, top + (high - _high(each, small)) / 2))
        top += high + gap
    return end, len(steps) * (end > foot + 1)


def _words(step: Step, room: float, small: float) -> _Words:
    return _Words(
        even_lines(step.title, room, small, bold=True),
        lines_of(step.text, room, small) if step.text else (),
    )


def _high(words: _Words, small: float) -> float:
    return (len(words.title) + len(words.text)) * small * LEADING


def _set(frame: Frame, words: _Words, place: tuple[float, float]) -> None:
    x, y = place
    small = frame.shape.small
    for lines, bold in ((words.title, True), (words.text, False)):
        for line in lines:
            frame.sheet.text(x, y + small, line, frame.style(small, bold=bold))
            y += small * LEADING


def _arrow(frame: Frame, place: tuple[float, float], long: float) -> None:
    """Draw an arrow from one stage to the next."""
    x, y = place
    how = {"stroke": frame.look.ink, "stroke_width": 4}
    head = long * 0.36
    frame.sheet.line([(x, y), (x + long, y)], **how)
    tip = [(x + long - head, y - head), (x + long, y), (x + long - head, y + head)]
    frame.sheet.line(tip, **how)
