"""Pictures: vector text that fits, escaped names, nothing told by colour alone."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from abluent.engine.base.roles import VERDICTS
from abluent.engine.questions.answers.rows import verdict
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.trace.answer import traces
from abluent.shell.command.cli import main
from abluent.shell.ground.strand import Half, strand_of, strand_svg
from abluent.shell.pictures.card import Wish, answer_card
from abluent.shell.pictures.classes import MOST, class_tree
from abluent.shell.pictures.faces import flows_left
from abluent.shell.pictures.grid import verdict_grid
from abluent.shell.pictures.levels import level_chart
from abluent.shell.pictures.proof import proof_drawing
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import Sheet
from abluent.shell.pictures.text import lines_of, width
from hypothesis import given
from hypothesis import strategies as st
from shown import GONE, LONG, WASH, WHICH, answered, demo, session

SVG = "{http://www.w3.org/2000/svg}"
DAY = "2026-01-31"
ONE = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
MANY = 'does "Tideline Wash" clear everything'


def sheets() -> Iterator[tuple[str, Sheet]]:
    for shape in SHAPES:
        yield f"card {shape}", answer_card(demo(ONE), ONE, Wish(shape, DAY))
    yield "long card", answer_card(demo(MANY), MANY, Wish("1:1", DAY))
    yield "odd card", answer_card(answered(GONE), GONE, Wish("9:16", DAY))
    yield "grid", verdict_grid(demo(MANY), MANY, DAY)
    yield "odd grid", verdict_grid(answered(WHICH), WHICH, DAY)
    yield "proof", proof_drawing(traces(demo(ONE), ONE)[0], DAY)
    yield "odd proof", proof_drawing(traces(answered(WHICH), WHICH)[0], DAY)
    label, read = session().read_product(LONG)
    levels = session().levels(read)
    yield "levels", level_chart(label.product, read, levels, DAY)
    yield "classes", class_tree(session().world.base, "Surfactant", DAY)


@pytest.mark.slow
def test_no_text_is_clipped() -> None:
    for name, sheet in sheets():
        assert_whole(name, sheet)
        assert "<circle" not in sheet.bare(), name


def assert_whole(name: str, sheet: Sheet) -> None:
    root = ET.fromstring(sheet.bare())
    texts = root.findall(f".//{SVG}text")
    assert texts
    for each in texts:
        size, x, y = (float(each.attrib[key]) for key in ("font-size", "x", "y"))
        bold = each.attrib["font-weight"] == "600"
        long = width(each.text or "", size, bold=bold)
        anchor = each.attrib["text-anchor"]
        left = x - long * {"start": 0, "middle": 0.5, "end": 1}[anchor]
        assert left >= 0, (name, each.text)
        assert left + long <= sheet.wide, (name, each.text)
        assert size * 0.9 <= y <= sheet.high - size * 0.2, (name, each.text)


def test_a_picture_needs_nothing_else_and_says_what_it_shows() -> None:
    text = answer_card(answered(WHICH), WHICH, Wish("16:9", DAY)).svg()
    root = ET.fromstring(text)
    assert root.find(f"{SVG}script") is None
    only = f"{WASH} takes off Dimethicone, but only in part."
    assert root.findtext(f"{SVG}title") == only
    assert root.attrib["role"] == "img"
    assert "<script" not in text
    assert "data:font/woff" in text
    assert text.count("url(") == text.count("url(data:")


def test_every_verdict_of_a_grid_is_said_in_words() -> None:
    met = set()
    films = ("Behentrimonium Chloride", "Cetearyl Alcohol", "Cyclopentasiloxane")
    for film in (*films, "PEG-10 Dimethicone", "Amodimethicone"):
        answer = demo(f'which washes clear "{film}"')
        grid = ET.fromstring(verdict_grid(answer, WHICH, DAY).bare())
        words = Counter(each.text for each in grid.iter(f"{SVG}text"))
        rows = [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]
        assert len(rows) == 12
        said = Counter(verdict(row) for row in rows)
        assert {word: words[word] for word in said} == said
        assert words["disputed"] == sum(row.disputed for row in rows)
        met |= words.keys()
    assert {"open", "does not clear", "no wash needed", "disputed"} <= met
    assert {"partly clears", "at least partly clears", "at most partly clears"} <= met


def test_each_verdict_has_a_mark_of_its_own() -> None:
    drawn = {strand_of(role): strand_svg(strand_of(role), 48) for role in VERDICTS}
    letters = {strand_of(role).text for role in VERDICTS}
    assert len(set(drawn.values())) == len(letters) == len(VERDICTS) == 7
    for strand, mark in drawn.items():
        assert ("strand-unknown" in mark) is (Half.NOBODY_KNOWS in strand)
        assert ("strand-film" in mark) is (Half.STAYS in strand)


def test_a_card_in_png_has_the_size_of_its_shape() -> None:
    data = answer_card(answered(WHICH), WHICH, Wish("1:1", DAY)).png()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    size = (int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big"))
    assert size == SHAPES["1:1"][:2]


def test_a_tree_of_classes_counts_and_is_cut_where_it_is_too_large() -> None:
    base = session().world.base
    for name in ("Surfactant", "Ingredient"):
        root = ET.fromstring(class_tree(base, name, DAY).bare())
        words = [each.text or "" for each in root.iter(f"{SVG}text")]
        listed = [s for s in base.instances(name) if base.record(s).space == "ing"]
        assert str(len(listed)) in words
        assert len(words) <= 2 * MOST + 2


@given(st.text(max_size=60), st.floats(40, 400), st.floats(8, 40))
def test_lines_fit_and_lose_no_letter(text: str, room: float, size: float) -> None:
    lines = lines_of(text, room, size)
    wide = [line for line in lines if width(line, size) > room]
    assert all(len(line) == 1 for line in wide)
    kept = lines_of(text, 1e9, size)
    # Words that are read from the right are set on a line of their own.
    assert len(kept) == 1 or any(map(flows_left, text.split()))
    assert "".join(lines).replace(" ", "") == "".join(kept).replace(" ", "")


def test_the_command_writes_and_does_not_overwrite(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "classes.svg"
    assert main(["picture", "classes", "--to", str(path), "silicones"]) == 0
    ET.fromstring(path.read_text("utf-8"))
    assert main(["picture", "classes", "--to", str(path), "silicones"]) == 2
    assert "overwrite" in capsys.readouterr().err
    assert main(["picture", "classes", "--to", str(tmp_path / "x.gif"), "gums"]) == 2
