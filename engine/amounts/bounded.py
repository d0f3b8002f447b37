"""Facts that give a quantity of a label as an interval, with the proof of each end.

What follows from law alone stands higher than what follows from law and custom, and
may say less. So one quantity has several such facts, each from all that stands high
enough, and a rule that needs little rests on the one that stands highest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias, TypeVar

from abluent.engine.amounts._proofs import Certificate, prove
from abluent.engine.amounts._rows import Row
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.amounts.levels import Levels
from abluent.engine.base import contract as c
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Number, Quantity, Term, interval
from abluent.engine.proof.origins import LEVELS

Form: TypeAlias = Mapping[int, Fraction]
"""A linear form of the levels: the coefficient of each item that counts."""

End: TypeAlias = tuple[Number | None, bool]
"""An end of an interval, and whether it is open."""
Found = TypeVar("Found")


class Sought(NamedTuple):
    """A quantity that is sought.

    Args:
        predicate: the predicate of the facts that give it.
        args: their terms but for the last, which is the interval.
        least, most: forms of which it is at least and at most the value; `None`
            where nothing is known on that side.
        bases: what the coefficients rest on.
    """

    predicate: str
    args: tuple[str | int, ...]
    least: Form | None
    most: Form | None
    bases: tuple[Basis, ...] = ()


class Bounded(NamedTuple):
    """A fact that gives a quantity as an interval.

    Args:
        fact: the fact; the interval is its last term.
        label: the label that it is about.
        levels: what was taken to hold of the levels.
        low, high: the proofs of its ends; that of the low end is of minus the form.
            `None` at an end without bound.
    """

    fact: Fact
    label: LabelFacts
    levels: Levels
    low: Certificate | None
    high: Certificate | None

    @property
    def quantity(self) -> Quantity:
        """The interval."""
        term = self.fact.args[-1]
        assert not isinstance(term, str), "the last term is the interval"
        return term


Make: TypeAlias = Callable[[LabelFacts, Levels, str, Sought], Found | None]
"""What makes something of a quantity from all that stands as high as a standing."""


def bounds_of(
    label: LabelFacts,
    sought: Sequence[Sought],
    *,
    practice: bool,
    enough: Callable[[Bounded], bool] = lambda bounded: False,
) -> list[Bounded]:
    """Every interval that says more than those which stand higher.

    Args:
        label: the label.
        sought: the quantities.
        practice: whether to use what the trade usually puts in as well.
        enough: whether an interval by law leaves custom nothing to say.
    """
    return list(_told_once(_gathered(label, sought, practice, _bounded, enough)))


def quantities_of(
    label: LabelFacts,
    sought: Sequence[Sought],
    *,
    practice: bool,
    enough: Callable[[Quantity], bool] = lambda quantity: False,
) -> list[tuple[Term, ...]]:
    """The terms of the facts that `bounds_of` gives, without their proofs."""

    def terms(
        _: LabelFacts, levels: Levels, standing: str, one: Sought
    ) -> tuple[Term, ...] | None:
        ground = levels.ground_at_least(standing)

        def end(form: Form | None, sign: int) -> End:
            found = None if form is None else ground.greatest(_turned(form, sign))
            return (None, True) if found is None else (sign * found[0], found[1])

        between = _between(end(one.least, -1), end(one.most, 1))
        return None if between is None else (*one.args, between)

    def told(found: tuple[Term, ...]) -> bool:
        last = found[-1]
        return not isinstance(last, str) and enough(last)

    return list(dict.fromkeys(_gathered(label, sought, practice, terms, told)))


def _gathered(
    label: LabelFacts,
    sought: Sequence[Sought],
    practice: bool,
    make: Make[Found],
    enough: Callable[[Found], bool],
) -> list[Found]:
    """What is found by law, and by custom as well where that is not enough."""
    if not sought:
        return []
    lawful = label.levels()
    found = [each for one in sought for each in _graded(label, lawful, one, (), make)]
    if practice and not any(map(enough, found)):
        usual, rows = label.levels(practice=True), lawful.rows
        found += [
            each for one in sought for each in _graded(label, usual, one, rows, make)
        ]
    return found


def level_bounds(
    label: LabelFacts, symbols: Iterable[str], *, practice: bool
) -> list[Bounded]:
    """`level(product, place, per cent by weight)` wherever some ingredients stand."""
    asked = set(symbols)
    sought = [
        Sought(c.LEVEL, (label.product, item.place), form, form)
        for at, item in enumerate(label.items)
        if item.symbol in asked and item.certain
        for form in [{at: Fraction(1)}]
    ]
    return bounds_of(label, sought, practice=practice)


def _told_once(found: Iterable[Bounded]) -> Iterator[Bounded]:
    known: set[tuple[Term, ...]] = set()
    for bounded in found:
        if bounded.fact.args not in known:
            known.add(bounded.fact.args)
            yield bounded


def _graded(
    label: LabelFacts,
    levels: Levels,
    sought: Sought,
    told: Sequence[Row],
    make: Make[Found],
) -> Iterator[Found]:
    """The intervals from what stands highest, then from that and what stands lower.

    Rows that have been used already, those of the law, are not used alone again.
    """
    scale, old = levels.standings, {row.name for row in told}
    new = {row.basis.standing for row in levels.rows if row.name not in old}
    needed = scale.index(levels.rule.basis.standing)
    first = min(map(scale.index, new), default=len(scale))
    present = {row.basis.standing for row in levels.rows}
    for at, standing in enumerate(scale):
        if at >= max(needed, first) and standing in present:
            found = make(label, levels, standing, sought)
            if found is not None:
                yield found


def _bounded(
    label: LabelFacts, levels: Levels, standing: str, sought: Sought
) -> Bounded | None:
    rows = levels.rows_at_least(standing)

    def extreme(form: Form | None, sign: int) -> Certificate | None:
        if form is None:
            return None
        return prove(levels.items, levels.rule, rows, _turned(form, sign))

    low, high = extreme(sought.least, -1), extreme(sought.most, 1)
    between = _between(_end(low, -1), _end(high, 1))
    if between is None:
        return None
    basis = _basis(levels, [each for each in (low, high) if each], sought.bases)
    fact = Fact(sought.predicate, (*sought.args, between), basis)
    return Bounded(fact, label, levels, low, high)


def _turned(form: Form, sign: int) -> Form:
    return {at: sign * each for at, each in form.items()}


def _between(low: End, high: End) -> Quantity | None:
    """The interval between two ends; nothing if it says nothing."""
    if low[0] is None and high[0] is None:
        return None
    return interval(low[0], high[0], low[1], high[1])


def _end(proof: Certificate | None, sign: int) -> End:
    if proof is None:
        return None, True
    assert proof.bound is not None, "the rows do not contradict"
    return sign * proof.bound, proof.approached


def _basis(
    levels: Levels, proofs: Iterable[Certificate], more: tuple[Basis, ...]
) -> Basis:
    """The weakest standing of all that both proofs use, and every source."""
    bases = [row.basis for proof in proofs for row in proof.used] + list(more)
    rank: Callable[[str], int] = levels.standings.index
    weakest = max((rank(each.standing) for each in bases), default=0)
    return Basis(
        levels.standings[weakest],
        tuple(dict.fromkeys(source for each in bases for source in each.sources)),
        any(each.from_memory for each in bases),
        LEVELS,
    )
