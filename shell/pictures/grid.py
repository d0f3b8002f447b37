"""Washes by films: every verdict of an answer as a grid.

The longer side of the grid runs down the page, so that a hundred films of one wash
stay as readable as a hundred washes for one film.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from abluent.engine.base.roles import Role
from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.folded_words import alike, many
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.rows import all_rows, named, verdict
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.shell.ground.strand import strand_of
from abluent.shell.pictures.sheet import (
    FAINT,
    HALF,
    INK,
    PAPER,
    RULE,
    SOFT,
    WASH,
    Look,
    Sheet,
    Style,
)
from abluent.shell.pictures.text import LEADING, lines_of

_TEXT, _HEAD, _SMALL = 20.0, 18.0, 16.0
_MARGIN, _CELL, _NAMES, _PAD = 40.0, 230.0, 330.0, 10.0
_INKS = {Role.CLEARED: PAPER, Role.NO_WASH_NEEDED: PAPER}
_FILLS = {
    Role.CLEARED: INK,
    Role.NO_WASH_NEEDED: SOFT,
    Role.AT_LEAST_PARTLY: HALF,
    Role.PARTLY_CLEARED: WASH,
    Role.AT_MOST_PARTLY: FAINT,
}


@dataclass(frozen=True)
class _Grid:
    """Which verdicts stand where."""

    down: Sequence[str]
    across: Sequence[str]
    cells: dict[tuple[str, str], Verdict]


def verdict_grid(answer: Answer, question: str, day: str) -> Sheet:
    """Return the verdicts of an answer as a grid.

    Raises:
        CommandError: the answer holds no verdicts.
    """
    grid = _grid(verdicts_of(answer))
    heads = [lines_of(text, _CELL - _PAD, _HEAD, bold=True) for text in grid.across]
    names = [lines_of(text, _NAMES - _PAD, _TEXT) for text in grid.down]
    head = max(map(len, heads)) * _HEAD * LEADING + _PAD
    steps = [max(58.0, len(name) * _TEXT * LEADING + _PAD) for name in names]
    wide = max(760.0, 2 * _MARGIN + _NAMES + _CELL * len(grid.across))
    title = lines_of(question, wide - 2 * _MARGIN, 26, bold=True)
    top = _MARGIN + len(title) * 26 * LEADING + _PAD + head
    high = top + sum(steps) + 3 * _SMALL * LEADING + _MARGIN
    sheet = Sheet(wide, high, question, answer.sentence)
    _heads(sheet, title, heads, top)
    for name, lines, step in zip(grid.down, names, steps, strict=True):
        _row(sheet, grid, name, lines, (top, step))
        top += step
    _key(sheet, top + _SMALL, day)
    return sheet


def verdicts_of(answer: Answer) -> list[Verdict]:
    """Return the verdicts of an answer.

    Raises:
        CommandError: it holds none.
    """
    rows = [*all_rows(answer), *answer.others]
    found = [row for row in rows if isinstance(row, Verdict)]
    if not found:
        raise CommandError(
            Problem(
                "this answer holds no verdicts to draw a grid of",
                hint="ask which washes clear something",
            )
        )
    return found


def _grid(found: Sequence[Verdict]) -> _Grid:
    cells: dict[tuple[str, str], Verdict] = {}
    for row in found:
        source = f" from {row.source}" if row.source else ""
        cells[row.wash, f"{named(row, row.film)}{source}"] = row
    if many(found):
        cells = _alike(found)
    washes = list(dict.fromkeys(wash for wash, _ in cells))
    films = list(dict.fromkeys(film for _, film in cells))
    if len(films) > len(washes):
        turned = {(film, wash): row for (wash, film), row in cells.items()}
        return _Grid(films, washes, turned)
    return _Grid(washes, films, cells)


def _alike(found: Sequence[Verdict]) -> dict[tuple[str, str], Verdict]:
    """Cells of washes and films that are alike in all of them, by their classes."""
    rows = {(wash_key(row), film_key(row)): row for row in found}
    return {
        (wash, film): rows[one, other]
        for wash, one in alike(found, 0)
        for film, other in alike(found, 1)
        if (one, other) in rows
    }


def _heads(
    sheet: Sheet, title: Sequence[str], heads: Sequence[Sequence[str]], top: float
) -> None:
    y = _MARGIN
    for line in title:
        sheet.text(_MARGIN, y + 26, line, Style(26, bold=True))
        y += 26 * LEADING
    for number, lines in enumerate(heads):
        x = _MARGIN + _NAMES + number * _CELL + _PAD / 2
        y = top - _PAD - (len(lines) - 1) * _HEAD * LEADING - 4
        for line in lines:
            sheet.text(x, y, line, Style(_HEAD, bold=True))
            y += _HEAD * LEADING


def _row(
    sheet: Sheet,
    grid: _Grid,
    name: str,
    lines: Sequence[str],
    place: tuple[float, float],
) -> None:
    top, step = place
    y = top + (step - len(lines) * _TEXT * LEADING) / 2
    for line in lines:
        sheet.text(_MARGIN, y + _TEXT, line, Style(_TEXT))
        y += _TEXT * LEADING
    for number, column in enumerate(grid.across):
        x = _MARGIN + _NAMES + number * _CELL
        row = grid.cells.get((name, column))
        if row is not None:
            _cell(sheet, row, x, top, step)


def _cell(sheet: Sheet, row: Verdict, x: float, top: float, step: float) -> None:
    ink = _INKS.get(row.role, INK)
    least, most = ENDS[row.role]
    dashes = {} if least is most else {"stroke_dasharray": "5 4"}
    fill = _FILLS.get(row.role, PAPER)
    sheet.box(x + 2, top + 2, _CELL - 4, step - 4, fill=fill, stroke=RULE, **dashes)
    middle = top + step / 2
    sheet.strand((x + 8, middle - 10), 50, strand_of(row.role), Look(ink=ink))
    words = [verdict(row), *(["disputed"] if row.disputed else [])]
    y = middle - (len(words) - 1) * _SMALL * 0.6 + _SMALL * 0.35
    for number, word in enumerate(words):
        style = Style(_SMALL, bold=number > 0, fill=ink)
        sheet.text(x + 66, y + number * _SMALL * 1.2, word, style)


def _key(sheet: Sheet, top: float, day: str) -> None:
    told = (
        "A strand of hair after the wash: what is drawn of the film stays, what is "
        "dotted may stay or go, and where the strand is bare the film is gone. "
        f"Abluent, {day}, from the names on the labels; no safety assessment."
    )
    room = sheet.wide - 2 * _MARGIN
    sheet.paragraph(_MARGIN, top, room, told, Style(_SMALL, fill=SOFT))
