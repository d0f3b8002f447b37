"""What steps are expected to cost, in microseconds on an ordinary machine.

The figures only have to rank plans of one rule against each other. Sizes come from
the relations and from how many terms a sort has; what is in them is looked at only
where that was far from what came of it (`counted_fan`).
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.logic._relation import Relation
from abluent.engine.logic.symbols import Symbols

# Plans cheaper than this are not worth comparing with others.
CHEAP = 1000.0
# Masks that would need more bytes than this are not made.
MOST_BYTES = 1 << 28

_PER_BINDING = 0.1
_PER_RESULT = 0.15
_PER_MASK_BIT = 0.2
_PER_OPERATION = 0.1
_PER_BYTE = 0.00006


def room(columns: Sequence[Symbols]) -> float:
    """How many combinations of terms some columns could hold."""
    found = 1.0
    for each in columns:
        found *= len(each.terms) or 1
    return found


def fan(
    relation: Relation,
    columns: Sequence[Symbols],
    keys: Sequence[int],
    payload: Sequence[int],
) -> float:
    """How many rows, cut to `payload`, agree with one binding of `keys`."""
    known = room([columns[each] for each in keys])
    wide = known * room([columns[each] for each in payload])
    size = len(relation)
    return (size if size < wide else wide) / known


def counted_fan(
    relation: Relation, keys: Sequence[int], payload: Sequence[int]
) -> float:
    """How many rows, cut to `payload`, agree with one binding that some agree with."""
    wanted = tuple(dict.fromkeys((*keys, *payload)))
    whole = len(wanted) >= relation.arity
    rows = len(relation) if whole else len(relation.part(wanted))
    found = len(relation.part(tuple(keys))) if keys else 1
    return rows / (found or 1)


def join_cost(batch: float, results: float) -> float:
    """A step that looks up every binding and makes some results."""
    return batch * _PER_BINDING + results * _PER_RESULT


def output_cost(results: float, rows: bool) -> float:
    """Adding results to a relation that is kept as rows, or else as bits."""
    return results * (_PER_RESULT if rows else _PER_RESULT + _PER_MASK_BIT * 2)


def sweep_cost(batch: float, lookups: int, width: int) -> float:
    """A sweep of masks of a sort of `width` terms over a batch."""
    return batch * (lookups + 1) * (_PER_OPERATION + width / 8 * _PER_BYTE)


def mask_cost(relation: Relation) -> float:
    """Making the masks of a relation that is kept as rows."""
    return len(relation) * _PER_MASK_BIT


def mask_bytes(groups: float, width: int) -> float:
    """The memory for the masks of some groups in a sort of `width` terms."""
    return groups * width / 8
