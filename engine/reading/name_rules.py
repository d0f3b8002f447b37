"""How far a rule of thumb about names can be trusted: a pattern against a kind.

"A name ending in -ate is an anionic surfactant" is the pattern `*ate` and a kind. The
score counts every name and keeps the exceptions, so that the rule can be shown right
or wrong by example.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fnmatch import translate
from fractions import Fraction
from typing import NamedTuple


class PatternScore(NamedTuple):
    """A rule of thumb, scored.

    Args:
        pattern: what names were held against.
        kind: what those that fit are to be, in words and in the plural.
        right: names that have the pattern and are of the kind.
        wrong: names that have the pattern and are not of the kind.
        missed: names of the kind without the pattern.
        others: how many names have neither.
    """

    pattern: str
    kind: str
    right: tuple[str, ...]
    wrong: tuple[str, ...]
    missed: tuple[str, ...]
    others: int

    @property
    def precision(self) -> Fraction | None:
        """Of the names with the pattern, the share of the kind."""
        found = len(self.right) + len(self.wrong)
        return Fraction(len(self.right), found) if found else None

    @property
    def recall(self) -> Fraction | None:
        """Of the names of the kind, the share with the pattern."""
        wanted = len(self.right) + len(self.missed)
        return Fraction(len(self.right), wanted) if wanted else None


def score_names(
    pattern: str, members: Mapping[str, bool], kind: str = "members"
) -> PatternScore:
    """Score a pattern against names of which it is known whether they belong.

    Args:
        pattern: a name in which `*` stands for any text and `?` for one character,
            such as `*ate`; several are parted by `|`. Case does not matter.
        members: every name, and whether it is of the kind.
        kind: what the kind is called, in the plural.
    """
    fits = fitting(pattern)
    found = {name: fits(name) for name in members}
    return PatternScore(
        pattern,
        kind,
        tuple(n for n, member in members.items() if member and found[n]),
        tuple(n for n, member in members.items() if not member and found[n]),
        tuple(n for n, member in members.items() if member and not found[n]),
        sum(not member and not found[n] for n, member in members.items()),
    )


def fitting(pattern: str) -> Callable[[str], bool]:
    """Whether a name has a pattern, as in `score_names`."""
    either = "|".join(translate(each.strip()) for each in pattern.split("|"))
    expression = re.compile(either, re.IGNORECASE)
    return lambda name: expression.match(name) is not None
