"""Which of two washes does more to one film, by all that the labels and the base tell.

That is looked for in this order: what each surely takes and can take at the most, the
order of strength on the family of the film, and what works only where there is enough
of it, by its place on the label. They are alike only where none of these parts them.
"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from abluent.engine.base.contract import STRONGER_ON
from abluent.engine.base.roles import EFFECTS
from abluent.engine.questions.answers.account import Helper, helpers
from abluent.engine.questions.answers.verdicts import ENDS, Verdict


class By(Enum):
    """By what one of two washes is told to do more."""

    SHOWN = "shown"
    """What the one takes at least is more than the other takes at most."""
    LEAST = "least"
    """The one is known to take some, the other not."""
    MOST = "most"
    """The one can take more at the most."""
    ORDER = "order"
    """The trade sets the one above the other on such films."""
    PLACE = "place"
    """What works where there is enough of it stands higher on the one label."""
    NOTHING = "nothing"
    """Nothing parts them."""


class Better(NamedTuple):
    """How two verdicts on one film stand to each other.

    Args:
        more: the verdict on the wash that does more; the first where nothing does.
        less: the other.
        by: by what.
    """

    more: Verdict
    less: Verdict
    by: By


def better(one: Verdict, other: Verdict) -> Better:
    """Which of two verdicts on one film, of one case, tells of more.

    Where the one is known to take more at the least and the other to take more at the
    most, what is known of the least decides.
    """
    for more, less in ((one, other), (other, one)):
        (low, high), (low_of, high_of) = reach(more), reach(less)
        if low > high_of:
            return Better(more, less, By.SHOWN)
        if low > low_of:
            return Better(more, less, By.LEAST)
        if low == low_of and high > high_of:
            return Better(more, less, By.MOST)
    for more, less in ((one, other), (other, one)):
        if _set_above(more, less):
            return Better(more, less, By.ORDER)
    if _standing_of(one) != _standing_of(other):
        first = _standing_of(one) > _standing_of(other)
        return Better(*((one, other) if first else (other, one)), By.PLACE)
    return Better(one, other, By.NOTHING)


def reach(row: Verdict) -> tuple[int, int]:
    """How far a film goes by a verdict, at least and at most, by rank."""
    low, high = ENDS[row.role]
    return EFFECTS.index(low), EFFECTS.index(high)


def _set_above(more: Verdict, less: Verdict) -> bool:
    """Whether the order of strength on the family of a film sets one wash above."""
    case, base = more.case, more.case.world.base
    if STRONGER_ON not in case.world.known.program.arities:
        return False
    kinds = base.classes_of(more.film) if more.film in base else ()
    above = {up for kind in kinds for up in (kind, *base.ancestors(kind))}
    pair = more.goal[1][0], less.goal[1][0]
    back = pair[::-1]
    match = case.model.match
    mine = {str(family) for *_, family in match(STRONGER_ON, (*pair, None))}
    other = {str(family) for *_, family in match(STRONGER_ON, (*back, None))}
    return bool(mine & above) and not other & above


def _standing_of(row: Verdict) -> tuple[bool, bool]:
    """Whether what helps stands high on the label, and whether anything does."""
    found: list[Helper] = helpers(row)
    return any(not each.late for each in found), bool(found)
