"""What a picture says of how much there is of all on a label: what its order tells."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import Member, Row
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Group
from abluent.shell.told.spoken_names import aloud, spoken_alone
from abluent.shell.told.told import Told

_FEW = 3
_LEAST = 6
"""Of fewer names than so many the order is not told as a whole."""


def by_order(told: Told, asking: Asking, rows: Sequence[Row]) -> Told | None:
    """Return what falls by its order and what may stand in any; None if it is less."""
    world = asking.world
    if world is None or len(asking.products) != 1 or len(rows) < _LEAST:
        return None
    if not all(isinstance(row, Member) for row in rows):
        return None
    (product,) = asking.products
    practice = world.amounts.practice
    levels = world.amounts.stated(product).levels(practice=practice)
    readings = world.read(product).readings
    printed = any(item.stated is not None for item in levels.items)
    if printed or len([*levels]) != len(readings) or 2 * len(rows) < len(readings):
        return None
    names = [
        spoken_alone(aloud(world.base, r.symbol)) if r.symbol else r.printed
        for r in readings
    ]
    limit = levels.rule.threshold
    sure = [level.low >= limit for level in levels]
    little = [level.high <= limit for level in levels]
    first = sure.index(False) if False in sure else len(sure)
    last = little.index(True) if True in little else len(little)
    numbered = [f"{n} {name}" for n, name in enumerate(names, 1)]
    groups = [
        Group(None, word, tuple(mine), len(mine))
        for word, mine in (
            ("Surely by amount, most first", numbered[:first]),
            (f"By amount, or already {limit} % or less", numbered[first:last]),
            (f"Each {limit} % or less, in any order", numbered[max(first, last) :]),
        )
        if mine
    ]
    # Where there is little room, what stands in any order is told by its places.
    briefly = [
        g._replace(names=(_in_brief(g.names, whole=g is not groups[-1]),))
        for g in groups
    ]
    claim = f"{product} is listed by amount down to about {limit} %."
    note = f"No label marks where its {limit} % begins, and amounts stand on none."
    return told._replace(
        claim=claim, groups=tuple(groups), else_groups=tuple(briefly), note=note
    )


def _in_brief(names: Sequence[str], *, whole: bool) -> str:
    """Some numbered names from the first to the last; else their places alone."""
    if len(names) <= _FEW + 1:
        return ", ".join(names)
    if whole:
        return f"{', '.join(names[:_FEW])} and so on to {names[-1]}"
    return f"{names[0]} to {names[-1]}"
