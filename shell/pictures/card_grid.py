"""A grid on a card: a wash a row, a kind of film a column, a mark in each cell."""

from __future__ import annotations

from abluent.shell.ground.strand import HIGH, WIDE
from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.text import LEADING, lines_of, width
from abluent.shell.told.group import Table

_ROW, _GAP = 1.03, 0.5
"""How high a row is at the least, and how far columns are apart, in sizes of text."""
_LEAST_MARK, _MARK = 1.6, 2.3
"""How wide a mark is at the least and at the most, in sizes of the text."""


def draw_grid(frame: Frame, table: Table, top: float, foot: float) -> tuple[float, int]:
    """Set a grid as high as the room allows.

    Returns where that ends, and how many rows and heads had no room.
    """
    size = frame.shape.body
    longest = max(width(name, size) for name, _ in table.rows)
    names = min(longest, frame.room * 0.36)
    told = [lines_of(name, names + 1, size) for name, _ in table.rows]
    names += size * _GAP
    heads = [width(head, size, bold=True) for head in table.columns]
    wides = [max(head, size * _LEAST_MARK) for head in heads]
    gap = (frame.room - names - sum(wides)) / len(wides)
    starts = [frame.left + names + sum(wides[:n]) + gap * n for n in range(len(wides))]
    for x, head in zip(starts, table.columns, strict=True):
        frame.sheet.text(x, top + size, head, frame.style(size, bold=True))
    top += size * LEADING
    least = sum(map(len, told)) * size * _ROW
    more = min((foot - top - least) / len(told), size * 0.7)
    left_out = len(told) * (more < 0 or gap < size * 0.3)
    more = max(more, 0.0)
    mark = min(min(wides) + gap * 0.5, size * _MARK)
    for lines, (_, cells) in zip(told, table.rows, strict=True):
        step = len(lines) * size * _ROW + more
        frame.rule(top)
        y = top + step / 2
        for n, line in enumerate(lines):
            below = (n - (len(lines) - 1) / 2) * size * _ROW
            at = y + below + size * 0.34
            frame.sheet.text(frame.left, at, line, frame.style(size))
        for n, cell in enumerate(cells):
            if cell is not None and cell.mark is not None:
                place = (starts[n], y - mark * HIGH / WIDE / 2)
                frame.sheet.strand(place, mark, cell.mark, frame.look)
        top += step
    return top, left_out
