"""What the order of a list shows of an amount, and what it does not."""

from __future__ import annotations

import json

import pytest
from abluent.engine.questions.verbs.one_percent import place_on_list
from abluent.shell.session.session import Session

TEXT = (
    "Aqua, Sodium Laureth Sulfate, Glycerin, Sodium Sulfate, Cocamidopropyl Betaine, "
    "Phenoxyethanol, Parfum, Citric Acid"
)


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Session:
    path = tmp_path_factory.mktemp("shelf") / "cove.jsonl"
    label = {"product": "Cove Wash", "kind": "wash", "market": "EU", "text": TEXT}
    path.write_text(json.dumps(label), "utf-8")
    return Session.open([str(path)])


@pytest.mark.parametrize(("name", "place"), [("Glycerin", 3), ("Citric Acid", 8)])
def test_a_name_is_told_with_its_place(session: Session, name: str, place: int) -> None:
    found = session.ask(f'does "Cove Wash" contain "{name}" above 1 %')
    assert f"{name} is number {place} of 8 on the list" in found.sentence
    assert place_on_list(found.rows[0], "Cove Wash") == place


def test_above_what_the_law_caps_the_list_tells_of_no_amount(session: Session) -> None:
    found = session.ask('does "Cove Wash" contain "Sodium Sulfate" above 1 %')
    assert found.sentence.startswith("Cannot tell: ")
    (note,) = [each for each in found.notes if "Only from" in each]
    assert note.startswith("Only from Phenoxyethanol (number 6) down is it sure that ")


def test_below_it_each_is_little_for_sure(session: Session) -> None:
    found = session.ask('does "Cove Wash" contain "Citric Acid" above 1 %')
    assert found.sentence.startswith("No: ")
    assert any("From Phenoxyethanol (number 6) down" in each for each in found.notes)


def test_one_name_before_another_shows_which_is_more_but_for_traces(
    session: Session,
) -> None:
    asked = 'does "Cove Wash" contain "Glycerin" before "Citric Acid"'
    found = session.ask(asked)
    assert found.sentence.startswith("Yes: ")
    assert any("unless both are at 1 % or less" in each for each in found.notes)
