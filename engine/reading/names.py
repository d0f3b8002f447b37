"""What a printed ingredient name stands for.

A name is looked up as listed, as a synonym, as one of these in another alphabet or
with its spelling repaired, and read from its parts, in that order; what none of these
settles is unknown. A name that was repaired or read stands as `inferred` and says so.

A name that the base does not list and the official inventory does is never taken for
a slip of another. It is read from its parts; if that settles nothing, it is known by
name and official function alone, and its kind stays unknown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from abluent.engine.base.fold import fold
from abluent.engine.base.record import Record
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.reading._words import label_words
from abluent.engine.reading.readings import How, PartRead, Reading
from abluent.grammar.label.names import Memory, forms, identify
from abluent.grammar.label.words import shadow

# Mending and reading are left out of a start in which every name is listed.
if TYPE_CHECKING:
    from abluent.engine.reading.inventory import Entry, Inventory
    from abluent.engine.reading.sounded import Heard
    from abluent.engine.reading.spelling import Repair, Speller
    from abluent.grammar.name.read import NameReader
    from abluent.grammar.name.tree import NameReading

INFERRED = "inferred"
_MOST_KEPT = 200_000
_ALIKE = "letters of another alphabet that look Latin were read as Latin"


def resolve(printed: str, base: Base, *, mended: bool = False) -> Reading:
    """What a printed name stands for.

    Args:
        printed: one name, such as a label prints it.
        base: the base to look it up in.
        mended: letters of it were mended before, so that it counts as repaired.
    """
    return Names.of(base).resolve(printed, mended=mended)


def in_inventory(reading: Reading, base: Base) -> Entry | None:
    """What the official inventory says of what a name stands for, if it lists it."""
    symbol = reading.ingredient
    name = reading.printed if symbol is None else base.label(symbol)
    return Names.of(base).official(reading.official or name)


class Names:
    """The names of one base, with all that is needed to tell them on labels.

    It is a `Namer`: a reader of labels asks it where a text may be cut in two ways.
    """

    def __init__(self, base: Base) -> None:
        self._base = base
        self._readings: dict[str, Reading] = {}
        self._exact: dict[str, str | None] = {}
        self._mended: dict[str, str | None] = {}
        self.memory = Memory()

    @classmethod
    def of(cls, base: Base) -> Names:
        """The names of a base; made once for each base."""
        return base.once(cls)

    # -- what a reader of labels asks -----------------------------------------

    def known(self, name: str) -> str | None:
        """What is called exactly this, but for a word such as `organic`.

        An ingredient by its symbol, or a name of the official inventory as it is. One
        word alone is no proof of a name there: `Milk` is a word of prose.
        """
        symbol = self.listed(name)
        if symbol is None and " " in name.strip():
            return self._official_name((name, _unqualified(name)))
        return symbol

    def listed(self, name: str) -> str | None:
        """The ingredient of exactly this name, but for a word such as `organic`."""
        if name not in self._exact:
            if len(self._exact) > _MOST_KEPT:
                self._exact.clear()
            found = self._base.lookup(name)
            self._exact[name] = found or self._base.lookup(_unqualified(name))
        return self._exact[name]

    def readable(self, name: str) -> bool:
        """Whether a name that is not listed is built like one from end to end."""
        found = self._reader.read(name)
        return found is not None and found.exact

    def told(self, name: str) -> bool:
        """Whether a name stands for something, mended or read from its parts."""
        reading = self.resolve(name)
        return reading.how != "unknown" or bool(reading.official and " " in name)

    def from_parts(self, name: str) -> Reading | None:
        """What a name says by its parts alone, whether or not it is listed."""
        found = self._reader.read(name)
        return None if found is None else self._from_parts(name, found)

    # -- what a name stands for -----------------------------------------------

    def resolve(self, printed: str, *, mended: bool = False) -> Reading:
        """What a printed name stands for; see `resolve` of this module."""
        if printed not in self._readings:
            if len(self._readings) > _MOST_KEPT:
                self._readings.clear()
            self._readings[printed] = self._resolve(printed)
        reading = self._readings[printed]
        if mended and reading.how in {"listed", "synonym"} and reading.ingredient:
            return self._listed(printed, reading.ingredient, "repaired", _ALIKE)
        return reading

    def official(self, name: str) -> Entry | None:
        """What the official inventory lists under a name, or under its forms."""
        find = self._inventory.find if self._inventory else None
        return next(filter(None, map(find, forms(name))), None) if find else None

    def _resolve(self, printed: str) -> Reading:
        symbol = identify(printed, _Telling(self, self.listed))
        if symbol is not None:
            told = [self._base.names.get(fold(form)) for form in forms(printed)]
            how: How = "listed" if (symbol, "listed") in told else "synonym"
            return self._listed(printed, symbol, how)
        official = self._official_name(forms(printed))
        if official is not None:
            return self._in_inventory(printed, official)
        for kept in (self.heard, self.mended):
            symbol = identify(printed, _Telling(self, kept))
            if symbol is not None:
                return self._repaired(printed, symbol)
        found = self._read(printed)
        spelt = self._reader.spelt(printed)
        near = [] if spelt else self._near(printed)
        chosen = self._agreed(near)
        if chosen is not None:
            return self._repaired(printed, chosen)
        if found is not None and not near:
            return self._from_parts(printed, found)
        return self._unknown(printed, near)

    def mended(self, name: str) -> str | None:
        """The one thing whose name differs from this by slips alone."""
        if name not in self._mended:
            if len(self._mended) > _MOST_KEPT:
                self._mended.clear()
            exact = self.known(name)
            slips = self._slips(name) if exact is None else []
            self._mended[name] = exact or self._agreed(slips)
        return self._mended[name]

    def heard(self, name: str) -> str | None:
        """What a name in another alphabet stands for by its sound, if by one alone."""
        exact = self.known(name)
        if exact is not None or name.isascii():
            return exact
        from abluent.engine.reading.sounded import in_another_alphabet  # noqa: PLC0415

        return self._heard.find(name) if in_another_alphabet(name) else None

    def _slips(self, name: str) -> list[Repair]:
        return self._speller.slips(name) or self._wide_speller.slips(name)

    def _near(self, printed: str) -> list[Repair]:
        for form in forms(printed):
            near = self._wide_speller.near(form)
            if near:
                return near
        return []

    def _agreed(self, repairs: Sequence[Repair]) -> str | None:
        """The nearest of some names, if all of them are of one kind and charge."""
        kinds = {self._kind(repair.symbol) for repair in repairs}
        return repairs[0].symbol if len(kinds) == 1 else None

    def _kind(self, symbol: str) -> tuple[tuple[str, ...], str]:
        if symbol not in self._base:
            reading = self.resolve(symbol)
            return reading.classes or (symbol,), reading.charge
        classes = tuple(self._base.classes_of(symbol))
        return classes, self._value(symbol, classes, Role.CHARGE)

    def _official_name(self, names: Iterable[str]) -> str | None:
        if self._inventory is None:
            return None
        found = map(self._inventory.find, names)
        return next((entry.name for entry in found if entry is not None), None)

    # -- readings -------------------------------------------------------------

    def _listed(self, printed: str, symbol: str, how: How, note: str = "") -> Reading:
        record = self._base.record(symbol)
        classes = tuple(self._base.classes_of(symbol))
        return Reading(
            printed,
            symbol,
            how,
            classes,
            self._value(symbol, classes, Role.CHARGE),
            self._value(symbol, classes, Role.WATER_SOLUBILITY),
            INFERRED if how == "repaired" else record.basis.standing,
            self._works(record),
            note=note,
        )

    def _in_inventory(self, printed: str, name: str, slip: str = "") -> Reading:
        """A name that only the inventory lists: read from its parts, or not at all."""
        found = self._reader.read(printed if fold(printed) == fold(name) else name)
        if found is None:
            note = f"`{name}` is known by name and official function only"
            return Reading(printed, official=name, note=slip + note)
        reading = self._from_parts(printed, found)
        if fold(printed) == fold(name):
            return reading._replace(official=name)
        return reading._replace(official=name, parts=(), note=slip + reading.note)

    def _repaired(self, printed: str, symbol: str) -> Reading:
        if symbol not in self._base:
            slip = f"`{printed}` is read as `{symbol}`; "
            return self._in_inventory(printed, symbol, slip)
        note = f"`{printed}` is read as `{self._base.label(symbol)}`"
        return self._listed(printed, symbol, "repaired", note)

    def _unknown(self, printed: str, near: Sequence[Repair]) -> Reading:
        if not near:
            return Reading(printed)
        names = [self._base.label(repair.symbol) for repair in near]
        note = f"`{printed}` is near {_listing(names)}, which are not of one kind"
        return Reading(
            printed, candidates=tuple(repair.symbol for repair in near), note=note
        )

    def _read(self, printed: str) -> NameReading | None:
        for form in forms(printed):
            found = self._reader.read(form)
            if found is not None:
                return found
        return None

    def _from_parts(self, printed: str, found: NameReading) -> Reading:
        base = self._base
        above = {up for kind in found.classes for up in base.ancestors(kind)}
        classes = sorted(above, key=lambda kind: (-len(base.ancestors(kind)), kind))
        shape = base.record(found.shape.symbol)
        parts = tuple(
            PartRead(p.span, p.part.symbol, p.part.says, p.part is found.deciding)
            for p in found.pieces
            if p.part is not None
        )
        return Reading(
            printed,
            None,
            "read",
            tuple(classes),
            found.shape.charge or self._implied(classes, Role.CHARGE),
            found.shape.water or self._implied(classes, Role.WATER_SOLUBILITY),
            INFERRED,
            shape.basis.sources,
            parts,
            found.shape.symbol,
            found.chain,
            found.ethoxylation,
            note=f"`{printed}` is not listed; its parts say: {found.shape.says}",
        )

    def _value(self, symbol: str, classes: Iterable[str], role: Role) -> str:
        record = self._base.record(symbol)
        stated = (record.link(name) for name in self._base.terms(role))
        return next(filter(None, stated), None) or self._implied(classes, role)

    def _works(self, record: Record) -> tuple[str, ...]:
        """The works that the kinds and traits of an ingredient rest on."""
        roles = (Role.CHARGE, Role.WATER_SOLUBILITY)
        traits = {name for role in roles for name in self._base.terms(role)}
        stated = [link for part in record.parts for link in part.links]
        told = [link for link in stated if link[0] == "type" or link[0] in traits]
        bases = [record.basis_of(*link) for link in told] or [record.basis]
        works = (work for basis in bases if basis for work in basis.sources)
        return tuple(dict.fromkeys(works))

    def _implied(self, classes: Iterable[str], role: Role) -> str:
        names, implied = self._base.terms(role), self._base.implied
        values = (implied(kind, name) for name in names for kind in classes)
        return next((value for value in values if isinstance(value, str)), "unknown")

    @cached_property
    def _speller(self) -> Speller:
        from abluent.engine.reading.spelling import Speller  # noqa: PLC0415 - see above

        return Speller(self._base.names)

    @cached_property
    def _wide_speller(self) -> Speller:
        """One that knows the names of the inventory as well."""
        from abluent.engine.reading.spelling import Speller  # noqa: PLC0415 - see above

        if self._inventory is None:
            return self._speller
        names = {fold(name): (name, "official") for name in self._inventory.names()}
        return Speller(names | dict(self._base.names))

    @cached_property
    def _heard(self) -> Heard:
        from abluent.engine.reading.sounded import Heard  # noqa: PLC0415 - see above

        return Heard((name, symbol) for name, (symbol, _) in self._base.names.items())

    @cached_property
    def _inventory(self) -> Inventory | None:
        if not self._base.terms(Role.INVENTORY):
            return None
        from abluent.engine.reading.inventory import Inventory  # noqa: PLC0415 - see above

        return Inventory.shipped()

    @cached_property
    def _reader(self) -> NameReader:
        from abluent.engine.reading._part_book import part_book  # noqa: PLC0415 - see above
        from abluent.grammar.name.read import NameReader  # noqa: PLC0415

        return NameReader(part_book(self._base))


class _Telling:
    """A `Namer` that knows names in one way, such as past slips of scanning."""

    def __init__(self, names: Names, known: Callable[[str], str | None]) -> None:
        self._names = names
        self._known = known
        self.memory = Memory()

    def known(self, name: str) -> str | None:
        """What goes by this name, told in that way."""
        return self._known(name)

    def readable(self, name: str) -> bool:
        """As the names say."""
        return self._names.readable(name)

    def told(self, name: str) -> bool:
        """Whether this name is known in that way."""
        return self._known(name) is not None


def _unqualified(name: str) -> str:
    """A name without a word such as `organic` before it."""
    bare = label_words().qualifier.match(shadow(name))
    return name[bare.end() :] if bare else name


def _listing(names: Sequence[str]) -> str:
    return " and ".join(f"`{name}`" for name in names)
