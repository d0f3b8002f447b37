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
"{3} is at place {2} of {1}"
  or else "{3} is not on the label of {1}"
  written the product line the place, the thing

"{p} has salt at place {n}"
  because the p product
      and the p line the n, Salt
      and the p line the m, Flour
      and the m is below the n
      and nothing shows the p line anything, Sugar
  so      the p savoury
  rule    salted, standing practice, source baker
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
"{a} comes to {t}"
  because the a part the x
      and the a other the y
      and the t comes to most of (the x + the y * 2, 1) / 2
      and perhaps the t is at least 3 / 2
  so      the a over the t
  rule    over, standing handbook, source tables

"{s} carries {n}"
  because the s shelf
      and the n comes to sum of (the w, the i
              where the s on the i
                and the i weight the w
                and nothing shows the i broken)
      and the n is above 4
  so      the s heavy
  rule    total, standing handbook, source tables

"{s} is propped up"
  because the s prop
  stops   total
  rule    propped, standing practice, source tables, from memory
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
