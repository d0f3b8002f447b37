"""Plans beside each other, and beside what is washed with now, as a small table."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.overview import TROUBLE, called
from abluent.engine.routines.plan_model import is_milder
from abluent.engine.routines.plan_outcome import Beside, PlannedWithReasons
from abluent.engine.routines.wishes import Kept
from abluent.grammar.routine.printer import print_want

_LABEL, _GAP, _WIDEST = 22, 2, 34


class Column(NamedTuple):
    """One plan of a table."""

    head: str
    plan: Beside


def columns(found: PlannedWithReasons) -> list[Column]:
    """What stands beside each other: what is done now, the plan, and one other."""
    heads = ["this plan", "another plan"]
    plans = [Column(h, b) for h, b in zip(heads, found.beside, strict=False)]
    now = found.now
    if now is None or (now.chosen == found.beside[0].chosen and found.swap is None):
        return plans
    return [Column("now", now), *plans]


def rows(
    found: PlannedWithReasons, shown: Sequence[Column], world: World
) -> Iterator[tuple[str, list[str]]]:
    """What is compared, and what is so of each column."""

    def row(label: str, of: Callable[[Beside], str]) -> tuple[str, list[str]]:
        return label, [of(each.plan) for each in shown]

    yield row("washes", _washes)
    yield row("strong washes", lambda each: str(each.worth.strong))
    yield row("different washes", lambda each: str(each.worth.different))
    if found.now is not None:
        yield row("changed from now", lambda each: str(each.worth.changed or "none"))
    first = found.beside[0]
    yield row("to skin", lambda each: _to_skin(found, first, each))
    yield row("builds up, or may", lambda each: _trouble(each, world))
    for number, want in enumerate(found.planned.routine.wants):
        cells = [_kept(each.plan.kept[number]) for each in shown]
        yield print_want(want), cells


def _kept(found: Kept) -> str:
    if not found.kept:
        return "not"
    return "in part at least" if found.in_part else "kept"


def _washes(plan: Beside) -> str:
    counts = [f"{n} x {w}" if n > 1 else w for w, n in plan.counts.most_common()]
    return listed(counts)


def _to_skin(found: PlannedWithReasons, first: Beside, each: Beside) -> str:
    if each is first:
        return "-"
    problem = found.planned.problem
    known = {*problem.washes}
    if not known >= {*first.chosen, *each.chosen}:
        return "not compared"
    if is_milder(problem, first.chosen, each.chosen):
        return "harsher than this plan"
    if is_milder(problem, each.chosen, first.chosen):
        return "milder than this plan"
    return "the same" if each.counts == first.counts else "not compared"


def _trouble(plan: Beside, world: World) -> str:
    found = plan.overview.of(*TROUBLE)
    return listed([called(world.base, each.kind) for each in found]) or "nothing"


def side_by_side(found: PlannedWithReasons, world: World, width: int) -> list[str]:
    """The lines of the table; none where there is nothing to compare."""
    shown = columns(found) if found.beside else []
    if len(shown) < 2:
        return []
    room = (width - _LABEL) // len(shown) - _GAP
    room = max(12, min(room, _WIDEST))
    lines = ["Side by side:"]
    lines += _line("", [each.head for each in shown], room)
    for label, cells in rows(found, shown, world):
        lines += _line(label, cells, room)
    return lines


def _line(label: str, cells: Sequence[str], room: int) -> list[str]:
    parts = [textwrap.wrap(label, _LABEL - 2) or [""]]
    parts += [
        textwrap.wrap(cell, room, break_on_hyphens=False) or [""] for cell in cells
    ]
    widths = [_LABEL - 2, *(room for _ in cells)]
    high = max(map(len, parts))
    found = []
    for n in range(high):
        texts = [part[n] if n < len(part) else "" for part in parts]
        padded = (t.ljust(w) for t, w in zip(texts, widths, strict=True))
        found.append(f"  {(' ' * _GAP).join(padded)}".rstrip())
    return found
