"""What is known of a thing, matter by matter, and on what it rests."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.roles import Role
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


class Share(NamedTuple):
    """On what the ingredients of a base rest, of one matter.

    Args:
        matter: the matter in words.
        told: of how many ingredients something is said of it.
        recalled: of how many it is recalled alone.
        works: the others, by the first work that they rest on, most first.
    """

    matter: str
    told: int
    recalled: int
    works: tuple[tuple[str, int], ...]


def shares_of(base: Base) -> list[Share]:
    """On what the ingredients rest, matter by matter; kind and use count as one."""
    rows: dict[str, list[list[Told]]] = {}
    for symbol in base.instances(base.term(Role.INGREDIENT)):
        by_matter: dict[str, list[Told]] = {}
        for told in told_of(base.record(symbol), base):
            by_matter.setdefault(_counted_as(told.matter, base), []).append(told)
        for matter, each in by_matter.items():
            rows.setdefault(matter, []).append(each)
    order = _ordered(base, list(rows))
    return [_share(base.label(matter), rows[matter], base) for matter in order]


def _counted_as(matter: str, base: Base) -> str:
    return base.record(matter).link("countsWith") or matter


def _share(matter: str, rows: list[list[Told]], base: Base) -> Share:
    firm = [[t for t in each if not t.basis.from_memory] for each in rows]
    first = [each[0].basis.sources[0] for each in firm if each]
    titles = (base.source(work).text("title") or base.label(work) for work in first)
    works = Counter(titles)
    return Share(matter, len(rows), len(rows) - len(first), tuple(works.most_common()))
