"""A share with both ends, against every way in which what is open may come out."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from abluent.engine.questions.answers.share import Share, Told

KINDS: tuple[Told, ...] = (
    *((True, True), (True, None), (True, False)),
    *((None, True), (None, None), (None, False)),
)


def every_share(told: tuple[Told, ...]) -> list[Fraction]:
    """The share of each way in which all that is open may be."""
    ways = [
        [(m, t) for m in _settled(member) for t in _settled(truth)]
        for member, truth in told
    ]
    found = []
    for way in product(*ways):
        among = [truth for member, truth in way if member]
        if among:
            found.append(Fraction(sum(among), len(among)))
    return found


def _settled(truth: bool | None) -> list[bool]:
    return [True, False] if truth is None else [truth]


@pytest.mark.parametrize("size", [1, 2, 3])
def test_the_ends_are_the_least_and_the_most_that_can_be(size: int) -> None:
    for told in product(KINDS, repeat=size):
        share, every = Share.of(told), every_share(told)
        assert (share.least_share, share.most_share) == (min(every), max(every)), told


def test_of_nothing_there_is_no_share() -> None:
    share = Share.of([(False, True)])
    assert (share.least_share, share.most_share) == (None, None)
    assert str(share) == "no share"
    assert share.json() == {"at_least": None, "at_most": None}


def test_both_ends_are_told_where_they_differ() -> None:
    assert str(Share(1, 0, 2)) == "33.3 %"
    assert str(Share(1, 1, 1)) == "33.3 to 66.7 %"
