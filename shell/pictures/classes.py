"""Classes of ingredients as a tree, with how many ingredients each holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from abluent.engine.base.store import Base
from abluent.shell.pictures.sheet import INK, RULE, SOFT, WASH, Sheet, Style
from abluent.shell.pictures.text import LEADING, lines_of

MOST = 60
"""Classes that one picture shows; of more, the lowest levels are left out."""
_TEXT, _SMALL, _STEP, _MARGIN, _INDENT = 20.0, 16.0, 34.0, 40.0, 30.0
_WIDE, _BARS, _COUNT = 1200.0, 780.0, 60.0


@dataclass(frozen=True)
class _Branch:
    """A class in the tree; `hidden` counts the classes below it that are not shown."""

    symbol: str
    depth: int
    hidden: int = 0


def class_tree(base: Base, top: str, day: str) -> Sheet:
    """Return the classes below one, and how many ingredients each holds.

    Args:
        base: the base.
        top: the symbol of a class.
        day: the day to print, as `2026-01-31`.
    """
    below = _below(base)
    branches = _branches(below, top)
    counts = {each.symbol: _count(base, each.symbol) for each in branches}
    high = _MARGIN * 2 + 60 + len(branches) * _STEP + 2 * _SMALL * LEADING
    told = "; ".join(f"{base.label(s)}: {count}" for s, count in counts.items())
    title = (
        f"Kinds of {base.label(top)}, and how many ingredients this base has of each"
    )
    sheet = Sheet(_WIDE, high, title, told)
    start = sheet.paragraph(
        _MARGIN, _MARGIN, _WIDE - 2 * _MARGIN, title, Style(26, bold=True), most=1
    )
    _elbows(sheet, branches, start + 10)
    for number, branch in enumerate(branches):
        y = start + 10 + number * _STEP
        _branch(sheet, base, branch, y, (counts[branch.symbol], counts[top]))
    note = (
        "An ingredient counts in every class that holds it. "
        f"Abluent, {day}, from what its base lists."
    )
    sheet.text(_MARGIN, high - _MARGIN, note, Style(_SMALL, fill=SOFT))
    return sheet


def _below(base: Base) -> Mapping[str, Sequence[str]]:
    below: dict[str, list[str]] = {}
    for fact in base.facts_about(base.symbols, {"subclass"}):
        below.setdefault(str(fact.args[1]), []).append(str(fact.args[0]))
    return {up: sorted(kinds, key=base.label) for up, kinds in below.items()}


def _count(base: Base, symbol: str) -> int:
    """Return how many ingredients are listed in a class or in one below it."""
    listed = base.instances(symbol)
    return sum(1 for each in listed if base.record(each).space == "ing")


def _branches(below: Mapping[str, Sequence[str]], top: str) -> list[_Branch]:
    """Return as many whole levels of the tree as fit, each class once."""
    deepest = 1
    shown = _to_depth(below, top, deepest)
    while True:
        more = _to_depth(below, top, deepest + 1)
        if len(more) == len(shown) or len(more) > MOST:
            return shown
        shown, deepest = more, deepest + 1


def _to_depth(
    below: Mapping[str, Sequence[str]], top: str, deepest: int
) -> list[_Branch]:
    found: list[_Branch] = []
    seen: set[str] = set()
    waiting = [(top, 0)]
    while waiting:
        symbol, depth = waiting.pop()
        if symbol in seen:
            continue
        seen.add(symbol)
        kinds = below.get(symbol, ())
        cut = depth == deepest
        found.append(_Branch(symbol, depth, len(kinds) if cut else 0))
        waiting += [] if cut else [(kind, depth + 1) for kind in reversed(kinds)]
    return found


def _elbows(sheet: Sheet, branches: Sequence[_Branch], top: float) -> None:
    last: dict[int, int] = {}
    for number, branch in enumerate(branches):
        last[branch.depth] = number
        if branch.depth:
            x = _MARGIN + (branch.depth - 1) * _INDENT + 8
            y = top + number * _STEP + _STEP * 0.45
            above = top + last[branch.depth - 1] * _STEP + _STEP * 0.8
            sheet.line([(x, above), (x, y), (x + _INDENT - 12, y)])


def _branch(
    sheet: Sheet, base: Base, branch: _Branch, y: float, counts: tuple[int, int]
) -> None:
    count, most = counts
    x = _MARGIN + branch.depth * _INDENT
    kinds = "kind" if branch.hidden == 1 else "kinds"
    more = f" (and {branch.hidden} {kinds} below)" if branch.hidden else ""
    room = _BARS - x - 10
    bold = branch.depth == 0
    text = lines_of(
        f"{base.label(branch.symbol)}{more}", room, _TEXT, bold=bold, most=1
    )[0]
    sheet.text(x, y + _TEXT, text, Style(_TEXT, bold=bold))
    space = _WIDE - _MARGIN - _BARS - _COUNT
    long = space * count / max(1, most)
    sheet.box(_BARS, y + 5, max(1.0, long), _STEP - 12, fill=WASH, stroke=INK)
    sheet.line([(_BARS, y), (_BARS, y + _STEP)], stroke=RULE)
    sheet.text(_BARS + long + 8, y + _TEXT, str(count), Style(_TEXT))
