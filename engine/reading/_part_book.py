"""The parts and shapes of names that a base holds, for the reader of names."""

from __future__ import annotations

from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.grammar.name.tree import Part, PartBook, Shape

_USUAL_PRECEDENCE = 5


def part_book(base: Base) -> PartBook:
    """Every part, shape and group of a base."""
    groups = [base.record(symbol) for symbol in base.instances("NameGroup")]
    return PartBook(
        tuple(_part(base.record(symbol)) for symbol in base.instances("NamePart")),
        tuple(_shape(base.record(symbol)) for symbol in base.instances("NameShape")),
        {g.text("groupName") or "": g.text("pattern") or "" for g in groups},
    )


def _part(record: Record) -> Part:
    chain = record.number("chainLength")
    return Part(
        record.symbol,
        record.text("terminal") or "",
        tuple(record.texts("spelling")),
        record.text("says") or "",
        None if chain is None else int(chain),
        tuple(record.links("suggestsClass")),
    )


def _shape(record: Record) -> Shape:
    precedence = record.number("precedence")
    return Shape(
        record.symbol,
        tuple(record.texts("pattern")),
        record.text("says") or "",
        tuple(record.links("suggestsClass")),
        record.link("suggestsCharge"),
        record.link("suggestsSolubility"),
        frozenset(record.texts("decidedBy")),
        _USUAL_PRECEDENCE if precedence is None else int(precedence),
    )
