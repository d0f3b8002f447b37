"""Every form of answer has traces that the checker accepts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from abluent.engine.checking import checker
from abluent.engine.faults import CommandError
from abluent.engine.trace.answer import traces
from abluent.shell.command.cli import main
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


AGAINST_BASE = (QUESTIONS[6], QUESTIONS[10])
"""Under a condition, and supposing something: the base is searched for each anew."""


@pytest.mark.parametrize(
    "question",
    [
        *AGAINST_BASE,
        *(
            pytest.param(each, marks=pytest.mark.long)
            for each in (QUESTIONS[0], QUESTIONS[4], *QUESTIONS[7:10])
        ),
    ],
)
def test_they_agree_with_the_base(session: Session, question: str) -> None:
    """Rules, facts, citations, labels and the charges of labels are made anew."""
    for trace in traces(session.ask(question), question):
        found = checker.check(trace, session.base_for(trace))
        assert found.problems == ()


KEPT = Path(__file__).parents[2] / "kept" / "questions.txt"


@pytest.mark.long
def test_no_true_trace_is_refused(session: Session) -> None:
    """A sample of all forms of question, asked in one session as a reader would."""
    lines = KEPT.read_text("utf-8").splitlines()
    questions = [each for each in lines if each.strip() and not each.startswith("#")]
    seen = 0
    for question in questions[::6]:
        try:
            made = traces(session.ask(question), question)
        except CommandError:
            continue  # it is about an answer before that this sample leaves out
        for trace in made:
            assert checker.check(json.loads(json.dumps(trace))).problems == (), question
        seen += bool(made)
    assert seen > 20


@pytest.mark.parametrize(
    "question",
    ['what does "Harbour Cream" hide', "which of those leave silicones"],
)
def test_what_hangs_on_an_answer_before_is_told(
    session: Session, question: str
) -> None:
    """It holds by the base; that the question comes to it is taken on trust."""
    session.ask('which products contain "Dimethicone"')
    for each in traces(session.ask(question), question):
        trace = json.loads(json.dumps(each))
        found = checker.check(trace, json.loads(json.dumps(session.base_for(trace))))
        assert found.problems == ()
        assert bool(found.supposed) == ("those" in question)


def test_a_trace_of_another_shelf_names_the_way_to_check_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Beside the shelf it was asked of it holds; without, that shelf is asked for."""
    shelf, trace = tmp_path / "reed.jsonl", str(tmp_path / "why.json")
    lists = {
        "Reed Wash": ("wash", "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine"),
        "Reed Cream": ("conditioner", "Aqua, Cetearyl Alcohol, Dimethicone"),
        "Reed Milk": ("leave-in", "Aqua, Quaternium-80, Phenoxyethanol"),
    }
    rows = [
        json.dumps({"product": name, "kind": kind, "market": "EU", "text": text})
        for name, (kind, text) in lists.items()
    ]
    shelf.write_text("\n".join(rows), "utf-8")
    asked = ["is it true that only conditioners contain silicones"]
    assert main(["trace", "--shelf", str(shelf), "--to", trace, *asked]) == 0
    capsys.readouterr()
    assert main(["check", "--shelf", str(shelf), trace]) == 0
    assert capsys.readouterr().err == ""
    assert main(["check", trace]) == 1
    assert "abluent check --shelf SHELF TRACE" in capsys.readouterr().err
