"""A proof as a drawing: every step in a row of its own, under what it bears.

The kind of a step is told by its sign: a square is asserted, a wedge follows by a
rule, an empty wedge is an absence, a diamond is arithmetic. The weakest steps stand
in a frame and say so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from abluent.engine.trace.steps import Step, goals_of, steps_of
from abluent.shell.pages.chain import Mark, tree_of
from abluent.shell.pictures.sheet import BRASS, INK, PAPER, RULE, SOFT, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of

_TEXT, _SMALL, _MARGIN, _INDENT, _WIDE = 18.0, 14.0, 40.0, 26.0, 1500.0
_GAP = 10.0


@dataclass(frozen=True)
class _Row:
    """One row of the drawing, cut into lines."""

    step: Step
    depth: int
    seen: bool
    lines: Sequence[str]
    grounds: Sequence[str]

    @property
    def high(self) -> float:
        small = len(self.grounds) * _SMALL * LEADING
        return len(self.lines) * _TEXT * LEADING + small + _GAP


def proof_drawing(trace: Mapping[str, Any], day: str) -> Sheet:
    """Return every step of a trace as a drawing.

    Args:
        trace: as `abluent.engine.proof.trace.build_trace` makes it.
        day: the day to print, as `2026-01-31`.
    """
    steps, goals = steps_of(trace), goals_of(trace)
    rows = [row for tree in tree_of(steps, goals) for row in _rows(tree)]
    heading = lines_of(trace["question"], _WIDE - 2 * _MARGIN, 26, bold=True)
    top = _MARGIN + len(heading) * 26 * LEADING + 16
    high = top + sum(row.high for row in rows) + 3 * _SMALL * LEADING + _MARGIN
    told = " ".join(goal.text for goal in goals)
    sheet = Sheet(_WIDE, high, f"Why: {trace['question']}", told)
    y = _MARGIN
    for line in heading:
        sheet.text(_MARGIN, y + 26, line, Style(26, bold=True))
        y += 26 * LEADING
    tops = [top + sum(row.high for row in rows[:n]) for n in range(len(rows))]
    _elbows(sheet, rows, tops)
    for row, y in zip(rows, tops, strict=True):
        _row(sheet, row, y)
    note = (
        "Square: asserted. Wedge: follows by a rule. Empty wedge: no evidence in this "
        "base. Diamond: arithmetic. Arrow: shown elsewhere. Framed: the weakest step. "
        f"Abluent, {day}; digest {trace['digest'][:16]}."
    )
    room = _WIDE - 2 * _MARGIN
    end = top + sum(row.high for row in rows)
    sheet.paragraph(_MARGIN, end + _GAP, room, note, Style(_SMALL, fill=SOFT))
    return sheet


def _rows(tree: Sequence[Mark]) -> list[_Row]:
    rows, depth = [], 0
    for mark in tree:
        if mark.kind == "close":
            depth -= 1
            continue
        rows.append(_made(mark, depth))
        depth += mark.kind == "open"
    return rows


def _made(mark: Mark, depth: int) -> _Row:
    step, seen = mark.step, mark.kind == "see"
    room = _WIDE - 2 * _MARGIN - depth * _INDENT - 40
    text = f"{step.number}. {step.text}"
    if seen:
        text = f"See {text}"
    grounds = "" if seen else _grounds(step)
    return _Row(
        step,
        depth,
        seen,
        lines_of(text, room, _TEXT, most=1 if seen else 0),
        lines_of(grounds, room, _SMALL, most=2) if grounds else (),
    )


def _grounds(step: Step) -> str:
    memory = ", from memory" if step.from_memory else ""
    parts = [
        "the weakest step" if step.weakest else "",
        f"rule {step.rule}" if step.rule else "",
        f"{step.standing}{memory}" if step.standing else "",
        f"label of {step.place.product}: {step.place.printed}" if step.place else "",
        step.origin,
        f"source {', '.join(step.sources)}" if step.sources else "",
    ]
    return "; ".join(part for part in parts if part)


def _elbows(sheet: Sheet, rows: Sequence[_Row], tops: Sequence[float]) -> None:
    last: dict[int, float] = {}
    for row, top in zip(rows, tops, strict=True):
        y = top + _TEXT * 0.75
        if row.depth and row.depth - 1 in last:
            x = _x(row.depth - 1)
            sheet.line([(x, last[row.depth - 1] + 10), (x, y), (_x(row.depth) - 9, y)])
        last[row.depth] = y


def _x(depth: int) -> float:
    """Return the middle of the signs of one depth."""
    return _MARGIN + depth * _INDENT + 10


def _row(sheet: Sheet, row: _Row, top: float) -> None:
    x, y = _x(row.depth), top + _TEXT * 0.75
    if row.step.weakest and not row.seen:
        wide = _WIDE - _MARGIN - x - 16
        sheet.box(x + 16, top - 2, wide, row.high - 6, stroke=BRASS, stroke_width=2)
    _sign(sheet, row, x, y)
    at = top
    for line in row.lines:
        style = Style(_TEXT, bold=row.depth == 0, fill=SOFT if row.seen else INK)
        sheet.text(x + 22, at + _TEXT, line, style)
        at += _TEXT * LEADING
    for line in row.grounds:
        sheet.text(x + 22, at + _SMALL, line, Style(_SMALL, fill=SOFT))
        at += _SMALL * LEADING


def _sign(sheet: Sheet, row: _Row, x: float, y: float) -> None:
    kind, size = row.step.kind, 7.0
    if row.seen:
        head = [(x - 2, y - 6), (x + 6, y), (x - 2, y + 6)]
        sheet.line([(x - 8, y), (x + 6, y)], stroke=INK)
        sheet.line(head, stroke=INK)
    elif kind == "fact":
        sheet.box(x - size, y - size, 2 * size, 2 * size, fill=INK)
    elif kind == "rule":
        sheet.line(_wedge(x, y, size), stroke=INK, fill=INK)
    elif kind == "absent":
        sheet.line(_wedge(x, y, size), stroke=INK, fill=PAPER)
    else:
        corners = [(x, y - 9), (x + 9, y), (x, y + 9), (x - 9, y), (x, y - 9)]
        sheet.line(corners, stroke=INK, fill=RULE)


def _wedge(x: float, y: float, size: float) -> list[tuple[float, float]]:
    top, end = y - size, y + size
    return [(x - size, top), (x + size, y), (x - size, end), (x - size, top)]
