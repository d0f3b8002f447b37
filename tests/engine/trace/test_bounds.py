"""Bounds in sentences: the rows that lead to them, with weights where these differ."""

from __future__ import annotations

from abluent.engine.amounts.bounded import level_bounds
from abluent.engine.amounts.certified import certified
from abluent.engine.amounts.charge_balance import excess_bounds
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.proof.encode import fact_json
from abluent.engine.reading.labels import label_facts
from abluent.engine.trace.bounds import arguments

BASE = Base.load()


def told(text: str, *symbols: str, kind: str = "wash", market: str = "EU") -> list[str]:
    """The arguments for the levels of some ingredients, else for the excess."""
    read = label_facts("product/p", kind, market, text, BASE)
    label = LabelFacts(read.facts, BASE, "2026-01-31")
    found = excess_bounds(label, practice=False)
    if symbols:
        found = level_bounds(label, symbols, practice=False)[:1]
    bounds = certified(found)
    facts = [*read.facts, *bounds.facts, *(each.fact for each in found)]
    trace = {
        "bounds": bounds.entries,
        "facts": list(map(fact_json, facts)),
        "names": {'["phenoxyethanol",""]': "Phenoxyethanol"},
    }
    return [text for each in arguments(trace).values() for text in each]


def test_an_order_and_a_limit_in_words() -> None:
    """A number after a capped one is no more than that, or below the line anyway."""
    _, most = told("Aqua, Phenoxyethanol, Glycerin", "glycerin")
    assert most == (
        "At most 1 %: if number 3 is above the 1 % line, then the limit "
        "p01-phenoxyethanol is at most 1 % of Phenoxyethanol; and number 3 is no more "
        "than number 2. "
        "Wherever else the line lies, by 1 more case of the trace."
    )


def test_weights_are_told_where_they_differ() -> None:
    """The third of a list is at most a third of the whole, less what follows."""
    _, most = told("Aqua, Glycerin, Panthenol, Sorbitol", "panthenol", market="US")
    assert most.startswith("Less than 100/3 %: ")
    for row in (
        "number 2 is no more than number 1 (weight 1/3)",
        "number 3 is no more than number 2 (weight 2/3)",
        "number 4 is in the product (weight 1/3)",
        "all parts make no more than 100 % (weight 1/3)",
    ):
        assert row in most


def test_a_figure_decides_wherever_the_line_lies() -> None:
    least, most = told("Aqua, Glycerin 5%", "glycerin")
    assert least == "At least 5 %: the label states at least 5 % for number 2."
    assert most == "At most 5 %: the label states at most 5 % for number 2."


def test_an_excess_is_told_in_milliequivalents() -> None:
    least, most = told("Aqua, Sodium Lauryl Sulfate 12%, Cetrimonium Chloride 2%")
    # By hand: 12/288.38 and 2/320 of a mole, each 10 % to either side.
    assert least.startswith("At least 30.58 meq in 100 g: ")
    assert "(weight 3.121)" in least
    assert most.startswith("At most 40.15 meq in 100 g: ")


def test_what_brings_no_charge_for_certain_has_an_argument_too() -> None:
    """A soap and an amine may both bring nothing."""
    text = "Aqua, Sodium Oleate, Stearamidopropyl Dimethylamine"
    assert len(told(text)) == 2
