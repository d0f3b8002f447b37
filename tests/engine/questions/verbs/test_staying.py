"""What one product leaves: why it stays, and what takes it off at hand."""

from __future__ import annotations

import json

import pytest
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pages.answer import answer_page
from abluent.shell.session.session import Session

LABELS = (
    ("Sheen", "leave-in", "Aqua, Cyclopentasiloxane, Amodimethicone, PVP"),
    ("Lather", "wash", "Aqua, Sodium Laureth Sulfate, Sodium Lauryl Sulfate"),
    ("Mild", "wash", "Aqua, Coco-Glucoside"),
    ("Twain", "wash", "Aqua, Sodium Laureth Sulfate, Dimethicone"),
)


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Session:
    path = tmp_path_factory.mktemp("shelf") / "four.jsonl"
    keys = ("product", "kind", "text")
    lines = (json.dumps(dict(zip(keys, label, strict=True))) for label in LABELS)
    path.write_text("\n".join(lines), "utf-8")
    return Session.open([str(path)])


def test_what_stays_what_water_loosens_and_what_goes(session: Session) -> None:
    told = session.ask('what does "Sheen" leave').sentence
    assert told.startswith("Sheen leaves ")
    assert "Water alone takes some of PVP." in told
    assert "Cyclopentasiloxane evaporates" in told


def test_it_is_told_why_and_which_washes_take_it(session: Session) -> None:
    notes = session.ask('what does "Sheen" leave').notes
    assert any(note.startswith("Why it is left: ") for note in notes)
    page = answer_page(session.ask('what does "Sheen" leave'), 80)
    assert "Why it stays (Amodimethicone): Positive charges on this silicone" in page
    (hand,) = [note for note in notes if note.startswith("At hand against it")]
    assert hand == (
        "At hand against it, the mildest first: Lather takes some of all of it; Mild "
        "takes some, but perhaps none of Amodimethicone."
    )
    shown = session.ask('which washes clear everything from "Sheen"').shown or ()
    rows = [row for row in shown if isinstance(row, Verdict)]
    stays = {(r.wash, r.film) for r in rows if telling_end(r)}
    assert {film for wash, film in stays if wash == "Mild"} == {"amodimethicone"}
    assert "Lather" in {row.wash for row in rows} - {wash for wash, _ in stays}


def test_a_wash_is_not_told_to_take_off_what_it_leaves_itself(session: Session) -> None:
    notes = session.ask('what does "Twain" leave').notes
    hand = [note for note in notes if note.startswith("At hand against it")]
    assert hand == [
        "At hand against it, the mildest first: Lather takes some of all of it."
    ]


def test_where_nothing_stays_it_is_told_what_was_looked_at(session: Session) -> None:
    told = session.ask('what does "Lather" leave').sentence
    assert told.endswith("Looked at: 3 names on its list.")
