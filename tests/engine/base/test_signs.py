"""Words of a note that call for a caution, and notes that call for none."""

from __future__ import annotations

import pytest
from abluent.engine.base.conditions import ConditionError, in_line, is_note
from abluent.engine.base.signs import signs
from abluent.engine.base.store import Base


@pytest.fixture(scope="module")
def base() -> Base:
    return Base.load()


@pytest.mark.parametrize(
    "note",
    ["scalp is sore", "hair is falling out", "itchy since May", "Flaking, at the nape"],
)
def test_a_sign_of_illness_calls_for_the_caution(base: Base, note: str) -> None:
    (found,) = signs(base, ["hair is fine", note])
    assert found.words
    assert found.words in note
    assert "belong to a doctor" in found.text


@pytest.mark.parametrize("note", ["bleached twice, fine", "", "painted ends", "curls"])
def test_another_note_calls_for_none(base: Base, note: str) -> None:
    assert signs(base, [note]) == []


def test_a_line_about_the_scalp_is_a_note_alone(base: Base) -> None:
    assert in_line(base, "scalp", "sore and red") == ()
    assert is_note(base, "scalp")
    with pytest.raises(ConditionError):
        in_line(base, "moon", "full")
