"""Facts: what a base or a label asserts, and on what basis.

A fact is a predicate, its terms and a basis. The reasoner looks only at the
first two; the basis is kept beside it for the proofs, so that two files may
assert the same thing on different grounds and both be shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from abluent.engine.terms import Term


@dataclass(frozen=True, slots=True)
class Basis:
    """Why a fact is believed.

    Args:
        standing: a name of the scale of standings of the base.
        sources: names of cited works; empty where there is none.
        from_memory: nobody re-read the value in its source.
        origin: where it was asserted, such as a file and a subject or a line.
    """

    standing: str = ""
    sources: tuple[str, ...] = ()
    from_memory: bool = False
    origin: str = ""


NO_BASIS = Basis()


@dataclass(frozen=True, slots=True)
class Fact:
    """`predicate(args...)`, asserted on a basis."""

    predicate: str
    args: tuple[Term, ...]
    basis: Basis = NO_BASIS


@dataclass(frozen=True, slots=True)
class Table:
    """Many facts of one predicate on one basis, as rows of equal length.

    A cheap way in for bulk data: no object is made for a row.
    """

    predicate: str
    rows: Iterable[tuple[Term, ...]]
    basis: Basis = NO_BASIS
