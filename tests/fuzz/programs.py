"""Small programs to forge: their traces, and bases that were asked again."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

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
from toys import fact, known
from traced import EDITION, as_read, base_of, citations, samples

from fuzz.tables import Case

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
