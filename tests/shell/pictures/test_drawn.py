"""What is drawn: a list of ingredients with marks, and stages on a strand."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from abluent.shell.ground.stages import SHAPES as WORDS
from abluent.shell.ground.stages import stage_pieces
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import Sheet
from abluent.shell.pictures.text import width
from abluent.shell.session.session import Session
from hard_pictures import LOOK, card, told
from shown import demo

SVG = "{http://www.w3.org/2000/svg}"
CONTAINS = 'does "Tideline Wash" contain sulfate surfactants'
ORDER = 'how much of everything does "Harbour Cream" contain'
SIDES = 'compare "Tideline Wash" and "Shallows Wash" for "Copper Deposit"'
SCUM = 'what does "Shingle Soap Wash" leave in hard water'
DRAWN = (CONTAINS, ORDER, SIDES, SCUM)
QUICK = {(CONTAINS, "1:1"), (ORDER, "16:9"), (SIDES, "1:1"), (SCUM, "9:16")}


def filled(sheet: Sheet) -> int:
    """How many boxes have the colour of what is asked about, and an edge."""
    found = ET.fromstring(sheet.bare()).iter(f"{SVG}rect")
    return sum(
        e.get("fill") == LOOK.film and e.get("stroke") is not None for e in found
    )


@pytest.mark.parametrize(
    ("question", "shape"),
    [
        pytest.param(q, s, marks=() if (q, s) in QUICK else pytest.mark.long)
        for q in DRAWN
        for s in ("16:9", "1:1", "9:16")
    ],
)
def test_what_is_drawn_has_its_room(question: str, shape: str) -> None:
    sheet = card(demo(question), question, shape)
    said = told(question)
    asked = [r for ladder in said.ladders for r in ladder.rungs if r.asked]
    broad = shape == "16:9" and len(said.ladders) > 1
    if broad and not filled(sheet):
        # Two lists side by side may have no room there: what helps is listed then.
        asked, words = [], sheet.bare()
        assert all(group.word in words for group in said.else_groups)
    assert filled(sheet) == len(asked)
    drawn = sheet.bare().count('class="strand-shaft"')
    assert drawn >= len(said.steps)
    boxes = []
    for each in ET.fromstring(sheet.bare()).iter(f"{SVG}text"):
        size, x, y = (float(each.attrib[key]) for key in ("font-size", "x", "y"))
        assert size >= SHAPES[shape].small
        long = width(each.text or "", size, bold=each.attrib["font-weight"] == "600")
        boxes.append((x, y - size * 0.75, x + long, y + size * 0.22, each.text))
        assert 0 <= x < x + long <= sheet.wide, each.text
        assert y + size * 0.22 <= sheet.high, each.text
    for one, other in combinations(boxes, 2):
        beside = one[2] <= other[0] or other[2] <= one[0]
        assert beside or one[3] <= other[1] or other[3] <= one[1], (one, other)


def test_stages_take_the_place_of_the_tip() -> None:
    said = told(SCUM)
    assert len(said.steps) == 3
    assert said.advice.startswith("The way out: ")
    aloud = said.aloud()
    assert f"2. {said.steps[1].title}" in aloud


def test_what_helps_is_marked_in_both_lists() -> None:
    said = told(SIDES)
    titles = [ladder.title for ladder in said.ladders]
    assert sorted(titles) == ["Shallows Wash", "Tideline Wash"]
    assert said.advice.startswith("Green is copper")
    assert any(rung.asked for ladder in said.ladders for rung in ladder.rungs)


def test_every_stage_of_the_base_can_be_drawn() -> None:
    base = Session.open().world.base
    scenes = base.instances("Scene")
    assert scenes
    used = set()
    for scene in scenes:
        record = base.record(scene)
        of = [*record.links("sceneOf"), *record.links("sceneOfStaying")]
        stages = [base.record(each) for each in record.links("sceneStage")]
        used.update(record.links("sceneStage"))
        assert of, scene
        places = sorted(int(each.number("stagePlace") or 0) for each in stages)
        assert places == list(range(1, len(stages) + 1)), scene
        assert 2 <= len(stages) <= 4, scene
        for each in stages:
            assert {*each.texts("drawnWith")} <= {*WORDS}, scene
            assert len(each.text("plainly") or "") <= 28, scene
    assert used == {*base.instances("SceneStage")}


def test_each_word_adds_something() -> None:
    bare = [*stage_pieces(())]
    for word in WORDS:
        assert len([*stage_pieces((word,))]) > len(bare), word


def test_a_list_keeps_its_names_beside_stages() -> None:
    question = 'which washes clear "Petrolatum"'
    said = told(question)
    assert said.steps
    for each in said.plainer():
        names = {n.partition(" (")[0] for g in each.groups for n in g.names}
        assert "Tideline Wash" in names or not each.drawn, each


@pytest.mark.parametrize("question", ["rank washes", "how strong are washes"])
def test_an_order_has_its_ends_and_its_lanes(question: str) -> None:
    said = told(question)
    assert said.table is not None
    assert [row[0] for row in said.table.rows] == [
        "with a sulfate",
        "without a sulfate",
    ]
    cells = [cell for _, row in said.table.rows for cell in row if cell]
    names = [name for cell in cells for name in cell.word.splitlines()]
    assert len(names) == len({*names}) > 5
    first, last = said.table.columns[0], said.table.columns[-1]
    assert said.claim.endswith(f"{last}.")
    assert f" {first}" in said.claim
    harsh = said.table.rows[0][1][-1 if first == "mildest" else 0]
    assert harsh is not None
    assert "Gullwing Silk Wash" in harsh.word


def test_what_dries_off_is_not_named_among_what_stays() -> None:
    """Each film is named at one stage: where the narrowest of its kinds is named."""
    said = told('what does "Glass Float Serum" leave')
    named = [step.text for step in said.steps if "Cyclopentasiloxane" in step.text]
    assert len(named) == 1
    assert "vapour" in named[0]
