"""What a printed ingredient name stands for.

A name is looked up as listed, as a synonym, as one of these with its spelling
repaired, and read from its parts, in that order; what none of these settles is
unknown. A name that was repaired or read stands as `inferred` and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias
from weakref import WeakKeyDictionary

from abluent.engine._fold import fold
from abluent.engine.spelling import Speller
from abluent.engine.store import Base
from abluent.grammar.label_names import forms, identify

How: TypeAlias = Literal["listed", "synonym", "repaired", "read", "unknown"]

INFERRED = "inferred"
NAME = "name/"
"""What the symbol of a name starts with that is read from its parts."""


@dataclass(frozen=True, slots=True)
class PartRead:
    """A part of a name and what it says.

    `span` is a stretch of the printed name; `part` the symbol of the part.
    """

    span: tuple[int, int]
    part: str
    says: str


@dataclass(frozen=True, slots=True)
class Reading:
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
        candidates: listed names that are near, where none could be chosen.
        note: one sentence for the reader; empty where there is nothing to say.
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
    candidates: tuple[str, ...] = ()
    note: str = ""

    @property
    def symbol(self) -> str | None:
        """What the reasoner calls it: the ingredient, or the name that was read."""
        if self.ingredient is not None or self.how != "read":
            return self.ingredient
        return NAME + self.printed


def resolve(printed: str, base: Base, *, mended: bool = False) -> Reading:
    """What a printed name stands for.

    Args:
        printed: one name, such as a label prints it.
        base: the base to look it up in.
        mended: letters of it were mended before, so that it counts as repaired.
    """
    return Names.of(base).resolve(printed, mended=mended)


class Names:
    """The names of one base, with all that is needed to tell them on labels.

    It answers a reader of labels too: it is a `Namer`.
    """

    _known: WeakKeyDictionary[Base, Names] = WeakKeyDictionary()

    def __init__(self, base: Base) -> None:
        self._base = base
        self._readings: dict[str, Reading] = {}
        self._speller = Speller(base.names)

    @classmethod
    def of(cls, base: Base) -> Names:
        """The names of a base; made once for each base."""
        if base not in cls._known:
            cls._known[base] = cls(base)
        return cls._known[base]

    def known(self, name: str) -> str | None:
        """The ingredient that goes by exactly this name."""
        return self._base.lookup(name)

    def readable(self, name: str) -> bool:
        """Whether a name that is not listed is built like one."""
        del name
        return False

    def resolve(self, printed: str, *, mended: bool = False) -> Reading:
        """What a printed name stands for; see `resolve` of this module."""
        if printed not in self._readings:
            self._readings[printed] = self._resolve(printed)
        reading = self._readings[printed]
        if mended and reading.ingredient is not None and reading.how != "repaired":
            return self._listed(printed, reading.ingredient, "repaired", _ALIKE)
        return reading

    def _resolve(self, printed: str) -> Reading:
        symbol = identify(printed, self)
        if symbol is not None:
            told = [self._base.names.get(fold(form)) for form in forms(printed)]
            how: How = "listed" if (symbol, "listed") in told else "synonym"
            return self._listed(printed, symbol, how)
        return Reading(printed)

    def _listed(
        self, printed: str, symbol: str, how: How, note: str = ""
    ) -> Reading:
        record = self._base.record(symbol)
        classes = tuple(self._base.classes_of(symbol))
        return Reading(
            printed,
            symbol,
            how,
            classes,
            self._value(symbol, classes, "charge"),
            self._value(symbol, classes, "waterSolubility"),
            INFERRED if how == "repaired" else record.basis.standing,
            record.basis.sources,
            note=note,
        )

    def _value(self, symbol: str, classes: tuple[str, ...], name: str) -> str:
        stated = self._base.record(symbol).link(name)
        if stated is not None:
            return stated
        implied = (self._base.implied(kind, name) for kind in classes)
        return next((value for value in implied if isinstance(value, str)), "unknown")


_ALIKE = "letters of another alphabet that look Latin were read as Latin"
