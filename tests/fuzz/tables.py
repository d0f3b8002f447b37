"""Kinds of forgeries, how many of each were tried, and how many were accepted."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, NamedTuple

from abluent.engine.checking import checker
from forgers import ALONE, BY_BASE, forged
from mutating import NotHere

KEPT = Path(__file__).parents[1] / "cases" / "forgeries.jsonl"
"""Forgeries that were accepted once, by kind, question and seed."""
HEAD = "kind\trefused by\ttried\taccepted"
ITSELF, BASE = "itself", "the base"


class Case(NamedTuple):
    """A true trace, and what gives the base for a forgery of it."""

    name: str
    true: Any
    base_for: Callable[[Any, str], Any]


class Tried(NamedTuple):
    """What came of one forgery; `base` is what it was compared with, or None."""

    kind: str
    case: str
    seed: int
    trace: Any
    base: Any
    accepted: bool


def tried(cases: Iterable[Case], kinds: Iterable[str], seeds: Any) -> Iterable[Tried]:
    """Every forgery of some kinds that some seeds make of some traces."""
    for kind in kinds:
        for case in cases:
            for seed in seeds:
                try:
                    trace = forged(kind, seed, case.true)
                except NotHere:
                    continue
                base = None if kind in ALONE else case.base_for(trace, kind)
                held = checker.check(trace, base).ok
                yield Tried(kind, case.name, seed, trace, base, held)


def table(made: Iterable[Tried]) -> str:
    """The table, a line for each kind there is, whether or not it was tried."""
    counts = {kind: [0, 0] for kind in (*ALONE, *BY_BASE)}
    for each in made:
        counts[each.kind][0] += 1
        counts[each.kind][1] += each.accepted
    lines = [
        f"{kind}\t{ITSELF if kind in ALONE else BASE}\t{some}\t{held}"
        for kind, (some, held) in counts.items()
    ]
    return "\n".join([HEAD, *lines, ""])
