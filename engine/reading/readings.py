"""What the reading of names and labels comes to.

Kept apart from the reading itself, so that what was read on an earlier day can be
used without importing what reads.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

from abluent.engine.base.phrases import NAME
from abluent.engine.logic.facts import Fact

if TYPE_CHECKING:
    from abluent.grammar.label.tree import Label

How: TypeAlias = Literal["listed", "synonym", "repaired", "read", "unknown"]


class PartRead(NamedTuple):
    """A part of a name and what it says.

    `span` is a stretch of the printed name, `part` the symbol of the part, and
    `decides` whether it settles the kind of the ingredient.
    """

    span: tuple[int, int]
    part: str
    says: str
    decides: bool = False


class Reading(NamedTuple):
    """What a printed name stands for, and how that is known.

    Args:
        printed: the name as printed.
        ingredient: the symbol of a listed ingredient, if it is one.
        how: the step that settled it.
        classes: the kinds of ingredient, the most specific first.
        charge: `anionic`, `cationic`, `nonionic`, `amphoteric`, `none`, `unknown`.
        water: `soluble`, `dispersible`, `insoluble`, `depends` or `unknown`.
        standing: how well this is grounded; empty if unknown.
        sources: the works it rests on.
        parts: for a name that was read, the parts that told.
        shape: for a name that was read, the symbol of its shape.
        chain: the carbon number of its chain, where the name alone tells it.
        ethoxylation: the moles of ethylene oxide, where the name alone tells them.
        candidates: listed ingredients that are near, where none could be chosen.
        note: one sentence for the reader; empty where there is nothing to say.
        official: its name in the official inventory, where only that lists it.
    """

    printed: str
    ingredient: str | None = None
    how: How = "unknown"
    classes: tuple[str, ...] = ()
    charge: str = "unknown"
    water: str = "unknown"
    standing: str = ""
    sources: tuple[str, ...] = ()
    parts: tuple[PartRead, ...] = ()
    shape: str = ""
    chain: int | None = None
    ethoxylation: int | None = None
    candidates: tuple[str, ...] = ()
    note: str = ""
    official: str = ""

    @property
    def symbol(self) -> str | None:
        """What the reasoner calls it: the ingredient, or the name that was read."""
        if self.ingredient is not None or self.how != "read":
            return self.ingredient
        return NAME + " ".join(self.printed.split())


class ReadLabel:
    """A label, what each of its items stands for, and the facts that follow.

    `readings` has one entry for each item of `label`, in the same order. The label
    itself is made when it is first looked at: most questions need the facts alone.
    """

    def __init__(
        self,
        label: Callable[[], Label],
        readings: tuple[Reading, ...],
        facts: tuple[Fact, ...],
    ) -> None:
        self._make_label = label
        self.readings = readings
        self.facts = facts

    @cached_property
    def label(self) -> Label:
        """The label as a tree."""
        return self._make_label()

    def with_facts(self, facts: tuple[Fact, ...]) -> ReadLabel:
        """The same label as saying other things."""
        return ReadLabel(lambda: self.label, self.readings, facts)
