"""What follows from a kind, and what the register of names says of its use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.deriving.names import NAMES
from abluent.engine.reading.inventory import Inventory


def trait(base: Base, kinds: Iterable[str], name: str) -> tuple[str, str] | None:
    """A trait that members of some kinds have, and the kind that brings it.

    Args:
        base: where it stands what a kind brings.
        kinds: the kinds of a thing; the narrowest that brings the trait counts.
        name: the property of the kind, such as `memberCharge`.
    """
    above = {up for kind in kinds for up in base.ancestors(kind)}
    bringing = [k for k in above if k in base and base.record(k).link(name)]
    bringing.sort(key=lambda kind: (-len(base.ancestors(kind)), kind))
    values = {base.record(kind).link(name) for kind in bringing[:1]}
    return next(((value, bringing[0]) for value in values if value), None)


def uses(record: Record, base: Base) -> Iterator[str]:
    """The kinds of an ingredient that the register bears out by its functions."""
    functions = {each.casefold() for each in _functions(record)}
    for kind in record.links("type"):
        listed = base.record(kind).texts("officialFunction") if kind in base else []
        if not functions.isdisjoint(listed):
            yield kind


def _functions(record: Record) -> Iterator[str]:
    inventory = Inventory.shipped()
    for name in dict.fromkeys(n for kind in NAMES for n in record.texts(kind)):
        entry = inventory.find(name)
        if entry is not None:
            yield from entry.functions
