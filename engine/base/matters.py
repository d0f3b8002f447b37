"""What is known of a thing, matter by matter, and on what it rests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis


class Told(NamedTuple):
    """What a record says of one matter on one basis.

    Args:
        matter: the symbol of the matter, such as `chargeMatter`.
        properties: the properties that tell of it, in order.
        basis: what they rest on.
    """

    matter: str
    properties: tuple[str, ...]
    basis: Basis


def told_of(record: Record, base: Base) -> list[Told]:
    """What a record says, by matter and basis; nothing if the base has no matters."""
    matters = base.instances("Matter")
    telling = {text: m for m in matters for text in base.record(m).texts("toldBy")}
    found: dict[tuple[str, Basis], dict[str, None]] = {}
    for name, value in _stated(record):
        matter = telling.get(f"{name} {value}") or telling.get(name)
        basis = record.basis_of(name, value)
        if matter is not None and basis is not None:
            bare = basis._replace(origin="")
            found.setdefault((matter, bare), {}).setdefault(name)
    order = {matter: at for at, matter in enumerate(_ordered(base, matters))}
    rows = [Told(m, tuple(names), basis) for (m, basis), names in found.items()]
    return sorted(rows, key=lambda row: order[row.matter])


def _stated(record: Record) -> Iterator[tuple[str, str]]:
    for part in record.parts:
        yield from part.links
        yield from ((name, "") for name, _ in part.numbers)
        yield from ((name, "") for name in part.truths)


def _ordered(base: Base, matters: list[str]) -> list[str]:
    """The matters in the order in which a reader wants them."""
    return sorted(matters, key=lambda each: base.record(each).number("place") or 0)
