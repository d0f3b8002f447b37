"""The foldings of an answer are in its trace, and hold by all that the base knows."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from abluent.engine.checking import checker, kernel
from abluent.engine.trace.answer import base_for, traces
from abluent.engine.trace.steps import goals_of, steps_of
from abluent.grammar.common.text import in_words
from abluent.shell.session.session import Session

SARCOSINATES = 'which of ("Sarcosinates", "Decyl Glucoside") clear "Cera Alba"'


@cache
def session() -> Session:
    return Session.open()


def made(question: str) -> Any:
    (trace,) = traces(session().ask(question), question)
    return trace


@pytest.mark.slow
def test_a_folding_is_in_the_trace_and_holds() -> None:
    """By the trace alone, and by all that the base knows of each class.

    A class of which the base knows more members than were asked about is refused.
    """
    trace = made(SARCOSINATES)
    part = trace["foldings"]
    told = {number for each in part["said"] for number in each["rows"]}
    assert told == set(range(len(trace["verdict"]["answers"])))
    assert part["whole"] == ["Sarcosinate"]
    assert checker.check(trace).ok
    base = base_for(trace, session().world)
    assert checker.check(trace, base).ok
    part["held"]["AcylAminoAcid"] = part["held"].pop("Sarcosinate")
    part["whole"] = ["AcylAminoAcid"]
    for each in part["said"]:
        for term in each["washes"]:
            term.update({"class": "AcylAminoAcid"} if "class" in term else {})
    trace["digest"] = kernel.digest({k: p for k, p in trace.items() if k != "digest"})
    ((place, problem),) = checker.check(trace, base).problems
    assert (place, "which is in no row" in problem) == ("AcylAminoAcid", True)


def test_one_row_folds_to_nothing() -> None:
    """There is nothing to be told together."""
    trace = made('does water clear "Cyclopentasiloxane"')
    assert trace["foldings"] == {"held": {}, "whole": [], "alone": {}, "said": []}


def test_a_derived_step_stands_as_the_lowest_of_what_it_rests_on() -> None:
    """And a definition has no standing of its own."""
    trace = made('does "Tideline Wash" clear "Dimethicone"')
    steps = {step.number: step for step in steps_of(trace)}
    order = ["", *map(in_words, trace["program"]["standings"])]
    derived = [step for step in steps.values() if step.kind == "rule"]
    assert derived
    for step in derived:
        below = max((order.index(steps[n].standing) for n in step.rests_on), default=0)
        assert order.index(step.standing) >= below
    for goal in goals_of(trace):
        if steps[goal.step].kind == "rule":
            assert steps[goal.step].standing == goal.standing
