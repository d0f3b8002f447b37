"""What a name says of its ingredient: kind, charge and figures, by its parts.

A name that can be read says what its shape stands for. It bears out a kind that an
ingredient has if it says that kind or a narrower one; it never adds one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fnmatch import fnmatchcase
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.reading.names import Names

NAMES = ("inci", "usName", "euName", "olderName", "shortName", "commonName", "synonym")


_FIGURES = re.compile(r"#+|[0-9]+")


class Said(NamedTuple):
    """What the names of one ingredient say.

    Args:
        shape: the shape that the first of them has that can be read, if one can.
        kinds: the kinds that they say, with all wider ones.
        charge: the charge that they say, or empty.
        chain: the carbon number of its chain, if they say it.
        ethoxylation: its units of ethylene oxide, if they say it.
    """

    shape: str
    kinds: frozenset[str]
    charge: str
    chain: int | None
    ethoxylation: int | None


def said_by(record: Record, base: Base) -> Said | None:
    """What the names of an ingredient say; none if no name of it can be read."""
    readings = [
        reading
        for name in names_of(record)
        if (reading := Names.of(base).from_parts(name)) is not None
    ]
    stated = frozenset(_says_outright(record, base))
    if not readings:
        return Said("", stated, "", None, None) if stated else None
    first = readings[0]
    charges = {r.charge for r in readings if r.charge != "unknown"}
    return Said(
        first.shape,
        stated | {kind for reading in readings for kind in reading.classes},
        charges.pop() if len(charges) == 1 else "",
        first.chain,
        first.ethoxylation,
    )


def names_of(record: Record) -> list[str]:
    """Every name of an ingredient in Latin letters, its INCI name first."""
    names = dict.fromkeys(name for kind in NAMES for name in record.texts(kind))
    return [name for name in names if name.isascii()]


def _says_outright(record: Record, base: Base) -> Iterator[str]:
    """The kinds of an ingredient that its names state by a word or an ending."""
    names = [name.casefold() for name in names_of(record)]
    for kind in record.links("type"):
        for pattern in base.record(kind).texts("nameSays") if kind in base else ():
            if any(_fits(name, pattern) for name in names):
                yield kind
                break


def _fits(name: str, pattern: str) -> bool:
    """Whether a name has a pattern; a run of figures is as good as any other."""
    return fnmatchcase(_FIGURES.sub("0", name), _FIGURES.sub("0", pattern))
