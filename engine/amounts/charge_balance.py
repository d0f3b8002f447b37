"""Whether a product holds more anionic than cationic surfactant, charge for charge.

The excess is counted in milliequivalents in 100 g: an ingredient at `c` per cent by
weight with `z` charges in `M` grams brings `1000 |z| / M * c` of them. It is a linear
form of the levels, so its least and greatest values over everything that a label can
mean are found and proven as those of a level are. This says more than the levels one
by one: an anionic that is listed above a cationic, above the 1 % line, is at least as
much by weight.

That one charge ties up one opposite charge is the principle of the titrations of ISO
2271 and ISO 2871-1. It holds in the bottle; what happens on hair is for the claims.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from abluent.engine.amounts._proofs import Certificate, prove
from abluent.engine.amounts._rows import Row
from abluent.engine.amounts.label_levels import label_levels
from abluent.engine.amounts.levels import Levels
from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.reading.labels import ReadLabel

Excess = Literal["certain", "possible", "no"]
_SIGNS = {"AnionicSurfactant": -1, "CationicSurfactant": 1}
_PROTON = Fraction("1.008")


@dataclass(frozen=True, slots=True)
class Carrier:
    """An ionic surfactant on a label.

    Args:
        place: its number on the label.
        symbol: the ingredient.
        sign: 1 for cationic, -1 for anionic.
        least, most: the milliequivalents that a gram brings; `most` is `None` where
            no mass is known.
        drawn: whether the mass is that of a stand-in drawn for a mixture.
        basis: where its charge and mass come from.
    """

    place: int
    symbol: str
    sign: int
    least: Fraction
    most: Fraction | None
    drawn: bool
    basis: Basis


@dataclass(frozen=True, slots=True)
class Balance:
    """The excess of anionic over cationic surfactant on one label.

    Args:
        excess: whether anionic is in excess: `certain`, `possible` or `no`.
        low, high: proofs of the least and the greatest excess, in milliequivalents in
            100 g; that of the least is of minus the excess. `None` where a mass that
            would be needed is not known.
        carriers: what was counted.
        standing: the standing of the weakest fact that the answer needs, in the proof
            that stands highest.
    """

    excess: Excess
    low: Certificate | None
    high: Certificate | None
    carriers: tuple[Carrier, ...]
    standing: str

    @property
    def least(self) -> Fraction | None:
        """The least excess in milliequivalents in 100 g, if one is known."""
        found = None if self.low is None else self.low.bound
        return None if found is None else -found

    @property
    def most(self) -> Fraction | None:
        """The greatest excess in milliequivalents in 100 g, if one is known."""
        return None if self.high is None else self.high.bound


def charge_balance(found: Levels, base: Base) -> Balance:
    """Whether the anionic surfactants of a label outweigh the cationic ones.

    Only surfactants are counted: the base knows the charge of a polymer or protein
    and not how much of it a gram carries.
    """
    carriers = tuple(_carriers(found, base))
    whole = _balance(found, found.rows, carriers)
    scale = found.standings
    present = {row.basis.standing for row in found.rows}
    for standing in [each for each in scale if each in present]:
        rows = found.rows_at_least(standing)
        stronger = _balance(found, rows, carriers)
        if stronger.excess == whole.excess:
            standings = [standing, *_standings(carriers)]
            weakest = max(standings, key=scale.index)
            return Balance(whole.excess, stronger.low, stronger.high, carriers, weakest)
    return whole


def charge_facts(read: ReadLabel, base: Base, *, on: str = "") -> list[Fact]:
    """`chargeExcess(product, certain | possible | no)`, for the reasoner.

    Where law and label leave the sign open, what the trade usually puts in is taken
    to help, and the fact stands as common practice.
    """
    product = next((f.args[0] for f in read.facts if f.predicate == "product"), None)
    if product is None:
        return []
    found = label_levels(read, base, on=on)
    balance = charge_balance(found, base)
    if balance.excess == "possible":
        found = label_levels(read, base, on=on, practice=True)
        usual = charge_balance(found, base)
        balance = balance if usual.excess == "possible" else usual
    return [Fact("chargeExcess", (product, balance.excess), _basis(balance))]


def _basis(balance: Balance) -> Basis:
    proofs = [proof for proof in (balance.low, balance.high) if proof is not None]
    bases = [row.basis for proof in proofs for row in proof.used]
    bases += [carrier.basis for carrier in balance.carriers]
    sources = dict.fromkeys(source for each in bases for source in each.sources)
    memory = any(each.from_memory for each in bases)
    return Basis(balance.standing, tuple(sources), memory, "the levels of the label")


def _balance(
    found: Levels, rows: Sequence[Row], carriers: tuple[Carrier, ...]
) -> Balance:
    low = _extreme(found, rows, carriers, 1)
    high = _extreme(found, rows, carriers, -1)
    excess: Excess = "possible"
    if _unopposed(found, carriers) or (low is not None and _below_nought(low)):
        excess = "certain"
    elif high is not None and high.bound is not None and high.bound <= 0:
        excess = "no"
    return Balance(excess, low, high, carriers, found.standings[-1])


def _standings(carriers: Sequence[Carrier]) -> Iterator[str]:
    """What the charges stand on, and the masses where the sign depends on them."""
    yield from (each.basis.standing for each in carriers)
    weighed = len({each.sign for each in carriers}) > 1
    if weighed and any(each.drawn for each in carriers):
        yield "inferred"


def _unopposed(found: Levels, carriers: Iterable[Carrier]) -> bool:
    """Whether an anionic is there for sure and no cationic: then any charge will do.

    This holds for those too of which no mass is known, or only a part is charged.
    """
    sure = {item.place for item in found.items if item.certain}
    signs = [(each.sign, each.place in sure) for each in carriers]
    return (-1, True) in signs and all(sign < 0 for sign, _ in signs)


def _below_nought(proof: Certificate) -> bool:
    if proof.bound is None:
        return False
    return proof.bound < 0 or (proof.bound == 0 and proof.approached)


def _extreme(
    found: Levels, rows: Sequence[Row], carriers: Iterable[Carrier], sign: int
) -> Certificate | None:
    """The greatest of what carriers of one sign bring beyond those of the other."""
    index = {item.place: at for at, item in enumerate(found.items)}
    form: dict[int, Fraction] = {}
    for carrier in carriers:
        brought = carrier.most if carrier.sign == sign else carrier.least
        if brought is None:
            return None
        if brought:
            form[index[carrier.place]] = brought * carrier.sign * sign
    return prove(found.items, found.rule, rows, form)


# -- what carries charge ----------------------------------------------------------


def _carriers(found: Levels, base: Base) -> Iterator[Carrier]:
    for item in found.items:
        if item.symbol is None or item.symbol not in base or not item.counted:
            continue
        classes = base.classes_of(item.symbol)
        for kind, sign in _SIGNS.items():
            if kind in classes:
                record = base.record(item.symbol)
                in_part = any(base.record(c).truth("chargedInPart") for c in classes)
                least, most = _per_gram(record, in_part)
                drawn = record.truth("hydrophobicModel")
                frame = (item.place, item.symbol, sign)
                yield Carrier(*frame, least, most, drawn, record.basis)


def _per_gram(record: Record, in_part: bool) -> tuple[Fraction, Fraction | None]:
    """The milliequivalents that a gram brings, at least and at most.

    Without the mass of the counter-ion a gram brings at most what the bare ion
    would, an amine before it takes up its proton. What is charged only in part at
    some pH may bring nothing.
    """
    charges = record.number("ionCharge")
    salt, ion = record.number("saltMass"), record.number("ionMass")
    if not charges or (salt is None and ion is None):
        return Fraction(0), None
    number = abs(Fraction(charges))
    if salt is not None:
        brought = 1000 * number / Fraction(salt)
        return (Fraction(0) if in_part else brought), brought
    assert ion is not None, "one of the two is known"
    return Fraction(0), 1000 * number / (Fraction(ion) - number * _PROTON)
