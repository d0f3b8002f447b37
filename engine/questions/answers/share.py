"""What share of some things is so, as an interval where that is not known of all.

A thing may be open in two ways: nobody can tell whether it is so, and nobody can tell
whether it is one of the things that were asked about, as where a name on its label was
not understood. Both widen the interval, each as far as it can.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple, TypeAlias

Told: TypeAlias = tuple["bool | None", "bool | None"]
"""Of one thing: whether it is among those asked about, and whether it is so."""


class Share(NamedTuple):
    """How many of some things are so.

    Args:
        so: those that are surely among them, and surely so.
        open: those surely among them of which nobody can tell.
        out: those surely among them that are surely not so.
        may_so: those perhaps among them that are surely so.
        may_open: those perhaps among them of which nobody can tell.
        may_out: those perhaps among them that are surely not so.
    """

    so: int = 0
    open: int = 0
    out: int = 0
    may_so: int = 0
    may_open: int = 0
    may_out: int = 0

    @classmethod
    def of(cls, told: Iterable[Told]) -> Share:
        """Count some things; what is surely not among them does not count."""
        counts = [0] * 6
        for member, truth in told:
            if member is not False:
                at = {True: 0, None: 1, False: 2}[truth]
                counts[at if member else at + 3] += 1
        return cls(*counts)

    @property
    def sure(self) -> int:
        """How many are surely among them."""
        return self.so + self.open + self.out

    @property
    def doubtful(self) -> int:
        """How many are perhaps among them."""
        return self.may_so + self.may_open + self.may_out

    @property
    def most(self) -> int:
        """How many are so if all is that may be."""
        return self.so + self.open + self.may_so + self.may_open

    @property
    def least_share(self) -> Fraction | None:
        """The least that the share can be; None if there is nothing to share."""
        of = self.sure + self.may_open + self.may_out
        return Fraction(self.so, of) if of else Fraction(1) if self.may_so else None

    @property
    def most_share(self) -> Fraction | None:
        """The most that the share can be; None if there is nothing to share."""
        of = self.sure + self.may_so + self.may_open
        return Fraction(self.most, of) if of else Fraction(0) if self.may_out else None

    def __str__(self) -> str:
        """The share in per cent, both ends where they differ."""
        low, high = _per_cent(self.least_share), _per_cent(self.most_share)
        if not low or not high:
            return "no share"
        return f"{low} %" if low == high else f"{low} to {high} %"

    def json(self) -> dict[str, float | None]:
        """Both ends as numbers from 0 to 1."""
        low, high = self.least_share, self.most_share
        return {
            "at_least": None if low is None else round(float(low), 6),
            "at_most": None if high is None else round(float(high), 6),
        }


def _per_cent(share: Fraction | None) -> str:
    return "" if share is None else f"{float(100 * share):.1f}"
