"""What one product leaves: why it stays, and what takes it off at hand."""

from __future__ import annotations

from functools import cache

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.shell.session.session import Session

LABELS = (
    ("Sheen", "leave-in", "Aqua, Cyclopentasiloxane, Amodimethicone, PVP"),
    ("Lather", "wash", "Aqua, Sodium Laureth Sulfate, Sodium Lauryl Sulfate"),
    ("Mild", "wash", "Aqua, Coco-Glucoside"),
    ("Twain", "wash", "Aqua, Sodium Laureth Sulfate, Dimethicone"),
)


@cache
def session() -> Session:
    found = Session.open()
    for label in LABELS:
        found.add_label(*label)
    return found


def test_what_stays_what_water_loosens_and_what_goes() -> None:
    told = session().ask('what does "Sheen" leave').sentence
    assert told.startswith("Sheen leaves ")
    assert "Water alone takes some of PVP." in told
    assert "Cyclopentasiloxane evaporates" in told


def test_it_is_told_why_and_which_washes_take_it() -> None:
    notes = session().ask('what does "Sheen" leave').notes
    assert any(note.startswith("Why it stays: ") for note in notes)
    (hand,) = [note for note in notes if note.startswith("At hand against it")]
    named, _, _ = hand.partition(" some of all of it")
    rows = session().ask('which washes clear everything from "Sheen"').shown or ()
    for row in rows:
        if isinstance(row, Verdict) and row.role is not Role.NO_WASH_NEEDED:
            if row.wash in named:
                assert ENDS[row.role][0] is not Role.NONE_OF_IT
    assert "Lather" in named
    assert "Mild" not in named


def test_a_wash_is_not_told_to_take_off_what_it_leaves_itself() -> None:
    notes = session().ask('what does "Twain" leave').notes
    hand = [note for note in notes if note.startswith("At hand against it")]
    assert hand
    assert not any("Twain" in note for note in hand)


def test_where_nothing_stays_it_is_told_what_was_looked_at() -> None:
    told = session().ask('what does "Lather" leave').sentence
    assert told.endswith("Looked at: 3 names on its list.")
