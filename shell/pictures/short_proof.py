"""A proof in five boxes at most: the film, what acts, what says so, the verdict.

The reviewer's drawing has every step; this one is for who wants the thought.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.answers.account import Step, account
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.rows import all_rows, short_citation, standing
from abluent.engine.questions.answers.turns import turning_of
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.ground.strand import strand_of
from abluent.shell.pictures.sheet import BRASS, INK, PLAIN, SOFT, WASH, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of

MOST_BOXES = 5
_TEXT, _SMALL, _MARGIN, _WIDE, _PAD, _GAP = 40.0, 28.0, 70.0, 1200.0, 26.0, 54.0
_MARK = 200.0


class Box(NamedTuple):
    """One box: what it says, what it stands on, and whether the verdict turns on it."""

    text: str
    grounds: str
    turns: bool = False


def boxes_of(row: Verdict) -> list[Box]:
    """Return the steps of a verdict as boxes, the verdict's own left out."""
    steps = [step for step in account(row) if not step.text.endswith("ask why.")]
    words = turning_of(row).words
    order = sorted(range(len(steps)), key=lambda n: _weight(n, steps, words))
    kept = sorted(order[: MOST_BOXES - 1])
    return [_box(row, steps[n], words) for n in kept]


def _weight(number: int, steps: Sequence[Step], turns_on: str) -> tuple[bool, int]:
    """Lower for what says most: what it turns on, then in the order of thought."""
    return (steps[number].text.rstrip(".") != turns_on.rstrip("."), number)


def _box(row: Verdict, step: Step, turns_on: str) -> Box:
    base = row.case.world.base
    stands = base.label(step.standing) if step.standing else ""
    works = [short_citation(base, each) for each in step.sources[:1]]
    grounds = "; ".join(filter(None, [stands, *works]))
    return Box(step.text, grounds, step.text.rstrip(".") == turns_on.rstrip("."))


def short_proof(answer: Answer, question: str, day: str) -> Sheet:
    """Return the proof of one verdict as five boxes at most.

    Raises:
        CommandError: the answer is not one verdict.
    """
    rows = [row for row in all_rows(answer) if isinstance(row, Verdict)]
    if len(rows) != 1:
        what = f"this answer has {len(rows)} verdicts, not one"
        raise CommandError(Problem(what, hint="ask whether one wash clears one film"))
    (row,) = rows
    boxes, room = boxes_of(row), _WIDE - 2 * _MARGIN
    told = " ".join([*(box.text for box in boxes), answer.sentence])
    drawn = [(box, *_lines(box, room)) for box in boxes]
    claim = lines_of(answer.sentence, room - _MARK - 3 * _PAD, _TEXT, bold=True)
    note = f"How sure: {standing(row)}. Abluent {day}." if standing(row) else ""
    highs = [_high(texts, small) for _, texts, small in drawn]
    last = len(claim) * _TEXT * LEADING + 2 * _PAD
    high = 2 * _MARGIN + sum(highs) + len(highs) * _GAP + last + 2 * _SMALL * LEADING
    sheet = Sheet(_WIDE, high, question, told)
    top = _MARGIN
    for (box, texts, small), tall in zip(drawn, highs, strict=True):
        _drawn(sheet, box, (texts, small), (top, tall))
        top += tall
        _arrow(sheet, top)
        top += _GAP
    sheet.box(_MARGIN, top, room, last, fill=WASH, stroke=INK, stroke_width=4)
    sheet.strand((_MARGIN + _PAD, top + _PAD), _MARK, strand_of(row.role), PLAIN)
    for number, line in enumerate(claim):
        y = top + _PAD + number * _TEXT * LEADING + _TEXT
        sheet.text(_MARGIN + 2 * _PAD + _MARK, y, line, Style(_TEXT, bold=True))
    y = top + last + _SMALL * 1.6
    sheet.text(_MARGIN, y, note or f"Abluent {day}.", Style(_SMALL, fill=SOFT))
    return sheet


def _lines(box: Box, room: float) -> tuple[list[str], list[str]]:
    inside = room - 2 * _PAD
    return lines_of(box.text, inside, _TEXT), list(_small(box, inside))


def _small(box: Box, room: float) -> Iterator[str]:
    told = "It turns on this. " if box.turns else ""
    if told or box.grounds:
        yield from lines_of(f"{told}{box.grounds}".strip(), room, _SMALL)


def _high(texts: Sequence[str], small: Sequence[str]) -> float:
    return (len(texts) * _TEXT + len(small) * _SMALL) * LEADING + 2 * _PAD


def _drawn(
    sheet: Sheet,
    box: Box,
    lines: tuple[Sequence[str], Sequence[str]],
    place: tuple[float, float],
) -> None:
    top, tall = place
    texts, small = lines
    edge = {"stroke": BRASS, "stroke_width": 5} if box.turns else {"stroke": INK}
    sheet.box(_MARGIN, top, _WIDE - 2 * _MARGIN, tall, **edge)
    y = top + _PAD
    for line in texts:
        sheet.text(_MARGIN + _PAD, y + _TEXT * 0.9, line, Style(_TEXT))
        y += _TEXT * LEADING
    for line in small:
        sheet.text(_MARGIN + _PAD, y + _SMALL * 0.9, line, Style(_SMALL, fill=SOFT))
        y += _SMALL * LEADING


def _arrow(sheet: Sheet, top: float) -> None:
    x, end = _WIDE / 2, top + _GAP
    sheet.line([(x, top), (x, end - 4)], stroke=INK, stroke_width=4)
    head = [(x - 12, end - 18), (x, end - 4), (x + 12, end - 18)]
    sheet.line(head, stroke=INK, stroke_width=4)
