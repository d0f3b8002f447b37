"""What stands below the claim of a card: reasons, groups of names, a small table."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from abluent.shell.ground.strand import HIGH, WIDE
from abluent.shell.pictures.faces import flows_left
from abluent.shell.pictures.framed import Frame
from abluent.shell.pictures.text import LEADING, even_lines, lines_of, width
from abluent.shell.told.group import Cell, Group, Table

DASH = "\N{EN DASH}"
_SPACE = 0.24
"""How wide a space is, in sizes of the font."""
_RUN_IN = 22
"""From so many sizes of the font on, names follow the word of a group in its line."""
_BAR = 0.8
"""How far what is advised is set in beside its bar, in sizes of the body."""
_MARK = 2.6
"""How wide the mark of a group is, in sizes of the body."""
_LESS = 0.84
"""How large it is set why something is so of a group, in sizes of the body."""


def draw_reasons(
    frame: Frame, texts: Sequence[str], top: float, foot: float, air: float = 0.0
) -> tuple[float, int]:
    """Set as many whole reasons as there is room for.

    Returns where they end, and how many are left out. `air` is set between two.
    """
    size = frame.shape.body
    step, indent = size * LEADING, indent_of(texts, size)
    style = frame.style(size)
    left_out = 0
    for text in texts:
        lines = even_lines(text, frame.room - indent, size)
        if top + len(lines) * step > foot:
            left_out += 1
            continue
        if indent:
            frame.sheet.text(frame.left, top + size, DASH, style)
        for line in lines:
            frame.sheet.text(frame.left + indent, top + size, line, style)
            top += step
        top += size * 0.3 + air * 0.5
    return top, left_out


def indent_of(texts: Sequence[str], size: float) -> float:
    """How far reasons are set in after their dash; a lone one has none."""
    return size * 0.85 if len(texts) > 1 else 0.0


def draw_groups(
    frame: Frame,
    groups: Sequence[Group],
    place: tuple[float, float],
    *,
    apart: bool,
) -> tuple[float, int]:
    """Set what is alike together, each group with its mark and its word.

    Args:
        frame: the card.
        groups: the groups.
        place: where they begin, and where they must end.
        apart: whether each name has a line, or a place in a column; else names share
            lines, and of the last of a group it is told how many there are.

    Returns:
        Where that ends, and how many things were only counted or had no room.
    """
    top, foot = place
    size = frame.shape.body
    step = size * LEADING
    marked = 2 * sum(group.mark is not None for group in groups) >= len(groups)
    indent = size * (_MARK + 0.5) if marked else 0.0
    room = frame.room - indent
    gap = size * 0.4
    most = int((foot - top - gap * (len(groups) - 1)) / step)
    less = max(frame.shape.small, size * _LESS)
    whys = [_why(group, room, less) for group in groups]
    most -= ceil(sum(map(len, whys)) * less / size)
    if apart:
        told = [(_lines(group, room, size, apart=True), 0) for group in groups]
    else:
        told = _told(groups, room, size, most)
    over = max(0, sum(len(lines) for lines, _ in told) - most)
    for group, (names, _), why in zip(groups, told, whys, strict=True):
        lines = [*((line, size) for line in names)]
        lines += [(line, less) for line in why if names]
        if marked and group.mark is not None and lines:
            place = (frame.left, top + size * 0.08)
            frame.sheet.strand(place, size * _MARK, group.mark, frame.look)
        if not lines:
            continue
        for line, large in lines:
            x = frame.left + indent
            for text, bold, at in line:
                begin = max(x, frame.left + indent + at)
                style = frame.style(large, bold=bold)
                frame.sheet.text(begin, top + large, text, style)
                x = begin + width(text, large, bold=bold) + large * _SPACE
            top += large * LEADING
        top += gap
    return top, over + sum(left for _, left in told)


_Line = list[tuple[str, bool, float]]
"""Texts that stand in a line, each with whether it is bold and where it may begin."""
_Told = list[tuple[list[_Line], int]]


def _told(groups: Sequence[Group], room: float, size: float, most: int) -> _Told:
    """The lines of each group, and how many things it only counts."""
    whole = [_lines(group, room, size, apart=False) for group in groups]
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
        told[last] = (
            [*told[last][0], [(f"and {dropped} more", False, 0.0)]],
            told[last][1],
        )
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
    parts = [f"{name}," for name in names[:-1]]
    parts.append(f"{names[-1]} and {left} more" if left else names[-1])
    wide = not apart and room > _RUN_IN * size
    if group.word and (group.mark is None or wide):
        return _run_in(f"{word}:", parts, room, size)
    head = lines_of(word, room, size, bold=True) if word else []
    lines: list[_Line] = [[(line, True, 0.0)] for line in head]
    if apart:
        return [*lines, *_in_columns(names, room, size)]
    return [*lines, *([(line, False, 0.0)] for line in _packed(parts, room, size))]


def _why(group: Group, room: float, size: float) -> list[_Line]:
    """Why something is so of a group, below its names."""
    if not group.why:
        return []
    told = lines_of(f"{DASH} {group.why}", room, size)
    return [[(line, False, 0.0)] for line in told]


def _in_columns(names: Sequence[str], room: float, size: float) -> list[_Line]:
    """Names below each other, in as many columns as fit."""
    gap = size * 1.2
    longest = max((width(name, size) for name in names), default=0.0)
    fit = int((room + gap) / (longest + gap)) if longest <= room else 1
    tall = -(-len(names) // max(1, fit))
    if tall < 2 or fit < 2:
        return [[(x, False, 0.0)] for name in names for x in lines_of(name, room, size)]
    columns = [names[n : n + tall] for n in range(0, len(names), tall)]
    step = (room + gap) / len(columns)
    return [
        [(c[row], False, n * step) for n, c in enumerate(columns) if row < len(c)]
        for row in range(tall)
    ]


def _packed(parts: Sequence[str], room: float, size: float) -> list[str]:
    """Names in lines of which none is broken that fits on a line of its own."""
    lines: list[str] = []
    for part in parts:
        longer = f"{lines[-1]} {part}" if lines else part
        if lines and len(lines_of(longer, room, size)) == 1:
            lines[-1] = longer
        else:
            lines += lines_of(part, room, size)
    return lines


def _run_in(word: str, parts: Sequence[str], room: float, size: float) -> list[_Line]:
    """A bold word with what it is about in the same line, as far as whole names fit."""
    *whole, last = lines_of(word, room, size, bold=True)
    free = room - width(last, size, bold=True) - size * _SPACE
    fit = 0
    while fit < len(parts) and not flows_left(parts[fit]):
        if width(" ".join(parts[: fit + 1]), size) > free:
            break
        fit += 1
    lines: list[_Line] = [[(line, True, 0.0)] for line in whole]
    first = " ".join(parts[:fit])
    lines.append([(last, True, 0.0), *([(first, False, 0.0)] if first else [])])
    after = _packed(parts[fit:], room, size)
    return [*lines, *([(line, False, 0.0)] for line in after)]


# -- what to do ----------------------------------------------------------------------


def advice_high(frame: Frame, text: str, size: float) -> float:
    """How high what is advised is, with the space above it."""
    if not text:
        return 0.0
    lines = lines_of(text, frame.room - size * _BAR, size)
    return len(lines) * size * LEADING + size * 0.9


def draw_advice(frame: Frame, text: str, top: float, size: float) -> None:
    """Set what to do beside a bar of its own."""
    if not text:
        return
    lines = even_lines(text, frame.room - size * _BAR, size)
    high = len(lines) * size * LEADING + size * 0.2
    frame.sheet.box(frame.left, top, size * 0.22, high, fill=frame.look.film)
    top += size * 0.08
    for line in lines:
        x = frame.left + size * _BAR
        frame.sheet.text(x, top + size, line, frame.style(size))
        top += size * LEADING


# -- side by side ------------------------------------------------------------------


def draw_table(
    frame: Frame, table: Table, top: float, foot: float
) -> tuple[float, int]:
    """Set washes side by side: a row for all films on which they do the same.

    Returns where that ends, and how many rows had no room.
    """
    size = frame.shape.body
    step, small = size * LEADING, frame.shape.small
    named = small
    words = [word for film, _ in table.rows for word in film.split()]
    longest = max(width(word, named, bold=True) for word in words) + size * 0.5
    names = max(frame.room * 0.3, min(longest, frame.room * 0.4))
    wide = (frame.room - names) / len(table.columns)
    apart = size * 0.6
    heads = [lines_of(t, wide - apart, named, bold=True) for t in table.columns]
    starts = [frame.left + names + n * wide for n in range(len(heads))]
    for x, lines in zip(starts, heads, strict=True):
        for number, line in enumerate(lines):
            y = top + number * named * LEADING + named
            frame.sheet.text(x, y, line, frame.style(named, bold=True))
    top += max(map(len, heads)) * named * LEADING + size * 0.2
    for number, (film, cells) in enumerate(table.rows):
        name = lines_of(film, names - size * 0.4, named, bold=True)
        told = [_cell_lines(cell, wide - apart, small) for cell in cells]
        mark = min(wide - apart, size * 2.2)
        marked = any(cell and cell.mark for cell in cells)
        tall = mark * HIGH / WIDE * marked
        high = max(
            len(name) * named * LEADING,
            tall + max(map(len, told)) * small * LEADING,
        )
        left = len(table.rows) - number
        if top + size * 0.48 + high + (size * 1.6 if left > 1 else 0) > foot:
            if number:
                rest = f"and {left} more film{'s' * (left > 1)}"
                frame.sheet.text(frame.left, top + size, rest, frame.style(size))
            return top + step, left
        frame.rule(top)
        top += size * 0.24
        for n, line in enumerate(name):
            y = top + n * named * LEADING + named
            frame.sheet.text(frame.left, y, line, frame.style(named, bold=True))
        for x, cell, lines in zip(starts, cells, told, strict=True):
            if cell is None:
                continue
            if cell.mark is not None:
                frame.sheet.strand((x, top), mark, cell.mark, frame.look)
            for n, line in enumerate(lines):
                y = top + tall + n * small * LEADING + small
                frame.sheet.text(x, y, line, frame.style(small))
        top += high + size * 0.24
    return top, 0


def _cell_lines(cell: Cell | None, room: float, small: float) -> list[str]:
    parts = cell.word.split("\n") if cell else []
    return [line for part in parts for line in lines_of(part, room, small)]
