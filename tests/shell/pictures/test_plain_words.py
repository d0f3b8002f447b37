"""Pictures speak as one does: everyday words, whole names, each script in its face."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pictures.card_lists import _packed
from abluent.shell.pictures.faces import flows_left
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import contrast
from abluent.shell.pictures.text import even_lines, lines_of, runs
from abluent.shell.told.long_names import MOST, long_ones, shortened
from abluent.shell.told.plain import claim_of
from abluent.shell.told.reasons import reasons_of
from abluent.shell.told.spoken_names import common_name
from abluent.shell.told.telling import told_of
from hard_pictures import (
    CLAIM,
    EVERY,
    LEAVES,
    MANY,
    NAMES,
    NIGHT,
    ONE,
    ONLY,
    SIDES,
    WHICH,
    card,
    foreign,
    texts,
    told,
)
from shown import LONG, answered, demo, session

SVG = "{http://www.w3.org/2000/svg}"
OPEN = 'does "Shallows Wash" clear "PEG-10 Dimethicone"'
DISPUTED = 'does "Breakwater Wash" clear "Dimethicone"'
ITSELF = 'does "Fog Bank Wash" clear "Polyquaternium-7"'
ASKED = (ONE, ONLY, CLAIM, MANY, WHICH, LEAVES, SIDES, OPEN, DISPUTED, ITSELF, EVERY)
UNSAID = re.compile(
    r"known here|reckoned|Not shown|from memory|this base|recalled|"
    r"at most|at least|measurement|equal rank|equal weight|at best|differs|\*"
)
"""What a reader of a picture would have to ask about."""


@pytest.mark.parametrize("question", ASKED)
def test_nothing_on_a_picture_has_to_be_explained(question: str) -> None:
    said = told(question).aloud()
    assert not UNSAID.search(said), said
    assert said.endswith(".")


def test_a_reason_takes_a_line_or_two() -> None:
    for question in ASKED:
        for reason in told(question).reasons:
            assert len(reason) <= 150, reason


def test_every_verdict_and_standing_is_told_plainly() -> None:
    world = session().world
    values = world.known.verdict_roles
    assert {values[each] for each in values} == set(VERDICTS)
    for symbol in (*values, *world.base.instances("Standing")):
        assert world.base.record(symbol).text("plainly"), symbol


def test_a_bound_is_told_whole() -> None:
    """Some, at best, maybe: each verdict says what may be and what may not."""
    (row,) = demo(ONE).rows
    told_well = "Tideline Wash takes off Dimethicone from Harbour Cream well."
    assert claim_of(row) == told_well  # type: ignore[arg-type]
    whole = "Whether all of it really goes, nobody has shown."
    assert whole in told(ONE).reasons
    assert told(ITSELF).claim == "Fog Bank Wash hardly takes off Polyquaternium-7."
    assert told(OPEN).claim.startswith("We cannot tell whether")
    assert told(OPEN).cited == ""
    assert told(OPEN).sure == ""
    assert told(DISPUTED).claim.endswith("All of it? Sources disagree.")
    sides = told(DISPUTED).reasons[1:3]
    assert [s.split(" says")[0] for s in sides] == [
        "A supplier",
        "A popular book by a chemist",
    ]
    assert len(told(DISPUTED).works) >= len(sides)
    assert "on hair itself" in told(ITSELF).reasons[0]


def test_what_a_wash_leaves_itself_is_named_as_it_is() -> None:
    """Another film of the same family is not called the film that was asked about."""
    found = told('does "Gullwing Silk Wash" clear "Polyquaternium-7"').reasons
    (itself,) = (each for each in found if "on hair itself" in each)
    assert "Guar Hydroxypropyltrimonium Chloride" in itself
    assert "same family" in itself


def test_that_no_test_was_made_is_said_only_where_the_base_has_none() -> None:
    world = session().world
    for symbol in world.base.instances("Standing"):
        record = world.base.record(symbol)
        said = "not a lab test" in (record.text("plainly") or "")
        assert said is (record.number("rank") in {1, 2}), symbol


def test_what_rests_on_several_claims_stands_as_the_weakest() -> None:
    (row,) = demo('does "Lamp Room Clarifying Wash" clear "Amodimethicone"').rows
    assert isinstance(row, Verdict)
    (limit,) = [each for each in reasons_of(row) if "a mild cleanser" in each.text]
    assert "not a lab test" in limit.standing


def test_names_in_lines_are_whole_and_no_last_line_is_a_lone_short_word() -> None:
    parts = ["Harbour Cream,", "Mooring Mask,", "Glass Float Serum"]
    for room in range(360, 900, 20):
        for line in _packed(parts, room, 40):
            assert any(line.endswith(part) for part in parts), line
    lines = even_lines("It takes off some of the film, maybe none.", 480, 40)
    assert len(lines) == 2
    assert lines[-1] != "none."


def test_a_caution_that_belongs_to_the_claim_is_there_and_no_other() -> None:
    assert told(ONE).caution.startswith("A strong wash can leave hair rough")
    assert told(LEAVES).caution == ""
    assert told(ITSELF).caution == ""
    assert told(CLAIM).caution == ""
    assert told(OPEN).caution == ""
    quat = told('does "Tideline Wash" clear "Behentrimonium Chloride"').caution
    assert quat.startswith("A strong wash")


@pytest.mark.parametrize("language", sorted(NAMES))
def test_a_foreign_name_changes_no_word_beside_it(language: str) -> None:
    question = f'does "{NAMES[language]}" clear "Dimethicone"'
    root = ET.fromstring(card(foreign().ask(question), question, "1:1").bare())
    other = [each for each in root.iter(f"{SVG}text") if "font-family" in each.attrib]
    plain = [each for each in root.iter(f"{SVG}text") if each not in other]
    assert any("takes off" in (each.text or "") for each in plain)
    for each in other:
        assert not re.search("[A-Za-z]", each.text or ""), each.text
    for each in plain:
        found = runs(each.text or "")
        assert [run.script for run in found] == [None] * len(found), each.text


def test_what_flows_left_has_a_line_of_its_own() -> None:
    lines = lines_of(f"The {NAMES['hebrew']} takes some.", 1e9, 40)
    assert lines == ["The", NAMES["hebrew"], "takes some."]
    assert flows_left(NAMES["arabic"])
    assert not flows_left(NAMES["japanese"])


def test_a_long_name_is_short_in_the_claim_and_whole_once() -> None:
    question = f'does "{LONG}" clear Dimethicone'
    said = told_of(answered(question), question)
    assert LONG in said.claim
    assert LONG not in said.short().claim
    assert "…" in said.short().claim
    shown = "".join(texts(card(answered(question), question, "9:16")))
    assert shown.replace(" ", "").count(LONG.replace(" ", "")) == 1


def test_names_are_shortened_in_the_middle_and_stay_apart() -> None:
    assert shortened("Harbour Cream") == "Harbour Cream"
    one, other = "Wash " + "a" * 60 + " One", "Wash " + "a" * 70 + " One"
    assert len(shortened(one)) <= MOST
    assert shortened(one).startswith("Wash a")
    assert shortened(one).endswith(" One")
    assert len(set(long_ones([one, other]).values())) == 2


@pytest.mark.parametrize("night", [False, True])
def test_all_text_is_far_from_its_paper(night: bool) -> None:
    sheet = (
        card(demo(ONE), ONE, "9:16", NIGHT) if night else card(demo(ONE), ONE, "9:16")
    )
    paper = NIGHT.paper if night else "#fbfaf6"
    inks = {
        each.attrib["fill"] for each in ET.fromstring(sheet.bare()).iter(f"{SVG}text")
    }
    assert inks
    assert all(contrast(ink, paper) >= 4.5 for ink in inks)


def test_every_verdict_has_a_claim_and_water_too() -> None:
    """All but `clears`, of which the demo shelf has none."""
    met = set()
    for question in (
        *(MANY, OPEN, 'does water clear "Polyquaternium-10"'),
        'does "Shallows Wash" clear "Dimethicone"',
        'does "Shallows Wash" clear "Cyclopentasiloxane"',
    ):
        for row in (*demo(question).rows, *demo(question).others):
            met.add(row.role)  # type: ignore[union-attr]
            assert claim_of(row)[0].isupper()  # type: ignore[arg-type]
    assert met == set(VERDICTS) - {Role.CLEARED}
    assert set(SHAPES) == {"16:9", "9:16", "1:1", "A4"}


def test_what_cleans_is_said_with_what_it_does_to_the_film() -> None:
    """A place on a label and a charge are no reasons; what it takes is one."""
    assert "takes some of it off." in told(ONE).reasons[0]
    for question in ASKED:
        for reason in told(question).reasons:
            assert not re.search(r"works with|negative charge\.$", reason), reason


def test_a_common_name_stands_beside_that_of_the_label() -> None:
    assert (
        "petroleum jelly (Petrolatum)"
        in told('does "Tideline Wash" clear "Petrolatum"').claim
    )
    assert common_name(session().world.base, "cera-alba") == "beeswax"
    assert common_name(session().world.base, "dimethicone") == ""


def test_what_to_do_is_told() -> None:
    assert told(ITSELF).advice.startswith("Of your washes, ")
    assert told('what is "Cera Alba"').advice.startswith("Look for ")


def test_water_is_a_name_only_at_the_head() -> None:
    assert (
        "whether water takes off"
        in told('does water at least partly clear "PEG-12 Dimethicone"').claim
    )
