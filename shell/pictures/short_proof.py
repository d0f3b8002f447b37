"""A proof in five boxes at most: the verdict, then what it rests on, in plain words.

The reviewer's drawing has every step; this one is for who wants the thought.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import as_sentence
from abluent.shell.ground.strand import HIGH, WIDE, Strand, strand_of
from abluent.shell.pictures.marks_key import key_of
from abluent.shell.pictures.sheet import PLAIN, Look, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of
from abluent.shell.told.plain import claim_of
from abluent.shell.told.reasons import Reason, reasons_of
from abluent.shell.told.telling import told_of
from abluent.shell.told.told import Told

MOST_BOXES = 5
_TEXT, _SMALL, _MARGIN, _WIDE, _PAD, _GAP = 44.0, 34.0, 60.0, 1080.0, 30.0, 26.0
_CLAIM, _MARK, _NUMBER = 58.0, 300.0, 66.0


class _Box(NamedTuple):
    """One step, cut into lines."""

    texts: Sequence[str]
    small: Sequence[str]

    @property
    def high(self) -> float:
        lines = len(self.texts) * _TEXT + len(self.small) * _SMALL
        return lines * LEADING + 2 * _PAD


def short_proof(answer: Answer, question: str, day: str, look: Look = PLAIN) -> Sheet:
    """Return the proof of one verdict as five boxes at most.

    Raises:
        CommandError: the answer is not one verdict.
    """
    rows = [row for row in all_rows(answer) if isinstance(row, Verdict)]
    if len(rows) != 1:
        what = f"this answer has {len(rows)} verdicts, not one"
        raise CommandError(Problem(what, hint="ask whether one wash clears one film"))
    (row,) = rows
    whole = told_of(answer, question)
    told = whole.short()
    room = _WIDE - 2 * _MARGIN
    reasons = reasons_of(row)[: MOST_BOXES - 1]
    if len({each.standing for each in reasons if each.standing}) < 2:
        # What all of them stand on is said once, at the foot.
        reasons = [each._replace(standing="") for each in reasons]
    boxes = [_box(each, told, room) for each in reasons]
    claim = lines_of(told.cut(claim_of(row)), room - 2 * _PAD, _CLAIM, bold=True)
    mark = _MARK * HIGH / WIDE + _SMALL * LEADING
    head = mark + len(claim) * _CLAIM * LEADING + 2.6 * _PAD
    foot = [x for text in _foot(told, day, look) for x in lines_of(text, room, _SMALL)]
    high = 2 * _MARGIN + head + sum(b.high + _GAP for b in boxes)
    high += _TEXT * 1.9 + (len(foot) + 0.6) * _SMALL * LEADING
    sheet = Sheet(_WIDE, high, claim_of(row), whole.aloud(), look.paper)
    _head(sheet, look, claim, strand_of(row.role), head)
    top = _MARGIN + head + _TEXT * 1.3
    sheet.text(_MARGIN, top, "Why?", Style(_TEXT, bold=True, fill=look.ink))
    top += _TEXT * 0.6
    for number, box in enumerate(boxes, 1):
        _drawn(sheet, look, box, number, top)
        top += box.high + _GAP
    for line in foot:
        sheet.text(_MARGIN, top + _SMALL, line, Style(_SMALL, fill=look.ink))
        top += _SMALL * LEADING
    return sheet


def _box(reason: Reason, told: Told, room: float) -> _Box:
    inside = room - 2 * _PAD - _NUMBER
    stands = as_sentence(reason.standing[:1].upper() + reason.standing[1:])
    small = lines_of(stands, inside, _SMALL) if reason.standing else []
    return _Box(lines_of(told.cut(reason.text), inside, _TEXT), small)


def _foot(told: Told, day: str, look: Look) -> list[str]:
    sure = f"How sure: {told.sure}" if told.sure else ""
    full = [f"In full: {name}" for name in told.names]
    by = " · ".join(filter(None, [look.handle, told.cited, f"Abluent {day}"]))
    return [each for each in (sure, told.caution, *full, by) if each]


def _head(
    sheet: Sheet, look: Look, claim: Sequence[str], strand: Strand, high: float
) -> None:
    """Set the verdict, with its mark."""
    room = _WIDE - 2 * _MARGIN
    sheet.box(_MARGIN, _MARGIN, room, high, stroke=look.ink, stroke_width=5)
    x, top = _MARGIN + _PAD, _MARGIN + _PAD
    sheet.strand((x, top), _MARK, strand, look)
    top += _MARK * HIGH / WIDE + _PAD * 0.4
    for text in key_of([strand]):
        sheet.text(x, top + _SMALL * 0.8, text, Style(_SMALL, fill=look.ink))
        top += _SMALL * LEADING
    for line in claim:
        sheet.text(x, top + _CLAIM, line, Style(_CLAIM, bold=True, fill=look.ink))
        top += _CLAIM * LEADING


def _drawn(sheet: Sheet, look: Look, box: _Box, number: int, top: float) -> None:
    """Set one step."""
    room = _WIDE - 2 * _MARGIN
    sheet.box(_MARGIN, top, room, box.high, stroke=look.ink, stroke_width=2)
    style = Style(_TEXT, bold=True, fill=look.ink)
    y, x = top + _PAD, _MARGIN + _PAD
    sheet.text(x, y + _TEXT * 0.9, str(number), style)
    for size, lines in ((_TEXT, box.texts), (_SMALL, box.small)):
        for line in lines:
            sheet.text(x + _NUMBER, y + size * 0.9, line, Style(size, fill=look.ink))
            y += size * LEADING
