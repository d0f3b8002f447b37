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

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.amounts.bounded import (
    Bounded,
    Form,
    Sought,
    bounds_of,
    quantities_of,
)
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base import contract as c
from abluent.engine.base.record import Record
from abluent.engine.logic.facts import Basis
from abluent.engine.logic.terms import Term, more

_PROTON = Fraction("1.008")
_DRAWN = Basis("inferred")
"""What a mass stands on that is drawn for a mixture."""


class Carrier(NamedTuple):
    """An ionic surfactant on a label.

    Args:
        at: its index among the items.
        symbol: the ingredient.
        sign: 1 for anionic, which is in excess above nought, -1 for cationic.
        least, most: the milliequivalents that a gram brings; `most` is `None` where
            no mass is known.
        bases: where its charge and mass come from.
    """

    at: int
    symbol: str
    sign: int
    least: Fraction
    most: Fraction | None
    bases: tuple[Basis, ...]


def excess_bounds(label: LabelFacts, *, practice: bool = True) -> list[Bounded]:
    """`ionicExcess(product, milliequivalents in 100 g)` of a label.

    Only surfactants are counted: the base knows the charge of a polymer or protein
    and not how much of it a gram carries. Where law and label leave the sign open,
    what the trade usually puts in is taken to help, if `practice` says so.
    """
    sought = [excess_sought(label)]
    return bounds_of(label, sought, practice=practice, enough=is_decided)


def excess_terms(label: LabelFacts, *, practice: bool = True) -> list[tuple[Term, ...]]:
    """The terms of the facts that `excess_bounds` gives, without their proofs."""
    sought = [excess_sought(label)]
    return quantities_of(
        label, sought, practice=practice, enough=lambda q: more(q, 0) is not None
    )


def is_decided(bounded: Bounded) -> bool:
    """Whether an excess lies above nought for certain, or not above it."""
    return more(bounded.quantity, 0) is not None


def excess_sought(label: LabelFacts) -> Sought:
    """The excess of anionic over cationic surfactant, as forms of the levels."""
    found = list(carriers(label))
    bases = tuple(dict.fromkeys(basis for each in found for basis in each.bases))
    least, most = _form(found, -1), _form(found, 1)
    return Sought(c.IONIC_EXCESS, (label.product,), least, most, bases)


def _form(found: Sequence[Carrier], sign: int) -> Form | None:
    """The excess at its most for sign 1, at its least for -1."""
    form: dict[int, Fraction] = {}
    for carrier in found:
        brought = carrier.most if carrier.sign == sign else carrier.least
        if brought is None:
            return None
        if brought:
            form[carrier.at] = carrier.sign * brought
    return form


def carriers(label: LabelFacts) -> Iterator[Carrier]:
    """The ionic surfactants of a label.

    What may be part of another item, or the same portion printed again, brings
    nothing at least.
    """
    for at, item in enumerate(label.items):
        kinds = label.listed[item.symbol] if item.symbol else ()
        for sign in filter(None, (_sign(label, kind) for kind in kinds)):
            assert item.symbol, "only what is understood is of a kind"
            least, most, bases = _per_gram(label, item.symbol)
            sure = least if item.counted else Fraction(0)
            yield Carrier(at, item.symbol, sign, sure, most, bases)


def _sign(label: LabelFacts, kind: str) -> int:
    """What a class counts as in the balance; nought for most."""
    return int(Fraction(label.base.record(kind).number("balanceSign") or 0))


def _per_gram(
    label: LabelFacts, symbol: str
) -> tuple[Fraction, Fraction | None, tuple[Basis, ...]]:
    """The milliequivalents that a gram brings, at least and at most.

    What is sold is no single chain, and a name may leave open how much ethylene oxide
    it holds, so the figure has a margin. Without the mass of the counter-ion a gram
    brings at most what the bare ion would, an amine before it takes up its proton.
    What is charged only in part at some pH may bring nothing. Of what only its name
    tells, no mass is known.
    """
    if symbol not in label.base:
        return Fraction(0), None, ()
    record = label.base.record(symbol)
    drawn = (_DRAWN,) if record.truth("hydrophobicModel") else ()
    figures = map(record.basis_of, ("ionCharge", "saltMass", "ionMass"))
    bases = (*dict.fromkeys(filter(None, figures)), *drawn)
    charges = record.number("ionCharge")
    salt, ion = record.number("saltMass"), record.number("ionMass")
    if not charges or (salt is None and ion is None):
        return Fraction(0), None, bases
    number = abs(Fraction(charges))
    varies = _varies(label, symbol, drawn=bool(drawn))
    if salt is not None:
        brought = 1000 * number / Fraction(salt)
        least = Fraction(0) if _in_part(label, symbol) else brought * (1 - varies)
        return least, brought * (1 + varies), bases
    assert ion is not None, "one of the two is known"
    bare = 1000 * number / (Fraction(ion) - number * _PROTON)
    return Fraction(0), bare * (1 + varies), bases


def _varies(label: LabelFacts, symbol: str, *, drawn: bool) -> Fraction:
    """By what share the charge in a gram may differ from what the formula gives."""
    name = "drawnMassVaries" if drawn else "massVaries"
    records = map(label.base.record, label.listed[symbol])
    told = (record.number(name) for record in records)
    return max(
        (Fraction(each) for each in told if each is not None), default=Fraction(0)
    )


def _in_part(label: LabelFacts, symbol: str) -> bool:
    records: Iterator[Record] = map(label.base.record, label.listed[symbol])
    return any(record.truth("chargedInPart") for record in records)
