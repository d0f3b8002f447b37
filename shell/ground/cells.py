"""Cells of a table, made safe to open in a spreadsheet.

A cell that begins as a formula does would be run by a spreadsheet; a label or a
product name from anywhere may begin so. Such a cell gets an apostrophe before it,
as spreadsheets themselves write text, and loses it again when it is read.
"""

from __future__ import annotations

import re

_FORMULA = re.compile(r"'*(?:[\t\r]|\s*[=+\-@|%])")


def defused(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if _FORMULA.match(cell) else cell


def restored(cell: str) -> str:
    """Return what `defused` was given."""
    return cell[1:] if cell[:1] == "'" and _FORMULA.match(cell) else cell
