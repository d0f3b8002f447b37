"""Lists copied from a table: the column of names, and what each row states."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import TypeAlias

Cell: TypeAlias = tuple[int, int]

_LINE = re.compile(r"[^\n]+")
_RULE = re.compile(r"[\s|:+-]*")
_CELL = re.compile(r"[^|\t]+")
_SHARE = re.compile(r"\s*[<>≤≥~]?\s*\d+(?:[.,]\d+)?\s*%\s*(?:[wvmp]/[wvmp])?\s*")
_FEWEST_ROWS = 3


def table_cells(
    plain: str, start: int, end: int, named: Callable[[int, int], bool]
) -> list[Cell]:
    """The cells with the names of a table, each with a share that stands beside it.

    Args:
        plain: the text, cleaned.
        start: where the list begins.
        end: where it ends.
        named: tells whether a stretch of the text is a name.

    Returns:
        One stretch for each row; empty if the list is no table, or if its names are
        not in one column.
    """
    rows = list(_rows(plain, start, end))
    sizes = [len(row) for row in rows]
    size = max(set(sizes), key=sizes.count, default=0)
    same = [row for row in rows if len(row) == size]
    if size < 2 or len(same) < _FEWEST_ROWS or 2 * len(same) < len(rows):
        return []
    names = [sum(named(*row[at]) for row in same) for at in range(size)]
    column = max(range(size), key=names.__getitem__)
    others = max(n for at, n in enumerate(names) if at != column)
    if 2 * names[column] < len(same) or 2 * others > names[column]:
        return []
    return [_with_share(plain, row, column) for row in same]


def _rows(plain: str, start: int, end: int) -> Iterator[list[Cell]]:
    for line in _LINE.finditer(plain, start, end):
        if not _RULE.fullmatch(plain, *line.span()):
            cells = _CELL.finditer(plain, *line.span())
            yield [cell.span() for cell in cells if cell.group().strip()]


def _with_share(plain: str, row: list[Cell], column: int) -> Cell:
    begin, stop = row[column]
    if column + 1 < len(row) and _SHARE.fullmatch(plain, *row[column + 1]):
        stop = row[column + 1][1]
    elif column and _SHARE.fullmatch(plain, *row[column - 1]):
        begin = row[column - 1][0]
    text = plain[begin:stop]
    return begin + len(text) - len(text.lstrip()), begin + len(text.rstrip())
