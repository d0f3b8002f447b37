"""Facts: what a base or a label asserts, and on what basis.

A fact is a predicate, its terms and a basis. The reasoner looks only at the
first two; the basis is kept beside it for the proofs, so that two files may
assert the same thing on different grounds and both be shown. All three classes are
named tuples: a base is tens of thousands of facts, made at every cold start.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.logic.terms import Term


class Basis(NamedTuple):
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


class Fact(NamedTuple):
    """`predicate(args...)`, asserted on a basis."""

    predicate: str
    args: tuple[Term, ...]
    basis: Basis = NO_BASIS


class Table(NamedTuple):
    """Many facts of one predicate on one basis, as columns of equal length.

    A cheap way in for bulk data: no object is made for a row.
    """

    predicate: str
    columns: Sequence[Sequence[Term]]
    basis: Basis = NO_BASIS
