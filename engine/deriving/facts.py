"""All that can be worked out of an ingredient, way by way.

A structure is recalled like any value. What it shows counts as more than memory only
where the name or the register says the same without it: of the kind, or of the charge.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.deriving.kinds import trait, uses
from abluent.engine.deriving.names import Said, names_of, said_by
from abluent.engine.deriving.structures import Drawn, Structures
from abluent.engine.deriving.systematic import spelling_names

STRUCTURES, SPELT, SOLUBILITY = "structures", "spelt", "solubility"
NAMES, REGISTER, KINDS = "names", "register", "kinds"
WAYS = (STRUCTURES, SPELT, SOLUBILITY, NAMES, REGISTER, KINDS)
"""The ways in which facts are worked out, each a folder of `ontology/derived`."""


# `2Na+`, `Mg2+/2` and `Na+ (label form)` are one ion, two, half of one.
_BARE_ION = re.compile(r"^\d(?=[A-Z])|/\d$| \(.*\)$")


class Worked(NamedTuple):
    """What one way says of one ingredient.

    Args:
        links: kinds, charge and the like, and the patterns that show them.
        numbers: figures.
        recalled: whether it rests on memory all the same.
        texts: words, such as the name that spells a structure.
    """

    links: tuple[tuple[str, str], ...] = ()
    numbers: tuple[tuple[str, Fraction], ...] = ()
    recalled: bool = False
    texts: tuple[tuple[str, str], ...] = ()


class Deriver:
    """Works out the facts of one base."""

    def __init__(self, base: Base) -> None:
        self._base = base
        self._structures = Structures(base)
        self._ions = {
            base.record(s).text("ionFormula"): base.record(s)
            for s in base.instances("CounterIon")
        }
        self._spelling = _spelling(base)

    def of(self, symbol: str) -> dict[str, Worked]:
        """What can be worked out of an ingredient, by way."""
        record = self._base.record(symbol)
        said = said_by(record, self._base)
        smiles = record.text("smiles")
        drawn = self._structures.read(smiles) if smiles else None
        kinds = set(record.links("type"))
        read = kinds & said.kinds if said else set()
        used = set(uses(record, self._base))
        found = {
            NAMES: self._by_name(record, said, read),
            REGISTER: Worked(tuple(("type", kind) for kind in sorted(used))),
        }
        if drawn is not None:
            spelt = self._spelling.get(symbol)
            told = spelt or self._agrees(record, drawn, said, read | used)
            texts = (("spelt", spelt),) if spelt else ()
            worked = self._by_structure(record, drawn, not told)
            found[SPELT if spelt else STRUCTURES] = worked._replace(texts=texts)
            if drawn.water and drawn.water in record.links("waterSolubility"):
                water = (("waterSolubility", drawn.water),)
                found[SOLUBILITY] = Worked(water, recalled=not told)
            if told:
                used |= kinds & set(drawn.kinds)
        found[KINDS] = self._by_kind(record, kinds, read | used)
        return {way: each for way, each in found.items() if each != Worked()}

    def differences(self, symbol: str) -> Iterator[tuple[str, str, str]]:
        """Where memory and what was worked out differ: the matter and both values."""
        record = self._base.record(symbol)
        smiles = record.text("smiles")
        if smiles is None:
            return
        drawn = self._structures.read(smiles)
        kinds = set(record.links("type"))
        shown = set(drawn.kinds) - drawn.shared
        if shown and not kinds & set(drawn.kinds):
            yield "kind", " ".join(sorted(kinds)), " ".join(sorted(shown))

    # -- by structure ---------------------------------------------------------

    def _agrees(
        self, record: Record, drawn: Drawn, said: Said | None, borne_out: set[str]
    ) -> bool:
        """Whether name or register say of kind or charge what the structure does."""
        charge = said is not None and said.charge == self._charge(record, drawn)
        return charge or not borne_out.isdisjoint(drawn.kinds)

    def _by_structure(self, record: Record, drawn: Drawn, recalled: bool) -> Worked:
        kinds = [kind for kind in record.links("type") if kind in drawn.kinds]
        links = [("type", kind) for kind in sorted(kinds)]
        links += [("shownBy", drawn.kinds[kind]) for kind in sorted(kinds)]
        links.append(("charge", self._charge(record, drawn)))
        links += [("chargeShownBy", group) for group in drawn.why]
        numbers = [("ionCharge", Fraction(drawn.net)), ("ionMass", _two(drawn.mass))]
        if self._cleans(record):
            numbers += [("carbonChain", Fraction(drawn.chain))] * (drawn.chain > 2)
            numbers += [("fattyChains", Fraction(drawn.chains))] * bool(drawn.chains)
        named = said_by(record, self._base)
        counted = drawn.ethoxylation
        if counted and (named is None or named.ethoxylation in {None, counted}):
            numbers.append(("ethoxylation", Fraction(counted)))
        if (salt := self._salt(record, drawn)) is not None:
            numbers.append(("saltMass", salt))
        return Worked(tuple(links), tuple(numbers), recalled)

    def _charge(self, record: Record, drawn: Drawn) -> str:
        uncharged = drawn.charge == "none" and self._cleans(record)
        return "nonionic" if uncharged else drawn.charge

    def _salt(self, record: Record, drawn: Drawn) -> Fraction | None:
        """The mass with as many counter-ions as make up for the charge."""
        written = _BARE_ION.sub("", record.text("counterIon") or "")
        ion = self._ions.get(written)
        if ion is None or not drawn.net:
            return None
        mass, sign = ion.number("ionWeight"), ion.number("ionSign")
        if mass is None or sign is None or drawn.net * sign > 0:
            return None
        return _two(float(drawn.mass + float(mass) * abs(Fraction(drawn.net) / sign)))

    def _cleans(self, record: Record) -> bool:
        """Whether it is of the kind that has chains and heads."""
        wanted = self._base.term(Role.CLEANSER)
        return any(wanted in self._base.ancestors(k) for k in record.links("type"))

    # -- by name and kind -----------------------------------------------------

    def _by_name(self, record: Record, said: Said | None, read: set[str]) -> Worked:
        if said is None:
            return Worked()
        links = [("type", kind) for kind in sorted(read)]
        numbers = []
        if said.charge and said.charge in record.links("charge"):
            links.append(("charge", said.charge))
        for name, value in (
            ("carbonChain", said.chain),
            ("ethoxylation", said.ethoxylation),
        ):
            if value is not None and record.number(name) == value:
                numbers.append((name, Fraction(value)))
        if not links and not numbers:
            return Worked()
        if said.shape:
            links.append(("readBy", said.shape))
        return Worked(tuple(links), tuple(numbers))

    def _by_kind(self, record: Record, kinds: set[str], borne_out: set[str]) -> Worked:
        links = []
        recalled = True
        for name, wanted in (
            ("charge", "memberCharge"),
            ("waterSolubility", "memberSolubility"),
        ):
            brought = trait(self._base, kinds, wanted)
            if brought and brought[0] in record.links(name):
                links.append((name, brought[0]))
                wider = {up for k in borne_out for up in self._base.ancestors(k)}
                recalled = recalled and brought[1] not in wider
        return Worked(tuple(links), recalled=recalled) if links else Worked()


def _spelling(base: Base) -> dict[str, str]:
    """The name of each ingredient that spells its structure, where one does."""
    records = [
        base.record(symbol) for symbol in base.instances(base.term(Role.INGREDIENT))
    ]
    drawn = {r.symbol: smiles for r in records if (smiles := r.text("smiles"))}
    names = {r.symbol: names_of(r) for r in records if r.symbol in drawn}
    return spelling_names(drawn, names)


def _two(mass: float) -> Fraction:
    return Fraction(f"{mass:.2f}")
