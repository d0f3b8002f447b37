"""Rules of thumb about names, scored."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.reading.name_rules import score_names
from labelled import rows

ANIONIC = {name: is_one == "1" for name, _, is_one in rows("names_with_traps")}


# Precision and recall of these two rules on this list of 262 names are published with
# the list; the counts were made by other hands.
@pytest.mark.parametrize(
    ("pattern", "counts"),
    [("*ate", (51, 79, 6, 126)), ("*sulfate*|*sulfonate*", (14, 14, 43, 191))],
)
def test_known_rules_score_as_published(
    pattern: str, counts: tuple[int, int, int, int]
) -> None:
    """Right, wrong, missed and the rest are counted as others counted them."""
    score = score_names(pattern, ANIONIC)
    found = (len(score.right), len(score.wrong), len(score.missed), score.others)
    assert found == counts
    assert score.precision == Fraction(counts[0], counts[0] + counts[1])
    assert score.recall == Fraction(counts[0], counts[0] + counts[2])


def test_exceptions_are_named() -> None:
    """A rule is refuted by names, not by a figure alone."""
    score = score_names("*ate", ANIONIC)
    assert "Behentrimonium Methosulfate" in score.wrong
    assert "Lauroyl Sarcosine" in score.missed


def test_a_pattern_that_nothing_has_scores_nothing() -> None:
    """Without a case there is no precision to give."""
    score = score_names("*zork*", {"Aqua": True})
    assert score.precision is None
    assert score.recall == 0
    assert score_names("*", {"Aqua": False}).recall is None
