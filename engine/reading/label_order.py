"""What the places of a label do not say: where order proves nothing, what is counted.

A list descends, and all of it makes the whole, but for what stands in it otherwise. A
blend stands where its total belongs, so its members prove no order. An item in the
parentheses of another may be part of what that item counts; so may an allergen of the
perfume. Colorants that end a list may stand there in any order, whatever their level.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from abluent.engine.base import contract as c
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.proof.origins import LabelOrigin
from abluent.engine.reading.readings import Reading
from abluent.grammar.label.tree import Item, Label

PLACED = frozenset(
    {
        *(c.LINE, c.MAY_CONTAIN, c.UNREAD_LINE, c.STATED, c.STATED_AT_MOST),
        *(c.IN_BLEND, c.OUT_OF_ORDER, c.WITHIN_ANOTHER),
    }
)
"""The predicates whose second term is a place of a label."""


def lines(facts: Iterable[Fact]) -> Iterator[tuple[int, str]]:
    """The places that read as an ingredient, with the ingredient."""
    for fact in facts:
        if fact.predicate == c.LINE and isinstance(fact.args[1], int):
            yield fact.args[1], str(fact.args[2])


def places(facts: Iterable[Fact]) -> list[int]:
    """Every place that something is said of, in order."""
    found = {fact.args[1] for fact in facts if fact.predicate in PLACED}
    return sorted(place for place in found if isinstance(place, int))


def renumbered(facts: Iterable[Fact], numbers: Mapping[int, int]) -> list[Fact]:
    """The facts of a label with its places numbered otherwise.

    What is said of a place that gets no number is left out.
    """
    made = []
    for fact in facts:
        if fact.predicate not in PLACED:
            made.append(fact)
        elif isinstance(fact.args[1], int) and fact.args[1] in numbers:
            product, _, *rest = fact.args
            made.append(fact._replace(args=(product, numbers[fact.args[1]], *rest)))
    return made


def order_facts(
    product: str, label: Label, readings: Sequence[Reading], base: Base
) -> Iterator[Fact]:
    """The places that prove no order, and those that another place may count.

    `outOfOrder(product, place)` and `withinAnother(product, place)`. A list without
    any order at all has a fact of its own and none of the first kind, and that a name
    was printed before shows by itself.
    """
    last = _before_any_order(readings, base)
    inside = base.terms(Role.INSIDE_OTHERS)
    pairs = zip(label.items, readings, strict=True)
    for number, (item, reading) in enumerate(pairs):
        told = []
        if not label.unordered and not (number < last and _in_list(item)):
            told.append(c.OUT_OF_ORDER)
        if _may_be_inside(item, reading, inside):
            told.append(c.WITHIN_ANOTHER)
        for predicate in told:
            basis = Basis(origin=str(LabelOrigin(product, *item.span)))
            yield Fact(predicate, (product, item.place), basis)


def _in_list(item: Item) -> bool:
    """Whether it stands in the running order of the list for itself."""
    listed = item.section in {"list", "inactive"}
    return listed and item.blend is None and item.within is None


def _may_be_inside(item: Item, reading: Reading, kinds: Sequence[str]) -> bool:
    """Whether its level may be part of that of another item."""
    nested = item.within is not None or item.section == "allergens"
    return nested or _is_any(reading, kinds)


def _before_any_order(readings: Sequence[Reading], base: Base) -> int:
    """How many items stand before those that may end a list in any order, if any do."""
    loose, fixed = base.terms(Role.ANY_ORDER_LAST), base.terms(Role.NOT_ANY_ORDER)
    count = len(readings)
    while count and _is_any(readings[count - 1], loose):
        if _is_any(readings[count - 1], fixed):
            break
        count -= 1
    return count


def _is_any(reading: Reading, kinds: Sequence[str]) -> bool:
    return any(kind in reading.classes for kind in kinds)
