"""What was asked about an answer, on the page and as data."""

from __future__ import annotations

import json

import pytest
from abluent.shell.pages.answer import answer_page
from abluent.shell.pages.answer_data import answer_json
from abluent.shell.session.session import Session

pytestmark = pytest.mark.slow

WAYS = 'in how many ways does water clear "Cyclopentasiloxane"'
DISPUTED = 'does "Breakwater Wash" clear "Dimethicone"'
SUPPOSED = 'suppose "Harbour Cream" had no dimethicone: what does "Harbour Cream" leave'


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open(taught=False)


def test_only_what_was_asked_is_on_the_page(session: Session) -> None:
    """The ways, and not the chain of the best of them besides."""
    page = answer_page(session.ask(WAYS), 80)
    assert (
        "Cyclopentasiloxane needs no wash, for it evaporates: 2 ways (complete)."
        in page
    )
    assert "Way 1:\n  - " in page
    assert "How sure" not in page


def test_why_not_shows_the_chain_and_then_what_would_mend_it(session: Session) -> None:
    asked = 'why not does "Tideline Wash" clear "Dimethicone"'
    page = answer_page(session.ask(asked), 80)
    assert page.index("1. ") < page.index("How sure:")
    assert page.index("How sure:") < page.index("it is known to take less")
    whole = answer_page(session.ask(asked), 80, whole=True)
    assert "that was tried would take more for certain" in " ".join(whole.split())


def test_a_disputed_answer_shows_both_sides_and_where_they_part(
    session: Session,
) -> None:
    plain = answer_page(session.ask(DISPUTED), 80)
    assert "They disagree in:" in plain
    told = " ".join(plain.split())
    assert "whether it takes all, sources of equal rank disagree" in told
    page = answer_page(session.ask(f"why {DISPUTED}"), 80)
    part, one, other = (
        page.index(t) for t in ("Disputed, as", "One side", "The other side")
    )
    assert part < one < other


def test_a_supposition_shows_how_it_differs_in_place_of_the_answer_as_it_is(
    session: Session,
) -> None:
    page = answer_page(session.ask(SUPPOSED), 80)
    assert "Lost: Harbour Cream can leave Dimethicone:" in page
    assert " ".join(page.split()).count("can leave Cetyl Esters") == 1


def test_findings_as_data(session: Session) -> None:
    """Each with a word for its kind; those that were searched for, whether in full."""
    data = json.loads(json.dumps(answer_json(session.ask(WAYS), WAYS)))
    kinds = [each["kind"] for each in data["findings"]]
    assert kinds == ["ways", "shared", "way", "way"]
    assert data["findings"][0]["complete"] is True
    assert all(each["items"] for each in data["findings"][1:])


def test_a_dispute_as_data(session: Session) -> None:
    (row,) = answer_json(session.ask(DISPUTED), DISPUTED)["answers"]
    kinds = [each["kind"] for each in row["dispute"]]
    assert kinds == ["side", "side", "crux"]
    (plain,) = answer_json(session.ask(WAYS), WAYS)["answers"]
    assert "dispute" not in plain


def test_a_difference_as_data(session: Session) -> None:
    data = answer_json(session.ask(SUPPOSED), SUPPOSED)
    assert [each["kind"] for each in data["findings"]] == ["lost"]
    (now,) = data["compared"]
    assert len(now["answers"]) == len(data["answers"]) + 1


def test_what_is_not_so_has_reasons_and_a_proof_as_data(session: Session) -> None:
    asked = 'which washes clear "Dimethicone"'
    others = answer_json(session.ask(asked), asked)["others"]
    assert others
    assert all(row["reasons"] and row["proof"] and row["sources"] for row in others)


def test_a_page_that_opens_from_disk_has_the_findings(session: Session) -> None:
    page = session.export_trace(session.ask(WAYS), "html")
    assert "2 ways (complete)" in page
    assert "Way 2" in session.export_trace(session.ask(WAYS), "markdown")


def test_a_row_tells_under_what_it_was_judged(session: Session) -> None:
    question = "does water clear hard-water minerals in deionised water"
    (row,) = answer_json(session.ask(question), question)["answers"]
    assert row["conditions"] == ["in deionised water", "in soft water"]
