"""At which level of an ingredient the balance of charges is settled.

If one level of a label were known, how much would it have to be for anionic surfactant
to be in excess of cationic whatever else the label means, or not to be? The greatest
level at which the excess can still be nought or less is the optimum of a small linear
program, as the bounds of a level are: the rows of the label, and one more for the
excess. Above it anionic is in excess for certain. The other break points are found the
same way, from the least level and from what can still lie above nought.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.amounts._proofs import Certificate, prove
from abluent.engine.amounts._rows import Row
from abluent.engine.amounts.bounded import Form
from abluent.engine.amounts.charge_balance import excess_sought
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.amounts.levels import Levels
from abluent.engine.logic.facts import Basis


class BreakPoint(NamedTuple):
    """A level beyond which the balance of charges is settled.

    Args:
        place: the number of the ingredient on the label.
        symbol: the ingredient.
        level: the level, in per cent by weight.
        above: whether it is settled above the level, or below it.
        at_level: whether it is settled at exactly the level too.
        excess: whether anionic is in excess then, or is not.
        beyond: a level on that side which the label allows.
    """

    place: int
    symbol: str
    level: Fraction
    above: bool
    at_level: bool
    excess: bool
    beyond: Fraction


def break_points(label: LabelFacts, *, practice: bool = False) -> list[BreakPoint]:
    """Every break point of the ionic surfactants of a label.

    There is none where the balance is settled whatever the level, or never, or where
    the label contradicts itself or the law.

    Args:
        label: the label.
        practice: whether to take what the trade usually puts in to hold.
    """
    found, sought = label.levels(practice=practice), excess_sought(label)
    if found.set_aside:
        return []
    return [
        point
        for excess, form in ((True, sought.least), (False, sought.most))
        if form
        for at in form
        for above in (True, False)
        for point in _point(found, form, at, above, excess)
    ]


def _point(
    found: Levels, form: Form, at: int, above: bool, excess: bool
) -> Iterator[BreakPoint]:
    """Where the level of one item settles that the excess is, or is not, above nought.

    The level is pushed as far as the contrary remains possible; the balance is settled
    beyond that, if the label allows any more.
    """
    sign = 1 if above else -1
    pushed = {at: Fraction(sign)}
    contrary = _contrary(found, form, excess)
    far = prove(found.items, found.rule, [*found.rows, contrary], pushed)
    end = prove(found.items, found.rule, found.rows, pushed)
    if far.bound is None or end.bound is None or _reach(far) >= _reach(end):
        return
    item = found.items[at]
    level = sign * far.bound
    beyond = sign * (far.bound + end.bound) / 2
    yield BreakPoint(
        item.place, str(item.symbol), level, above, far.approached, excess, beyond
    )


def _reach(proof: Certificate) -> tuple[Fraction, bool]:
    """How far a level can be pushed; reaching a value is more than coming near it."""
    assert proof.bound is not None, "the rows do not contradict"
    return proof.bound, not proof.approached


def _contrary(found: Levels, form: Form, excess: bool) -> Row:
    """That the excess is nought or less, or that it is above nought."""
    sign = 1 if excess else -1
    terms = {at: sign * each for at, each in form.items()}
    lines = sum(item.chained for item in found.items)
    return Row("contrary", terms, Fraction(0), not excess, 0, lines, Basis())
