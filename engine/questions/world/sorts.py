"""Sorts of wash: told apart by what follows of a wash, and not by how it is sold.

A sort is data: it names the predicate by which a wash is of it, and the one by which a
wash is not. Where neither follows, it is open.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base


class Sort(NamedTuple):
    """A sort of wash.

    Args:
        symbol: the sort, as the base calls it.
        shown_by: the predicate by which a wash is of it.
        ruled_out_by: the predicate by which it is not.
    """

    symbol: str
    shown_by: str
    ruled_out_by: str


def sort_called(name: str, base: Base, used: Collection[str]) -> Sort | None:
    """The sort that a name means.

    Args:
        name: the name, in the singular or plural.
        base: what is known.
        used: the predicates of the rules; a sort whose predicates are not among them
            is none that can be told.
    """
    for kind in base.terms(Role.WASH_SORT):
        found = base.find_value(name, kind)
        if found is not None:
            return _sort(found, base, used)
    return None


def every_sort(base: Base, used: Collection[str]) -> list[Sort]:
    """Every sort of wash that the rules can tell."""
    symbols = (s for kind in base.terms(Role.WASH_SORT) for s in base.instances(kind))
    found = (_sort(symbol, base, used) for symbol in sorted(symbols))
    return [sort for sort in found if sort is not None]


def _sort(symbol: str, base: Base, used: Collection[str]) -> Sort | None:
    record = base.record(symbol)
    shown, ruled_out = record.text("sortShownBy"), record.text("sortRuledOutBy")
    if not shown or not ruled_out or not {shown, ruled_out} <= {*used}:
        return None
    return Sort(symbol, shown, ruled_out)
