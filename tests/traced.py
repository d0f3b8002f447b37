"""Traces of small programs, for the tests of the checker."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from abluent.engine.amounts.certified import certified
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term, interval
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.origins import LabelOrigin
from abluent.engine.proof.trace import (
    NO_BOUNDS,
    NOTHING_SUPPOSED,
    Bounds,
    LabelLine,
    LabelNote,
    LabelText,
    Setting,
    Supposed,
    Told,
    TracedGoal,
    build_base,
    build_trace,
)
from brine import PRODUCT, brine
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, REACH, SAME, fact, known

EDITION = {"name": "toys 1", "digest": "abc"}
Goal = tuple[str, tuple[Term | None, ...]]


def citations(knowledge: Knowledge) -> dict[str, str]:
    """A citation for everything that is cited."""
    parts = [*(f.basis for f in knowledge.facts), *knowledge.program.rules]
    names = {name for part in parts for name in part.sources}
    return {name: f"{name.title()}, third edition" for name in names}


def traced(
    knowledge: Knowledge,
    *goals: Goal,
    labels: Sequence[LabelText] = (),
    supposed: Supposed = NOTHING_SUPPOSED,
    bounds: Bounds = NO_BOUNDS,
) -> dict[str, Any]:
    """A trace with a row for every goal, as read back."""
    shown = [TracedGoal(*goal, number) for number, goal in enumerate(goals)]
    told = Told("is it so?", "is it so", ("mind the step",))
    setting = Setting(
        citations(knowledge),
        tuple(labels),
        supposed=supposed,
        bounds=bounds,
        edition=EDITION,
    )
    return as_read(build_trace(knowledge.prover, shown, told, setting))


def base_of(knowledge: Knowledge, trace: Any) -> Any:
    """The base of a trace, as read back; its labels are those of the samples."""
    setting = Setting(
        citations(knowledge),
        (bread()[1], brine()[1]),
        edition=EDITION,
    )
    return as_read(build_base(knowledge.program, knowledge.facts, setting, trace))


def as_read(data: Any) -> Any:
    """Data as it is after it was written to a file and read again."""
    return json.loads(json.dumps(data))


LABEL = "Ingredients: Flour, Water (and) Salt. May contain nuts"
LINES = ((13, 18), (20, 25), (32, 36))
BREAD = """
predicate line(product, place, thing)
  says "{3} is at place {2} of {1}" absent "{3} is not on the label of {1}"
end
rule salted
  if product(?p), line(?p, ?n, Salt), line(?p, ?m, Flour), ?m < ?n,
     not line(?p, _, Sugar)
  then savoury(?p) says "{?p} has salt at place {?n}" standing practice source baker
end
"""


def bread() -> tuple[Knowledge, LabelText]:
    """A product with a label of three lines, two notes and a separator."""
    things = ("Flour", "Water", "Salt")
    lines = [
        Fact(
            "line",
            ("product/loaf", place, thing),
            Basis(origin=str(LabelOrigin("product/loaf", *span))),
        )
        for place, (thing, span) in enumerate(zip(things, LINES, strict=True), 1)
    ]
    own = [Fact("product", ("product/loaf",), Basis(origin="the shelf")), *lines]
    label = LabelText(
        "product/loaf",
        LABEL,
        tuple(LabelLine(*span) for span in LINES),
        (
            LabelNote(0, 12, "heading"),
            LabelNote(12, 13, "separator"),
            LabelNote(18, 20, "separator"),
            LabelNote(25, 32, "separator"),
            LabelNote(36, 38, "separator"),
            LabelNote(38, 54, "aside"),
        ),
        tuple(own),
    )
    return known(BREAD, own), label


LEVELS = """
rule over
  if part(?a, ?x), other(?a, ?y), ?t is max(?x + ?y * 2, 1) / 2, perhaps ?t >= 3/2
  then over(?a, ?t) says "{?a} comes to {?t}" standing handbook source tables
end
rule total
  if shelf(?s), ?n is sum(?w, ?i : on(?s, ?i), weight(?i, ?w), not broken(?i)), ?n > 4
  then heavy(?s) says "{?s} carries {?n}" standing handbook source tables
end
exception propped to total
  if prop(?s) says "{?s} is propped up" standing practice source tables from memory
end
"""
LEVEL_FACTS = (
    fact("part", "p", interval(1, 2, True)),
    fact("other", "p", interval(0, 1)),
    fact("shelf", "s"),
    *(fact("on", "s", each) for each in ("cup", "jug", "pot")),
    fact("weight", "cup", 2),
    fact("weight", "jug", 3, by="scales"),
    fact("weight", "pot", 9),
    fact("broken", "pot", memory=True),
    fact("prop", "other"),
)


def samples() -> dict[str, tuple[Knowledge, Any]]:
    """Traces that between them use every part of the format."""
    loaf, label = bread()
    salted, salted_label, bounded = brine()
    rocket = [fact("carries", "tux", "r1"), fact("rocket", "r1", memory=True)]
    circle = [fact("same", a, b) for a, b in ("ab", "bc", "ca")]
    family, birds = known(FAMILY, FAMILY_FACTS), known(BIRDS, BIRD_FACTS, rocket)
    same = known(SAME, circle, fact("name", "c", "Cee"))
    levels = known(LEVELS, LEVEL_FACTS)
    roads = known(REACH, [fact("edge", a, b) for a, b in ("ab", "bc", "cd", "xy")])
    total: Term = interval(Fraction(1, 2), 2, True)
    return {
        "family": (
            family,
            traced(
                family,
                ("ancestor", ("ann", "dot")),
                ("childless", ("dot",)),
                ("ancestor", ("dot", None)),
            ),
        ),
        "birds": (
            birds,
            traced(
                birds, ("flies", ("tux",)), ("flies", ("ike",)), ("flies", ("tom",))
            ),
        ),
        "same": (same, traced(same, ("called", ("a", "Cee")), ("same", ("b", "b")))),
        "levels": (
            levels,
            traced(levels, ("over", ("p", total)), ("heavy", ("s",))),
        ),
        "roads": (
            roads,
            traced(roads, ("path", ("a", "d")), ("path", ("a", "x"))),
        ),
        "brine": (
            salted,
            traced(
                salted,
                ("overcome", (PRODUCT, "cetrimonium-chloride")),
                ("trace", (PRODUCT, "glycerin")),
                labels=[salted_label],
                bounds=certified(bounded),
            ),
        ),
        "bread": (
            loaf,
            traced(loaf, ("savoury", ("product/loaf",)), labels=[label]),
        ),
    }
