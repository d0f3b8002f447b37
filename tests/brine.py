"""A label whose levels are bounded, with rules that rest on the bounds.

The ingredients, limits and molar masses are those of the base; the product and the
rules are made up. `valid` judges proofs by the rows that the levels were found from.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

from abluent.engine.amounts._proofs import Certificate
from abluent.engine.amounts.bounded import Bounded, level_bounds
from abluent.engine.amounts.certified import certified
from abluent.engine.amounts.charge_balance import excess_bounds
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.logic.program import load_program
from abluent.engine.proof.encode import atom_json
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.trace import LabelLine, LabelNote, LabelText
from abluent.engine.reading.labels import label_facts

PRODUCT = "product/brine"
TEXT = (
    "Aqua, Sodium Lauryl Sulfate 12%, Cetrimonium Chloride, Panthenol, "
    "Phenoxyethanol, Potassium Sorbate, Glycerin"
)
BRINE = """
standings lawOrStandard
    above measured
    above handbook
    above commonPractice
    above inferred

"{x} is {c}"
  because the x type the c
  so      the x isa the c
  rule    class-listed, standing lawOrStandard, source owl

"{x} is {d} too"
  because the x isa the c
      and the c subclass the d
  so      the x isa the d
  rule    class-above, standing lawOrStandard, source owl

"{i} is overcome in {p}: {x}"
  because the p ionicExcess the x
      and the x is above 0
      and the p line the n, the i
      and the i isa CationicSurfactant
  so      the p overcome the i
  rule    in-excess, standing handbook, source trade

"{i} is a trace in {p}: {x}"
  because the p line the n, the i
      and the p level the n, the x
      and the x is at most 1
  so      the p trace the i
  rule    little, standing handbook, source trade
"""


@cache
def brine() -> tuple[Knowledge, LabelText, tuple[Bounded, ...]]:
    """What is known of the product, its label, and its bounds."""
    base = Base.load()
    read = label_facts(PRODUCT, "wash", "EU", TEXT, base)
    label = LabelFacts(read.facts, base, "2026-01-31")
    found = (
        *excess_bounds(label),
        *level_bounds(label, ["glycerin", "potassium-sorbate"], practice=False),
    )
    listed = [each for each in label.listed if each in base]
    kinds = {kind for symbol in listed for kind in base.classes_of(symbol)}
    facts = [
        *read.facts,
        *(each.fact for each in found),
        *certified(found).facts,
        *base.facts_about(listed, {"type"}),
        *base.facts_about(sorted(kinds), {"subclass"}),
    ]
    program = load_program([("brine.rules", BRINE)])
    notes = [LabelNote(*note.span, note.kind) for note in read.label.notes]
    notes += [LabelNote(*gap, "separator") for gap in read.label.gaps]
    lines = [LabelLine(*item.span) for item in read.label.items]
    text = LabelText(PRODUCT, TEXT, tuple(lines), tuple(notes), read.facts)
    return Knowledge(program, dict.fromkeys(facts)), text, found


def valid(entry: Any) -> bool:
    """Whether an entry says what is so, and both its proofs do prove it."""
    _, _, found = brine()
    for each in found:
        if atom_json(each.fact.predicate, each.fact.args) == entry["atom"]:
            ends = ((each.low, entry["low"]), (each.high, entry["high"]))
            return all(own is not None and _End(own).proven(p) for own, p in ends)
    return False


class _End:
    """One end of an interval, as it was found."""

    def __init__(self, own: Certificate) -> None:
        self.own = own
        self.rows = {row.name: row for row in own.rows}
        self.places = [str(item.place) for item in own.items]
        self.form = [own.form.get(at, Fraction(0)) for at in range(len(self.places))]
        assert own.bound is not None
        self.bound = own.bound

    def proven(self, proof: Any) -> bool:
        """Whether a proof bounds the end and reaches it, by the rows it is from."""
        covered: set[int] = set()
        for case in proof["cases"]:
            covered.update(range(case["first"], case["last"] + 1))
        lines = sum(item.chained for item in self.own.items)
        every = covered >= set(range(lines + 1))
        return (
            every and all(map(self._follows, proof["cases"])) and self._reached(proof)
        )

    def _follows(self, case: Any) -> bool:
        total, right, strict = [Fraction(0)] * len(self.places), Fraction(0), False
        for name, text in case["weights"].items():
            row, weight = self.rows[name], Fraction(text)
            if weight < 0 or not row.first <= case["first"] <= case["last"] <= row.last:
                return False
            for at, each in row.terms.items():
                total[at] += weight * each
            right += weight * row.bound
            strict = strict or (row.strict and weight > 0)
        if not any(total) and (right < 0 or (right == 0 and strict)):
            return True
        shut = strict or not self.own.approached
        least = right < self.bound or (right == self.bound and shut)
        return total == self.form and least

    def _reached(self, proof: Any) -> bool:
        inside, border = (
            [Fraction(proof[part].get(place, "-1")) for place in self.places]
            for part in ("inside", "border")
        )
        there = border if self.own.approached else inside
        for row in self.own.rows:
            if row.first <= proof["line"] <= row.last:
                kept, limit = (
                    sum(each * parts[at] for at, each in row.terms.items())
                    for parts in (inside, there)
                )
                if kept > row.bound or (row.strict and kept == row.bound):
                    return False
                if limit > row.bound:
                    return False
        pairs = zip(self.form, there, strict=True)
        return sum(each * part for each, part in pairs) == self.bound
