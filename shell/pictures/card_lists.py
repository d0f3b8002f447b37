"""What stands below the claim of a card: reasons, groups of names, a small table."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.shell.ground.strand import HIGH, WIDE
from abluent.shell.pictures.faces import flows_left
from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.lists import Cell, Group, Table
from abluent.shell.pictures.text import LEADING, lines_of, width

DASH = "\N{EN DASH}"
_SPACE = 0.24
"""How wide a space is, in sizes of the font."""
_MARK = 3.2
"""How wide the mark of a group is, in sizes of the body."""


def draw_reasons(frame: Frame, texts: Sequence[str], top: float, foot: float) -> int:
    """Set as many whole reasons as there is room for; return how many are not."""
    size = frame.shape.body
    step, indent = size * LEADING, size * 0.85
    style = frame.style(size)
    left_out = 0
    for text in texts:
        lines = lines_of(text, frame.room - indent, size)
        if top + len(lines) * step > foot:
            left_out += 1
            continue
        frame.sheet.text(frame.left, top + size, DASH, style)
        for line in lines:
            frame.sheet.text(frame.left + indent, top + size, line, style)
            top += step
        top += size * 0.3
    return left_out


def draw_groups(
    frame: Frame, groups: Sequence[Group], top: float, foot: float
) -> tuple[float, int]:
    """Set what is alike together, each group with its mark and its word.

    Where there is room each name has a line. Where there is not, names share lines,
    and of the last of a group it is told how many there are.

    Returns where that ends, and how many things were only counted.
    """
    size = frame.shape.body
    step = size * LEADING
    marked = any(group.mark for group in groups)
    indent = size * (_MARK + 0.5) if marked else 0.0
    room = frame.room - indent
    gap = size * 0.4
    most = int((foot - top - gap * (len(groups) - 1)) / step)
    told = _told(groups, room, size, most)
    over = max(0, sum(len(lines) for lines, _ in told) - most)
    for group, (lines, _) in zip(groups, told, strict=True):
        if group.mark is not None and lines:
            place = (frame.left, top + size * 0.08)
            frame.sheet.strand(place, size * _MARK, group.mark, frame.look)
        if not lines:
            continue
        for line in lines:
            x = frame.left + indent
            for text, bold in line:
                frame.sheet.text(x, top + size, text, frame.style(size, bold=bold))
                x += width(text, size, bold=bold) + size * _SPACE
            top += step
        top += gap
    return top, over + sum(left for _, left in told)


_Line = list[tuple[str, bool]]
"""Texts that stand in one line, each with whether it is bold."""
_Told = list[tuple[list[_Line], int]]


def _told(groups: Sequence[Group], room: float, size: float, most: int) -> _Told:
    """The lines of each group, and how many things it only counts."""
    for apart in (True, False):
        whole = [_lines(group, room, size, apart=apart) for group in groups]
        if sum(map(len, whole)) <= most:
            return [(lines, 0) for lines in whole]
    # Every group keeps its word; the longest gives up names first.
    kept = [len(group.names) for group in groups]
    while max(kept) > 1 and _length(groups, kept, room, size) > most:
        longest = max(range(len(kept)), key=kept.__getitem__)
        kept[longest] -= 1
    told: _Told = [
        (_lines(g, room, size, apart=False, most=n), len(g.names) - n)
        for g, n in zip(groups, kept, strict=True)
    ]
    # What has no room at all is counted in the last line.
    dropped = 0
    for n in range(len(told) - 1, 0, -1):
        if sum(len(lines) for lines, _ in told) + bool(dropped) <= most:
            break
        dropped += groups[n].many
        told[n] = ([], groups[n].many)
    if dropped:
        last = max(n for n, (lines, _) in enumerate(told) if lines)
        told[last] = ([*told[last][0], [(f"and {dropped} more", False)]], told[last][1])
    return told


def _length(
    groups: Sequence[Group], kept: Sequence[int], room: float, size: float
) -> int:
    pairs = zip(groups, kept, strict=True)
    return sum(len(_lines(g, room, size, apart=False, most=n)) for g, n in pairs)


def _lines(
    group: Group, room: float, size: float, *, apart: bool, most: int = 0
) -> list[_Line]:
    names = list(group.names[:most] if most else group.names)
    left = len(group.names) - len(names)
    counted = group.word.endswith(f"({group.many})")
    word = f"{group.word} ({group.many})" if left and not counted else group.word
    told = names
    if not apart:
        told = [", ".join(names) + (f" and {left} more" if left else "")]
    if word and group.mark is None:
        return _run_in(f"{word}:", ", ".join(told), room, size)
    head = lines_of(word, room, size, bold=True) if word else []
    body = [line for text in told for line in lines_of(text, room, size)]
    return [
        [(line, bold)]
        for lines, bold in ((head, True), (body, False))
        for line in lines
    ]


def _run_in(word: str, text: str, room: float, size: float) -> list[_Line]:
    """A bold word with what it is about in the same line, as far as it fits."""
    *whole, last = lines_of(word, room, size, bold=True)
    free = room - width(last, size, bold=True) - size * _SPACE
    first, *_ = lines_of(text, free, size)
    if flows_left(text) or width(text.split(" ", maxsplit=1)[0], size) > free:
        first = ""
    rest = text[len(first) :].strip()
    lines: list[_Line] = [[(line, True)] for line in whole]
    lines.append([(last, True), *([(first, False)] if first else [])])
    lines += [[(line, False)] for line in (lines_of(rest, room, size) if rest else [])]
    return lines


# -- side by side ------------------------------------------------------------------


def draw_table(
    frame: Frame, table: Table, top: float, foot: float
) -> tuple[float, int]:
    """Set washes side by side: a row for all films on which they do the same.

    Returns where that ends, and how many rows had no room.
    """
    size = frame.shape.body
    step, small = size * LEADING, frame.shape.small
    named = small * 1.1
    words = [word for film, _ in table.rows for word in film.split()]
    longest = max(width(word, named, bold=True) for word in words) + size * 0.5
    share = 0.36 if len(table.columns) < 3 else 0.26
    names = max(frame.room * share, min(longest, frame.room * 0.4))
    wide = (frame.room - names) / len(table.columns)
    heads = [lines_of(t, wide - size * 0.3, named, bold=True) for t in table.columns]
    starts = [frame.left + names + n * wide for n in range(len(heads))]
    for x, lines in zip(starts, heads, strict=True):
        for number, line in enumerate(lines):
            y = top + number * named * LEADING + named
            frame.sheet.text(x, y, line, frame.style(named, bold=True))
    top += max(map(len, heads)) * named * LEADING + size * 0.2
    for number, (film, cells) in enumerate(table.rows):
        name = lines_of(film, names - size * 0.4, named, bold=True)
        told = [_cell_lines(cell, wide - size * 0.3, small) for cell in cells]
        mark = min(wide - size * 0.5, size * 2.7)
        tall = mark * HIGH / WIDE
        high = max(
            len(name) * named * LEADING,
            tall + max(map(len, told)) * small * LEADING,
        )
        left = len(table.rows) - number
        if top + high + (size * 1.6 if left > 1 else 0) > foot:
            told_of_rest = f"and {left} more film{'s' * (left > 1)}"
            frame.sheet.text(frame.left, top + size, told_of_rest, frame.style(size))
            return top + step, left
        frame.rule(top)
        top += size * 0.18
        for n, line in enumerate(name):
            y = top + n * named * LEADING + named
            frame.sheet.text(frame.left, y, line, frame.style(named, bold=True))
        for x, cell, lines in zip(starts, cells, told, strict=True):
            if cell is None:
                continue
            frame.sheet.strand((x, top), mark, cell.mark, frame.look)
            for n, line in enumerate(lines):
                y = top + tall + n * small * LEADING + small
                frame.sheet.text(x, y, line, frame.style(small))
        top += high + size * 0.12
    return top, 0


def _cell_lines(cell: Cell | None, room: float, small: float) -> list[str]:
    return lines_of(cell.word, room, small) if cell else []
