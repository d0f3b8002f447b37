"""Long texts a screen at a time, in the terminal's own scrolling window."""

from __future__ import annotations

from collections.abc import Iterator

_LEAST = 4  # rows of a screen below which it is of no use to stop


def screens(text: str, columns: int, rows: int) -> Iterator[tuple[str, int]]:
    """Cut a text into pieces that fit a screen.

    Args:
        text: the text.
        columns: of the screen; a longer line takes several rows of it.
        rows: of the screen, one of which is kept for a prompt.

    Yields:
        Each piece, and how many lines are left after it.
    """
    lines = text.split("\n")
    room = max(rows, _LEAST) - 1
    start = used = 0
    for number, line in enumerate(lines):
        taken = _rows(line, columns)
        if number > start and used + taken > room:
            yield "\n".join(lines[start:number]), len(lines) - number
            start, used = number, 0
        used += taken
    yield "\n".join(lines[start:]), 0


def _rows(line: str, columns: int) -> int:
    """How many rows of a screen a line takes, wide characters counted twice."""
    from prompt_toolkit.utils import get_cwidth

    return max(1, -(-get_cwidth(line) // max(columns, 1)))
