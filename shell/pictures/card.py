"""An answer as a card for a screen: large enough to be read on a phone.

A card says the answer, what it rests on, how sure that is and what to mind. What does
not fit is said to be left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.folded_words import told
from abluent.engine.questions.answers.rows import (
    all_rows,
    named,
    standing,
    title,
    verdict,
)
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pages.cited_works import cited_works
from abluent.shell.pictures.sheet import INK, SOFT, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of, width

SHAPES = {"16:9": (1920, 1080), "9:16": (1080, 1920), "1:1": (1080, 1080)}
_SMALLEST = {"16:9": 44, "9:16": 30, "1:1": 30}
DASH = "\N{EN DASH}"
_SMALL_PART = 0.3  # of the height at most, for what stands below the line
_LARGEST = 2.6  # the answer, in sizes of the smallest text


@dataclass(frozen=True)
class _Line:
    """One row on a card, with its sign if it has a verdict."""

    text: str
    verdict: Role | None = None


def answer_card(answer: Answer, question: str, shape: str, day: str) -> Sheet:
    """Return an answer as a card.

    Args:
        answer: the answer.
        question: as it was typed.
        shape: a key of `SHAPES`.
        day: the day to print, as `2026-01-31`.
    """
    wide, high = SHAPES[shape]
    sheet = Sheet(wide, high, question, answer.sentence)
    small, margin = _SMALLEST[shape], wide * 0.05
    room = wide - 2 * margin
    foot = _foot(sheet, answer, day, small, margin)
    sheet.box(0, 0, wide, margin * 0.28, fill=INK)
    top = sheet.paragraph(
        margin, margin * 0.75, room, question, Style(small, fill=SOFT), most=2
    )
    top = _headline(sheet, answer.sentence, (margin, top + small * 0.5), foot, small)
    rows = list(all_rows(answer))
    start = (margin, top + small * 0.6)
    if len(rows) == 1:
        # One row is told by the answer itself; here is what it rests on.
        _reasons(sheet, rows[0].reasons[:-1], start, foot, small)
    else:
        lines = [line for part in (rows, answer.others) for line in _lines(part)]
        _rows(sheet, lines, start, foot, small)
    return sheet


def _reasons(
    sheet: Sheet,
    texts: Sequence[str],
    start: tuple[float, float],
    foot: float,
    small: float,
) -> None:
    """Set as many whole reasons as fit, the last ones, which say most."""
    x, top = start
    room = sheet.wide - 2 * x
    style = Style(small)
    step = small * LEADING
    shown: list[list[str]] = []
    left = int((foot - top) / step) - 1
    for text in reversed(texts):
        lines = lines_of(text, room - small, small)
        if len(lines) > left:
            break
        left -= len(lines)
        shown.insert(0, lines)
    if len(shown) < len(texts):
        shown.insert(0, [f"… after {len(texts) - len(shown)} earlier steps:"])
    for lines in shown:
        if not lines[0].startswith("…"):
            sheet.text(x, top + small, DASH, style)
        for line in lines:
            sheet.text(x + small * 0.8, top + small, line, style)
            top += step


def _headline(
    sheet: Sheet, text: str, start: tuple[float, float], foot: float, small: float
) -> float:
    """Set the answer as large as half of the room allows."""
    x, top = start
    room, most = sheet.wide - 2 * x, (foot - top) * 0.5
    size = small * _LARGEST
    while size > small * 1.15:
        lines = lines_of(text, room, size, bold=True)
        if len(lines) * size * LEADING <= most:
            break
        size *= 0.92
    fit = max(1, int(most / (size * LEADING)))
    return sheet.paragraph(x, top, room, text, Style(size, bold=True), most=fit)


def _rows(
    sheet: Sheet,
    lines: Sequence[_Line],
    start: tuple[float, float],
    foot: float,
    small: float,
) -> None:
    """List as many rows as fit, in two columns where they are short."""
    x, top = start
    size = small * 1.15
    step = size * 1.5
    half = sheet.wide / 2 - x
    # Two columns, if no row would lose its end, where the verdict stands.
    widest = max((width(each.text, size) for each in lines), default=0.0)
    columns = 2 if sheet.wide > sheet.high and widest < half - size * 2.5 else 1
    room = (sheet.wide - 2 * x) / columns
    high = int((foot - top) / step)
    fit = max(0, high * columns)
    shown = lines if len(lines) <= fit else lines[: max(0, fit - 1)]
    for number, line in enumerate(shown):
        left = x + number // high * room
        y = top + number % high * step
        if line.verdict:
            sheet.sign(
                left + size * 0.5, y + size * 0.68, size * 0.32, line.verdict, INK
            )
        indent = size * 1.4 if line.verdict else 0
        text = lines_of(line.text, room - indent - size, size, most=1)[0]
        sheet.text(left + indent, y + size, text, Style(size))
    if len(shown) < len(lines) and fit:
        left, y = x + (fit - 1) // high * room, top + (fit - 1) % high * step
        more = f"… and {len(lines) - len(shown)} more"
        sheet.text(left, y + size, more, Style(size, fill=SOFT))


def _lines(rows: Sequence[Row]) -> Iterator[_Line]:
    folded = told(rows)
    yield from (_Line(text, row.role) for text, row in folded)
    for row in () if folded else rows:
        if isinstance(row, Verdict):
            disputed = ", disputed" if row.disputed else ""
            said = f"{verdict(row)}{disputed}"
            yield _Line(f"{row.wash}, {named(row, row.film)}: {said}", row.role)
        else:
            yield _Line(title(row))


def _foot(sheet: Sheet, answer: Answer, day: str, small: float, margin: float) -> float:
    """Set what stands at the bottom; return where it begins."""
    room = sheet.wide - 2 * margin
    style = Style(small * 0.82, fill=SOFT)
    step = style.size * LEADING
    most = max(3, int(sheet.high * _SMALL_PART / step))
    blocks = [
        lines_of(text, room, style.size, most=2) for text in _foot_texts(answer, day)
    ]
    lines = [line for block in blocks for line in block][:most]
    top = sheet.high - margin * 0.6 - len(lines) * step
    sheet.line([(margin, top - step * 0.45), (sheet.wide - margin, top - step * 0.45)])
    for number, line in enumerate(lines):
        sheet.text(margin, top + number * step + style.size, line, style)
    return top - step * 0.9


def _foot_texts(answer: Answer, day: str) -> Iterator[str]:
    rows = list(all_rows(answer))
    stands = " or ".join(dict.fromkeys(filter(None, map(standing, rows))))
    if stands:
        yield f"How sure: {stands}."
    works = cited_works(rows)
    if works:
        practice = rows[0].case.world.base.terms(Role.PRACTICE)
        # What is no work that could be opened is named last.
        works.sort(key=lambda work: work.record.link("sourceKind") in practice)
        cited = "; ".join(work.citation.rstrip(".") for work in works)
        yield f"Sources ({len(works)}): {cited}."
    yield from cautions(rows)[:1]
    yield f"Abluent, {day}. About names on labels."
