"""A reviewer's remarks: read with care, and followed to what falls."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.checking.reword import sentences
from abluent.engine.faults import DataError
from abluent.engine.trace.answer import traces
from abluent.engine.trace.review import without
from abluent.shell.pages.review import Remark, read_remarks, review, review_page
from shown import demo

QUESTION = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'


def trace() -> dict[str, Any]:
    return traces(demo(QUESTION), QUESTION)[0]


def said(part: str) -> str:
    """The step that says something."""
    found = [key for key, text in sentences(trace()).items() if part in text]
    return found[0]


def goals() -> list[tuple[str, str]]:
    """What is shown of the wash, and the verdict, effect or dispute it is about."""
    return [(goal["atom"][0], goal["atom"][-1]) for goal in trace()["goals"]]


@pytest.mark.slow
def test_what_rests_on_a_wrong_step_falls() -> None:
    line = said("Sodium C14-16 Olefin Sulfonate is number 2")
    found = review(trace(), [Remark(line[:12], "wrong", "It is number 3.")])
    of = dict(zip(goals(), (falls for _, falls in found.conclusions), strict=True))
    assert of["verdict", "atLeastPartlyClears"]
    assert of["lower", "takesPart"]
    assert not of["upper", "takesAll"]
    assert not of["contested", "takesPart"]
    assert not of["contested", "takesAll"]
    assert len(of) == 5
    assert trace()["goals"][0]["root"] in found.fallen
    assert said("Dimethicone is a silicone fluid") not in found.fallen


@pytest.mark.slow
def test_a_doubt_brings_nothing_down() -> None:
    found = review(trace(), [Remark(said("number 2"), "doubt", "Is it?")])
    assert found.fallen == []
    assert not any(falls for _, falls in found.conclusions)


@pytest.mark.slow
def test_without_the_wrong_step_another_verdict_follows() -> None:
    claim = said("so at least part of it goes” says that")
    world = demo(QUESTION).rows[0].case.world
    verdict, least, most, *disputes = without(trace(), [claim], world)
    film = "Dimethicone from Harbour Cream"
    assert verdict == f"without them: Tideline Wash on {film}: open."
    assert least == f"without them: Tideline Wash takes at least none of {film}."
    assert most == "another chain leads there still"
    assert disputes == ["", ""]


def test_another_chain_may_lead_to_the_same_conclusion() -> None:
    line = said("Sodium C14-16 Olefin Sulfonate is number 2")
    world = demo(QUESTION).rows[0].case.world
    found = dict(zip(goals(), without(trace(), [line], world), strict=True))
    assert found["upper", "takesAll"] == "another chain leads there still"
    assert found["lower", "takesPart"].startswith("without them: ")


def test_an_absence_cannot_be_taken_away() -> None:
    nothing = said("nothing ties up")
    world = demo(QUESTION).rows[0].case.world
    assert set(without(trace(), [nothing], world)) == {""}


def test_a_review_is_told_in_words() -> None:
    line = said("Sodium C14-16 Olefin Sulfonate is number 2")
    remarks = [
        Remark(line, "wrong", "It is number 3.", "M. Vane"),
        Remark(line, "agree"),
        Remark("0" * 64, "doubt"),
    ]
    page = review_page(trace(), review(trace(), remarks), ["instead", *[""] * 4])
    assert "M. Vane: It is number 3." in page
    assert "Reviewers part over" in page
    fallen = "Tideline Wash on Dimethicone from Harbour Cream: at least partly clears."
    assert f"falls: {fallen}" in page
    assert "      instead" in page
    assert "that this trace does not have: 000000000000" in page


def test_remarks_are_read_from_toml_and_json(tmp_path: Path) -> None:
    toml, plain = tmp_path / "r.toml", tmp_path / "r.json"
    toml.write_text('[[remark]]\nstep = "0123456789ab"\njudgement = "agree"\n')
    plain.write_text(
        json.dumps({"remarks": [{"step": "0123456789ab", "judgement": "agree"}]})
    )
    assert read_remarks(toml) == read_remarks(plain)
    assert read_remarks(toml) == [Remark("0123456789ab", "agree")]


def test_every_wrong_remark_is_named(tmp_path: Path) -> None:
    path = tmp_path / "r.json"
    path.write_text('[{"step": "01", "judgement": "bad", "mood": "sour"}, 3]')
    with pytest.raises(DataError) as caught:
        read_remarks(path)
    message = str(caught.value)
    assert message.count("remark 1") == 3
    assert "remark 2" in message
    path.write_text("{")
    with pytest.raises(DataError, match="no remarks"):
        read_remarks(path)
