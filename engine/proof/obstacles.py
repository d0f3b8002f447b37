"""What stands between the rules and a conclusion.

Lacking    nobody says it
Standing   it is said, or follows, where a rule requires that it is not
Failing    a comparison of values that are known does not hold
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from abluent.engine.logic.clauses import Comparison
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import Ground


@dataclass(frozen=True, slots=True)
class Lacking:
    """A fact that nobody asserts; `None` stands for a term that would do."""

    predicate: str
    pattern: tuple[Term | None, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """Facts that hold where a rule requires their absence.

    Args:
        rows: what holds.
        form: how the rule puts it: `not`, `unless` or `exception`.
    """

    rows: tuple[Ground, ...]
    form: str


@dataclass(frozen=True, slots=True)
class Failing:
    """A comparison that does not hold, with the values of both sides."""

    condition: Comparison
    left: Term
    right: Term


Obstacle: TypeAlias = Lacking | Standing | Failing
