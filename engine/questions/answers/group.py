"""Verdicts of a list parted by their reasons: each reason bounds all it is told of.

What is judged alike need not be so for the same reason. A list is parted into the
fewest groups that a greedy search finds, the largest first; a reason that is carried
over from other agents or films is used only where nothing plainer bounds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from abluent.engine.questions.answers.because import (
    Because,
    reasons_of,
    shape,
    telling_end,
    words,
)
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.alone import agent_of


class Group(NamedTuple):
    """Verdicts with one reason.

    Args:
        because: the reason; None where nothing is known that bounds them.
        rows: the verdicts.
    """

    because: Because | None
    rows: tuple[Verdict, ...]

    @property
    def words(self) -> str:
        """The reason in a sentence; empty where there is none."""
        return words(self.because, self.rows) if self.because else ""


def parted(rows: Sequence[Verdict], *, upper: bool | None = None) -> list[Group]:
    """Verdicts by their reasons, the largest group first, those with none last.

    Args:
        rows: the verdicts.
        upper: whether it is told why not more goes, or why as much; if not given,
            whichever of the two each verdict tells.

    Where very many washes of a shelf were asked about, no reason is looked for: each
    of their labels would have to be read with its grounds. `why` tells that of one.
    """
    if any(row.case.at_a_glance and not _alone(row) for row in rows):
        return [Group(None, tuple(rows))]
    alike: dict[tuple[object, ...], list[Verdict]] = {}
    for row in rows:
        alike.setdefault(shape(row), []).append(row)
    reasons = {
        key: reasons_of(mine[0], upper=telling_end(mine[0]) if upper is None else upper)
        for key, mine in alike.items()
    }
    left, found = dict(alike), list[Group]()
    for carried in (False, True):
        while best := _best(left, reasons, carried):
            keys = [key for key in left if best in reasons[key]]
            found.append(Group(best, _of(left.pop(key) for key in keys)))
    found.sort(key=lambda group: -len(group.rows))
    return [*found, Group(None, _of(left.values()))] if left else found


def deciding_claim(rows: Sequence[Verdict], *, upper: bool | None = None) -> str:
    """The reason of most of some verdicts, as a sentence; empty if nothing bounds them.

    Args:
        rows: the verdicts.
        upper: whether what bounds them from above is meant, or from below; if not
            given, the end that says how much goes.
    """
    return parted(rows, upper=upper)[0].words if rows else ""


def _alone(row: Verdict) -> bool:
    """Whether a wash is made of one ingredient, so that its label is short."""
    return bool(agent_of(row.case.world, row.wash))


def _best(
    left: dict[tuple[object, ...], list[Verdict]],
    reasons: dict[tuple[object, ...], tuple[Because, ...]],
    carried: bool,
) -> Because | None:
    """The reason that bounds most of what is left; of a tie the one told first."""
    worth: dict[Because, tuple[int, int]] = {}
    for key, mine in left.items():
        for place, each in enumerate(reasons[key]):
            if bool(each.carried) is carried:
                many, first = worth.get(each, (0, 0))
                worth[each] = (many + len(mine), first - place)
    return max(worth, key=lambda each: worth[each], default=None)


def _of(some: Iterable[Sequence[Verdict]]) -> tuple[Verdict, ...]:
    return tuple(row for rows in some for row in rows)
