"""Every form of answer has traces that the checker accepts."""

from __future__ import annotations

import json

import pytest
from abluent.engine.checking import checker
from abluent.engine.trace.answer import traces
from abluent.shell.session.session import Session

pytestmark = pytest.mark.slow

QUESTIONS = (
    'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
    'what does "Harbour Cream" leave',
    'which washes clear "Dimethicone"',
    'why not does "Shallows Wash" clear "Dimethicone" from "Harbour Cream"',
    "is it true that only sulfates clear water-insoluble silicones",
    'is it true that every ingredient named "*ate" is an anionic surfactant',
    'does "Lamp Room Clarifying Wash" clear hard-water minerals on damaged hair',
    'does "Breakwater Wash" clear "Petrolatum" in warm water on a heavy load',
    'what does "Cockle Protein Mask" leave on bleached hair',
    'does water clear everything from "Headland Gel" in soft water',
    'suppose "Harbour Cream" had no "Dimethicone": what does "Harbour Cream" leave',
    'suppose "Harbour Cream" had "Amodimethicone": what does "Harbour Cream" leave',
)


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open()


@pytest.mark.parametrize("question", QUESTIONS)
def test_the_traces_of_an_answer_are_accepted(session: Session, question: str) -> None:
    """As they are read back from a file; a supposition says that it is one."""
    made = traces(session.ask(question), question)
    assert made
    for each in made:
        trace = json.loads(json.dumps(each))
        found = checker.check(trace)
        assert found.problems == ()
        assert bool(found.supposed) == any(trace["supposed"].values())
    assert question.startswith("suppose") == any(
        any(each["supposed"].values()) for each in made
    )


@pytest.mark.parametrize("question", [QUESTIONS[0], QUESTIONS[4], *QUESTIONS[6:11]])
def test_they_agree_with_the_base(session: Session, question: str) -> None:
    """Rules, facts, citations, labels and the charges of labels are made anew."""
    for trace in traces(session.ask(question), question):
        found = checker.check(trace, session.base_for(trace))
        assert found.problems == ()
