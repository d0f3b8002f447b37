"""Some hundred forgeries of every kind, on traces of small programs.

The table of what was tried and accepted is kept beside this file; a kind of which one
is accepted, or that is never tried, is red. `python -m tests.fuzz forgeries` does the
same on real answers, in any number.
"""

from __future__ import annotations

import os
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.checking import checker
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.proof.origins import LabelOrigin
from abluent.engine.proof.trace import (
    LabelLine,
    LabelNote,
    LabelText,
    Setting,
    Told,
    TracedGoal,
    build_base,
    build_trace,
)
from forgers import ALONE, BY_BASE
from fuzz.tables import Case, Tried, table, tried
from toys import fact, known
from traced import EDITION, as_read, base_of, citations, samples

KEPT = Path(__file__).with_name("forgeries.tsv")
REBUILT = ("canonical", "verdict", "supposed", "cautions", "facts")
SHOP = """
"{3} is at place {2} of {1}"
  or else "{3} is not on the label of {1}"
  written the product line the place, the thing

"{1} is baked"
  or else "{1} is not known to be baked"
  written the product baked

"{p} has {s}"
  because the p product
      and the p line the n, the s
      and the s salty
      and the p line the m, Flour
      and the m is below the n
      and nothing shows the p baked
  so      the p taste savoury
  rule    savoury, standing practice, source baker

"{p} has sugar"
  because the p product
      and the p line something, Sugar
      and nothing shows the p baked
  so      the p taste sweet
  rule    sweet, standing handbook, source baker

"{t} is first"
  because the p line 1, the t
  so      the p chief the t
  rule    first, standing law
"""
LOAVES = {"product/loaf": "Flour, Salt, Rye", "product/bun": "Flour, Sugar"}


def shop() -> tuple[Any, Any]:
    """Two products, with an answer of two rows that have parts, and its knowledge."""
    labels = [_label(name, text) for name, text in LOAVES.items()]
    more = fact("salty", "Salt", standing="law", by="survey")
    rolls = fact("baked", "roll")
    read = [f for each in labels for f in each.facts]
    knowledge = known(SHOP, [*read, more, rolls])
    goals = []
    for row, (name, taste) in enumerate(
        [("product/loaf", "savoury"), ("product/bun", "sweet")]
    ):
        goals += [
            TracedGoal("taste", (name, taste), row),
            TracedGoal("chief", (name, "Flour"), row, part=True),
            TracedGoal("baked", (name,), row, part=True),
        ]
    setting = Setting(
        citations(knowledge),
        tuple(labels),
        terms={
            "taste": ("what", "taste"),
            "chief": ("what", "thing"),
            "baked": ("what",),
        },
        given=(rolls,),
        edition=EDITION,
    )
    told = Told("how do they taste?", "how do they taste", ("they may be stale",))
    trace = as_read(build_trace(knowledge.prover, goals, told, setting))
    base = build_base(knowledge.program, knowledge.facts, setting, trace)
    return trace, as_read(base)


def _label(name: str, text: str) -> LabelText:
    things, lines, at = text.split(", "), [], 0
    for each in things:
        lines.append(LabelLine(at, at + len(each)))
        at += len(each) + 2
    gaps = pairwise(lines)
    facts = [
        Fact("line", (name, place, each), Basis(origin=str(LabelOrigin(name, *span))))
        for place, (each, span) in enumerate(
            zip(things, ((x.start, x.end) for x in lines), strict=True), 1
        )
    ]
    notes = tuple(LabelNote(a.end, b.start, "separator") for a, b in gaps)
    own = Fact("product", (name,), Basis(origin="the shelf"))
    return LabelText(name, text, tuple(lines), notes, (own, *facts))


def case(name: str, trace: Any, base: Any) -> Case:
    """A case whose question, asked again, comes to the true trace."""
    again = {part: trace[part] for part in REBUILT} | {"ownShelf": False}
    whole = {**base, "asked": [again]}
    return Case(name, trace, lambda forgery, kind: whole)


def cases() -> list[Case]:
    found = [case("shop", *shop())]
    for name, (knowledge, trace) in samples().items():
        found.append(case(name, trace, base_of(knowledge, trace)))
    return found


@pytest.fixture(scope="module")
def made() -> list[Tried]:
    return list(tried(cases(), (*ALONE, *BY_BASE), range(2)))


def test_the_true_traces_are_accepted() -> None:
    """By themselves and by the base, asked again."""
    for each in cases():
        assert checker.check(each.true).problems == (), each.name
        base = each.base_for(each.true, "")
        assert checker.check(each.true, base).problems == (), each.name


def test_no_forgery_is_accepted(made: list[Tried]) -> None:
    """Those that contradict themselves by themselves, the others by the base."""
    assert [each[:3] for each in made if each.accepted] == []
    assert len(made) >= 500


def test_the_table_is_as_kept(made: list[Tried]) -> None:
    """Every kind is tried; `ABLUENT_KEEP=1` writes the table anew."""
    now = table(made)
    if os.environ.get("ABLUENT_KEEP"):
        KEPT.write_text(now, "utf-8")
    assert KEPT.read_text("utf-8") == now
    assert {each.kind for each in made} == {*ALONE, *BY_BASE}
