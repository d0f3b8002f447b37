"""Pictures of hard cases: no text is cut, overlaps, or is smaller than it may be.

What a picture is that somebody would post, a 4 of 5, was written down first:
one claim can be read at arm's length on a phone, in one breath; the mark says the same
as the claim; each reason is a whole sentence; a product is named once; nothing stands
where a phone lays its controls; and nothing has to be explained beside it. A 5 adds
that one would not change a word.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator
from typing import NamedTuple

import pytest
from abluent.shell.pictures.card import Wish, answer_card
from abluent.shell.pictures.glyphs import undrawable, warning
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import Sheet, contrast, look_of
from abluent.shell.pictures.short_proof import MOST_BOXES, short_proof
from abluent.shell.pictures.text import width
from abluent.shell.told.telling import told_of
from hard_pictures import CLAIM, DAY, HARD, NAMES, ONE, WHICH, card, foreign
from shown import demo

SVG = "{http://www.w3.org/2000/svg}"
QUICK = ("07", "14", "18")
STATED = {(s.wide, s.high): s.small for s in SHAPES.values()}
"""The smallest size of text of each shape."""


_MORE = ("japanese", "hebrew")


class Box(NamedTuple):
    text: str
    left: float
    top: float
    right: float
    end: float
    size: float


def boxes(sheet: Sheet) -> Iterator[Box]:
    """Where each line of text stands, from the height of capitals to its descents."""
    for each in ET.fromstring(sheet.bare()).iter(f"{SVG}text"):
        size, x, y = (float(each.attrib[key]) for key in ("font-size", "x", "y"))
        bold = each.attrib["font-weight"] == "600"
        long = width(each.text or "", size, bold=bold)
        x -= long * {"start": 0, "middle": 0.5, "end": 1}[each.attrib["text-anchor"]]
        yield Box(each.text or "", x, y - size * 0.75, x + long, y + size * 0.22, size)


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(n, marks=() if n.startswith(QUICK) else pytest.mark.long)
        for n in HARD
    ],
)
def test_no_text_is_cut_overlaps_or_is_too_small(name: str) -> None:
    sheet = HARD[name]()
    found = list(boxes(sheet))
    assert found
    least = STATED.get((int(sheet.wide), int(sheet.high)), 28.0)
    for each in found:
        assert each.left >= 0, each
        assert each.right <= sheet.wide, each
        assert 0 <= each.top < each.end <= sheet.high, each
        assert each.size >= least, each
    for n, one in enumerate(found):
        for other in found[n + 1 :]:
            beside = one.right <= other.left or other.right <= one.left
            apart = one.end <= other.top or other.end <= one.top
            assert beside or apart, (one, other)


@pytest.mark.parametrize("shape", ["1:1", "9:16"])
@pytest.mark.parametrize(
    "question",
    [
        'what does "Shallows Wash" clear',
        pytest.param("what must be so", marks=pytest.mark.long),
        pytest.param(
            'which films does "Shingle Soap Wash" not clear', marks=pytest.mark.long
        ),
    ],
)
def test_more_groups_than_there_is_room_for_are_counted(
    question: str, shape: str
) -> None:
    found = list(boxes(card(demo(question), question, shape)))
    for n, one in enumerate(found):
        for other in found[n + 1 :]:
            beside = one.right <= other.left or other.right <= one.left
            assert beside or one.end <= other.top or other.end <= one.top, (one, other)


@pytest.mark.parametrize(
    "name",
    [
        "14-night-colours-tall",
        "09-twelve-washes-wide",
        *(pytest.param(n, marks=pytest.mark.long) for n in HARD if "tall" in n),
    ],
)
def test_nothing_stands_where_a_phone_lays_its_controls(name: str) -> None:
    sheet = HARD[name]()
    (shape,) = (
        s for s in SHAPES.values() if (s.wide, s.high) == (sheet.wide, sheet.high)
    )
    top, right, end, left = shape.margins
    for each in boxes(sheet):
        assert each.left >= left - 1
        assert each.right <= sheet.wide - right + 1
        assert each.top >= top - 1
        assert each.end <= sheet.high - end + 1


@pytest.mark.parametrize("shape", ["9:16", "1:1", "16:9"])
def test_all_text_can_be_read_at_the_width_of_a_phone(shape: str) -> None:
    drawn = SHAPES[shape]
    least = {"9:16": 13.5, "1:1": 13, "16:9": 12}[shape]
    assert drawn.body * 375 / drawn.wide >= least
    assert drawn.body >= drawn.small
    assert drawn.small * 375 / drawn.wide >= 12


def test_what_is_left_out_is_counted_once() -> None:
    for shape in SHAPES:
        sheet = card(demo(WHICH), WHICH, shape)
        counts = [b.text for b in boxes(sheet) if "more" in b.text and "…" in b.text]
        assert len(counts) <= 1, shape


def test_a_product_is_named_once() -> None:
    texts = " ".join(each.text for each in boxes(card(demo(ONE), ONE, "9:16")))
    assert texts.count("Tideline") == 1
    assert texts.count("Harbour") == 1


def test_a_claim_says_first_whether_it_is_so() -> None:
    first = next(boxes(card(demo(CLAIM), CLAIM, "1:1")))
    assert first.text == "False"
    assert first.size > 2 * SHAPES["1:1"].body


def test_two_or_three_reasons_unless_others_are_chosen() -> None:
    told = told_of(demo(ONE), ONE)
    assert 2 <= len(told.chosen) <= 3
    answer, wish = demo(ONE), Wish("9:16", DAY, chosen=(2,))
    shown = " ".join(each.text for each in boxes(answer_card(answer, ONE, wish)))
    assert told.reasons[2][:20] in shown
    assert told.reasons[0][:20] not in shown


def test_a_short_proof_has_five_boxes_at_most() -> None:
    root = ET.fromstring(short_proof(demo(ONE), ONE, DAY).bare())
    drawn = list(root.iter(f"{SVG}rect"))[1:]
    assert 2 <= len(drawn) <= MOST_BOXES


@pytest.mark.parametrize(
    "language",
    ["arabic", "emoji", *(pytest.param(x, marks=pytest.mark.long) for x in _MORE)],
)
def test_foreign_letters_are_drawn_or_warned_of(language: str) -> None:
    """A letter that is not warned of is drawn: its pixels are no empty box."""
    name = NAMES[language]
    told = warning([name])
    missing = undrawable([name])
    assert bool(told) is bool(missing)
    for letter in missing:
        assert f"U+{ord(letter):04X}" in told
    question = f'does "{name}" clear "Dimethicone"'
    sheet = card(foreign().ask(question), question, "1:1")
    assert name.split()[0] in sheet.bare()


def test_a_letter_of_no_typeface_is_warned_of() -> None:
    assert "U+FFFF0" in warning(["Wash \U000ffff0"]) or not "\U000ffff0".isprintable()
    assert undrawable(["Wash, Wässer, Ωμέγα"]) == []


def test_colours_must_be_far_apart() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert look_of("#102030", "#ffffff", " @quay ").handle == "@quay"
    for ink, paper in (("#777777", "#888888"), ("navy", "#ffffff"), ("#12", "#fff")):
        with pytest.raises(Exception, match=r"colour|read"):
            look_of(ink, paper)


FILMS = (
    *("Dimethicone", "Amodimethicone", "Dimethiconol", "Polyquaternium-37"),
    *("Cera Alba", "Petrolatum", "VP/VA Copolymer", "Cocos Nucifera Oil"),
)
COMPARED = 'compare "Tideline Wash", "Shallows Wash" and "Fog Bank Wash"'


def _crowded() -> Iterator[str]:
    """Questions of many films and many washes."""
    for count in (2, 4, 8):
        named = " and ".join(f'"{film}"' for film in FILMS[:count])
        yield f"which washes at least partly clear {named}"
    yield f"{COMPARED} for waxes"
    yield COMPARED
    yield 'does "Shallows Wash" clear everything from "Kelp Line Curl Cream"'


@pytest.mark.parametrize("shape", ["16:9", "9:16", "1:1"])
@pytest.mark.parametrize(
    "question",
    [
        pytest.param(q, marks=() if n in {2, 3} else pytest.mark.long)
        for n, q in enumerate(_crowded())
    ],
)
def test_nothing_is_empty_and_no_more_follows_nothing(
    question: str, shape: str
) -> None:
    """What has no room is folded; what is only counted stands after a name."""
    sheet = card(demo(question), question, shape)
    found = list(boxes(sheet))
    texts = [each.text for each in found]
    assert not [text for text in texts if text.startswith("and ") and "more" in text]
    body = [each for each in found if each.text and not each.text[0].isdigit()]
    assert len(body) >= 4, texts
    _stands_clear(found, sheet)
    small = SHAPES[shape].small
    assert min(each.size for each in found) >= small
    table = told_of(demo(question), question).table
    if table is not None:
        shown = " ".join(texts)
        folded = [
            n for g in told_of(demo(question), question).else_groups for n in g.names
        ]
        firsts = [
            name.split(",")[0].split(" ")[0] for name in (table.rows[0][0], *folded)
        ]
        assert any(first in shown for first in firsts), texts


def _stands_clear(found: list[Box], sheet: Sheet) -> None:
    """No text is cut by an edge, or overlaps another or the foot."""
    for n, one in enumerate(found):
        assert 0 <= one.left <= one.right <= sheet.wide, one
        assert one.end <= sheet.high, one
        for other in found[n + 1 :]:
            beside = one.right <= other.left or other.right <= one.left
            apart = one.end <= other.top or other.end <= one.top
            assert beside or apart, (one, other)
