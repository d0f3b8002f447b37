"""What stands between the rules and a conclusion, and changes that would mend it.

Lacking    nobody says it; `instead` holds what is said in its place, if anything
Standing   it is said, or follows, where a rule requires that it is not
Failing    a comparison of values that are known does not hold
Unruled    no rule concludes it and nothing of the kind is asserted
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from abluent.engine.logic.clauses import Comparison
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.slices import Pattern


@dataclass(frozen=True, slots=True)
class Lacking:
    """A fact that nobody asserts; `None` stands for a term that would do.

    `instead` is what is asserted in its place, where the base has one value only
    for everything else of the kind: then the fact is contradicted, not just unknown.
    """

    predicate: str
    pattern: tuple[Term | None, ...]
    instead: tuple[Fact, ...] = ()

    @property
    def contradicted(self) -> bool:
        """Whether the base says otherwise, rather than nothing."""
        return bool(self.instead)


@dataclass(frozen=True, slots=True)
class Standing:
    """Facts that hold where a rule requires their absence.

    Args:
        rows: what holds.
        form: how the rule puts it: `not`, `unless` or `exception`.
        removals: the fewest asserted facts without which it would not hold; empty if
            taking away facts does not help.
        excepted: whether the repair makes an exception to it instead.
    """

    rows: tuple[Ground, ...]
    form: str
    removals: tuple[Ground, ...] = ()
    excepted: bool = False

    @property
    def immovable(self) -> bool:
        """Whether nothing is known that would set it aside."""
        return not self.removals and not self.excepted


@dataclass(frozen=True, slots=True)
class Failing:
    """A comparison that does not hold, with the values of both sides."""

    condition: Comparison
    left: Term
    right: Term


@dataclass(frozen=True, slots=True)
class Unruled:
    """A predicate that no rule concludes and no fact asserts."""

    predicate: str
    pattern: tuple[Term | None, ...]


Obstacle: TypeAlias = Lacking | Standing | Failing | Unruled


@dataclass(frozen=True, slots=True)
class Repair:
    """One way to make a goal hold.

    Args:
        obstacles: what stands in the way of it.
        added: the facts it assumes.
        removed: the asserted facts it takes away.
        provided: comparisons that the terms left open would have to meet.
        rules: the ids of the rules it goes through, the goal's own first.
        verified: whether the goal was seen to hold after these changes; `None` if
            they cannot be tried, because a term is left open, a comparison fails, or
            something immovable stands in the way.
    """

    obstacles: tuple[Obstacle, ...]
    added: tuple[Pattern, ...]
    removed: tuple[Ground, ...]
    provided: tuple[Comparison, ...]
    rules: tuple[str, ...]
    verified: bool | None


@dataclass(frozen=True, slots=True)
class WhyNot:
    """Why a goal does not hold.

    Args:
        goal: what was asked, `None` being any term.
        repairs: those with the fewest changes first.
        complete: whether the search came to its end; else there may be others.
    """

    goal: Pattern
    repairs: tuple[Repair, ...]
    complete: bool
