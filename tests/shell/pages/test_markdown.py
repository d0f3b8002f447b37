"""The page made from a trace: every step, every place, nothing unescaped."""

from __future__ import annotations

import re
from typing import Any

import pytest
from abluent.engine.checking.checker import check
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.proof.proofs import Prover
from abluent.engine.proof.trace import (
    LabelLine,
    LabelNote,
    LabelText,
    Setting,
    Told,
    TracedGoal,
    build_trace,
)
from abluent.engine.trace.steps import goals_of, steps_of
from abluent.shell.pages.markdown import Summary, trace_markdown

RULES = """
standings lawOrStandard above measured above handbook

"{3} is number {2} on the label of {1}"
  or else "{3} is not on the label of {1}"
  written the product line the place, the ingredient

"{1} is rarely used above 1 %"
  or else "{1} is no marker"
  written the ingredient marker

"the label of {1} states how much {2} there is"
  or else "the label of {1} does not state how much {2} there is"
  written the product stated the ingredient

"{2} is late on {1}"
  or else "{2} is not known to be late on {1}"
  written the product late the ingredient

"{i} stands below {marker} on {p}"
  because the p line the n, the i
      and the p line the m, the marker
      and the marker marker
      and the m is below the n
  unless  the p stated the i
  so      the p late the i
  rule    late-below-marker, standing handbook, source a-handbook
"""
PRODUCT = "product/Ebb *Wash*"
TEXT = "INCI:\nAqua, <b>Preserver</b>,\n```Soap"


def label_line(place: int, name: str, start: int, end: int) -> Fact:
    origin = Basis(origin=f"label {PRODUCT} {start}-{end}")
    return Fact("line", (PRODUCT, place, name), origin)


@pytest.fixture(scope="module")
def trace() -> dict[str, Any]:
    spans = [(6, 10), (12, 28), (30, 37)]
    names = ["Aqua", "Preserver", "Soap"]
    lines = tuple(
        label_line(n, name, *span)
        for n, (name, span) in enumerate(zip(names, spans, strict=True), 1)
    )
    known = Fact(
        "marker",
        ("Preserver",),
        Basis("measured", ("a-study",), True, "preservers.ttl: Preserver"),
    )
    program = load_program([("r.rules", RULES)])
    prover = Prover(evaluate(program, [*lines, known]))
    label = LabelText(
        PRODUCT,
        TEXT,
        tuple(LabelLine(*span) for span in spans),
        (
            LabelNote(0, 5, "a heading"),
            LabelNote(10, 12, "separator"),
            LabelNote(28, 30, "separator"),
        ),
        lines,
    )
    goal = TracedGoal("late", (PRODUCT, "Soap"), 0)
    told = Told(
        'does "Ebb *Wash*" have it | late?',
        'does "Ebb *Wash*" have it late',
        ("Mind the <eyes>.",),
    )
    citations = {"a-handbook": "A Handbook [1999]", "a-study": "A & B"}
    terms = {"late": ("product", "ingredient")}
    setting = Setting(citations, (label,), terms=terms)
    return build_trace(prover, [goal], told, setting)


def test_the_trace_of_these_tests_holds(trace: dict[str, Any]) -> None:
    assert check(trace).ok


def test_every_node_is_a_step_after_those_it_rests_on(trace: dict[str, Any]) -> None:
    steps = steps_of(trace)
    assert len(steps) == len(trace["nodes"])
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert all(max(step.rests_on, default=0) < step.number for step in steps)


def test_a_goal_is_its_last_step_and_stands_as_its_weakest(
    trace: dict[str, Any],
) -> None:
    (goal,) = goals_of(trace)
    assert goal.step == len(trace["nodes"])
    assert goal.standing == "handbook"
    weakest = [step.rule for step in steps_of(trace) if step.weakest]
    assert weakest == ["late-below-marker"]


def test_a_label_line_is_quoted_with_its_place(trace: dict[str, Any]) -> None:
    page = trace_markdown(trace)
    assert (
        "label of Ebb \\*Wash\\*, line 3, column 1 (characters 31 to 37): "
        "```` ```Soap ````" in page
    )
    step = next(s for s in steps_of(trace) if s.place and s.place.line == 2)
    assert step.place is not None
    assert TEXT[step.place.start : step.place.end] == step.place.printed


def test_absence_standing_and_memory_are_said(trace: dict[str, Any]) -> None:
    page = trace_markdown(trace)
    assert "The label of product/Ebb \\*Wash\\* does not state how much Soap" in page
    assert "asserted in `preservers.ttl: Preserver`; measured, from memory" in page
    assert "by rule `late-below-marker`; handbook; source `a-handbook`" in page
    assert "**the weakest step**" in page


def test_the_page_states_question_verdict_cautions_and_sources(
    trace: dict[str, Any],
) -> None:
    page = trace_markdown(
        trace,
        Summary(["It is late."], ["First.", "So *late*."], ["Labels tell no pH."]),
    )
    assert page.startswith('# does "Ebb \\*Wash\\*" have it \\| late?\n')
    assert 'Understood as: `does "Ebb *Wash*" have it late`' in page
    assert "## Verdict\n\n**It is late.**" in page
    assert "## In short\n\n1. First.\n2. So \\*late\\*." in page
    assert "## Caveats\n\n- Labels tell no pH." in page
    assert "## Cautions\n\n- Mind the \\<eyes\\>." in page
    assert "- `a-handbook`: A Handbook \\[1999\\]" in page
    assert "- `a-study`: A \\& B" in page
    assert trace["digest"] in page


def test_nothing_from_a_label_becomes_markup(trace: dict[str, Any]) -> None:
    page = trace_markdown(trace)
    block = re.search(r"^(`{4,})text\n(.*?)\n\1$", page, re.DOTALL | re.MULTILINE)
    assert block is not None
    assert block[2] == TEXT
    outside = page.replace(block[0], "")
    assert not re.search(r"<b>", re.sub(r"`+ ?.*?`+", "", outside))
