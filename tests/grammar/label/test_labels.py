"""Labels as text: what they are cut into, with nobody there who knows names."""

# ruff: noqa: RUF001 - letters that look alike are part of what is tested

from __future__ import annotations

import sys
import tomllib
from fractions import Fraction
from pathlib import Path

import abluent.ontology
import pytest
from abluent.grammar.label.clean import BREAK, clean
from abluent.grammar.label.read import read_label
from abluent.grammar.label.words import LabelWords, shadow
from hypothesis import given, settings
from hypothesis import strategies as st
from labelled import assert_tiles

TABLE = tomllib.loads(
    (Path(abluent.ontology.__path__[0]) / "names/label_words.toml").read_text("utf-8")
)
WORDS = LabelWords.compile(TABLE)

# Pieces that real labels are made of, to be put together at random.
FRAGMENTS = [
    *("Aqua", "Glycerin", "Sodium Laureth Sulfate", "1,2-Hexanediol", "CI 19140"),
    *(", ", ",", "; ", " • ", "·", "\n", "\n\n", ". ", " / ", "/", " - ", "\t", "*"),
    *("(", ")", "[", "]", "(and)", " & ", "+/-", "Ingredients:", "May contain: "),
    *("Active ingredients", "Inactive ingredients ", "2%", "(0,5 %)", "¹", "&amp;"),
    *(
        "<br>",
        "-\n",
        "\u200b",
        "\ufeff",
        "Ａ",
        "А",
        "İ",
        "ß",
        "ﬃ",
        "…",
        "。",
        "½",
        "①",
        "2%",
        "q.s.",
        "\n> ",
        "\t",
        "....",
        "(CI 77491)",
        "\\",
        "\x00",
    ),
]
LABEL_TEXTS = st.lists(st.sampled_from(FRAGMENTS) | st.text(max_size=3), max_size=30)


@pytest.mark.slow
@given(LABEL_TEXTS.map("".join) | st.text(max_size=200))
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_and_tiled(text: str) -> None:
    """No text fails, no character is dropped, and items are exact quotations."""
    label = read_label(text, WORDS)
    assert_tiles(label)
    for place, item in enumerate(label.items, 1):
        assert item.place == place
        assert text[slice(*item.span)] == item.printed
        assert item.name
    for note in label.notes:
        assert text[slice(*note.span)] == note.text
    assert not any(char.isalpha() for a, b in label.gaps for char in text[a:b])


@given(st.text(max_size=120))
def test_a_plain_text_knows_where_it_came_from(text: str) -> None:
    """Every character of the plain text has a stretch of the original behind it."""
    cleaned = clean(text)
    assert len(cleaned.text) == len(cleaned.starts) == len(cleaned.ends)
    assert cleaned.starts == sorted(cleaned.starts)
    pairs = zip(cleaned.starts, cleaned.ends, strict=True)
    assert all(0 <= start < end <= len(text) for start, end in pairs)
    assert len(shadow(cleaned.text)) == len(cleaned.text)


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Ａｑｕａ，Ｂ", "Aqua,B"),
        ("a&amp;b&nbsp;c&#45;d", "a&b c-d"),
        ("<li>Aqua</li><b>x</b>", "\nAqua\nx"),
        ("Gly\u200bce\u00adrin\ufeff", "Glycerin"),
        ("Lau-\nryl", f"Lau{BREAK}ryl"),
        ("Сеtyl Аlcohol", "Cetyl Alcohol"),
        ("Состав: Aqua", "Состав: Aqua"),
        ("x<sup>1</sup>", "x^1"),
        ("Paraﬃnum", "Paraffinum"),
        ("5 < 6 & 7", "5 < 6 & 7"),
    ],
)
def test_layout_and_lookalikes_are_undone(text: str, plain: str) -> None:
    """Entities, tags, widths, hidden characters and look-alikes become plain."""
    assert clean(text).text == plain


SOME_HEADINGS = [
    (kind, language, phrase)
    for kind in ("list", "may contain", "active", "inactive")
    for language, phrases in TABLE["headings"][kind].items()
    for phrase in phrases[:2]
]


@pytest.mark.parametrize(("kind", "language", "phrase"), SOME_HEADINGS)
def test_every_heading_opens_its_part(kind: str, language: str, phrase: str) -> None:
    """A heading of any language is a note, and what follows it stands in its part."""
    del language
    label = read_label(f"{phrase.upper()}: Aqua, Glycerin", WORDS)
    assert label.names() == ("Aqua", "Glycerin")
    assert {item.section for item in label.items} == {kind}


def test_there_are_headings_in_many_languages() -> None:
    """The list of ingredients is found on labels in at least eight languages."""
    assert len(TABLE["headings"]["list"]) >= 8
    assert len(TABLE["headings"]["aside"]) >= 8


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("A1, B1, C1", ("A1", "B1", "C1")),
        ("Aqua • Zork | Blim · Foo", ("Aqua", "Zork", "Blim", "Foo")),
        ("Zork\nBlim\nFoo", ("Zork", "Blim", "Foo")),
        ("Zork,\nBlim,\nFoo", ("Zork", "Blim", "Foo")),
        ("Zork Blim\nFoo, Bar, Baz", ("Zork Blim Foo", "Bar", "Baz")),
        ("Zork・Blim‧Foo⋅Bar", ("Zork", "Blim", "Foo", "Bar")),
        ("ペンチレン・ゾーク、水", ("ペンチレン・ゾーク", "水")),
        ("Zork, B|im, Foo", ("Zork", "B|im", "Foo")),
        ("Zork, Blim\nB/N 123456", ("Zork", "Blim")),
        ("Zork, Blim\n4 012345 678901", ("Zork", "Blim")),
        ("Zork, A4 2O9O, Blim", ("Zork", "A4 2O9O", "Blim")),
        ("Zork Oil/Huile, Blim", ("Zork Oil", "Blim")),
        ("Ingredients: see the carton.", ()),
        ("1,2-Zork, Blim", ("1,2-Zork", "Blim")),
        ("2-Zork-2-Blim-1,3-Diol,Foo", ("2-Zork-2-Blim-1,3-Diol", "Foo")),
        ("Zork, 1, 2-Blim", ("Zork", "1, 2-Blim")),
        ("Zork (Blim), Foo (Bar) Baz", ("Zork (Blim)", "Foo (Bar) Baz")),
        ("Zork/Blim Foo, Bar", ("Zork/Blim Foo", "Bar")),
        ("FD&C Zork No. 5, Alcohol Denat.", ("FD&C Zork No. 5", "Alcohol Denat.")),
        ("Zork*, **Blim", ("Zork", "Blim")),
        ("1. Zork\n2. Blim", ("Zork", "Blim")),
        ("Zork,, , Blim,", ("Zork", "Blim")),
        ("Zork (and) Blim, Foo", ("Zork", "Blim", "Foo")),
    ],
)
def test_places_are_cut_by_their_signs(text: str, names: tuple[str, ...]) -> None:
    """Without names to go by, signs and digits alone decide."""
    assert read_label(text, WORDS).names() == names


def test_what_stands_around_names_is_noted() -> None:
    """Figures, marks, nano and codes are kept beside the name, not in it."""
    text = "Zork* 2,5 %, Blim [nano], Foo (F.I.L. B1234/5)"
    label = read_label(text, WORDS)
    assert label.names() == ("Zork", "Blim", "Foo")
    assert label.items[0].stated == Fraction(5, 2)
    assert label.items[0].marks == ("*",)
    kinds = [note.kind for note in label.notes]
    assert kinds == ["mark", "per cent", "nano", "code"]


def test_a_range_or_bound_is_no_stated_figure() -> None:
    """`60-80%` and `<5%` are noted but state no one level."""
    label = read_label("Zork 60-80%, Blim <5%", WORDS)
    assert [item.stated for item in label.items] == [None, None]
    assert [note.kind for note in label.notes] == ["per cent", "per cent"]


@pytest.mark.parametrize(
    ("text", "limits"),
    [
        ("Zork, contains 2% or less of: Blim, Foo", [None, 2, 2]),
        ("Zork, less than 1 % of Blim, Foo", [None, 1, 1]),
        ("Zork, moins de 0,5 % de : Blim", [None, Fraction(1, 2)]),
        ("Contains less than 1% of: Blim", [1]),
    ],
)
def test_a_shared_limit_holds_for_all_names_after_it(
    text: str, limits: list[Fraction | None]
) -> None:
    """ "2 % or less of" bounds each name that follows, and starts no new list."""
    label = read_label(text, WORDS)
    assert [item.at_most for item in label.items] == limits
    assert label.unordered == ""


def test_a_code_after_a_dash_is_no_name() -> None:
    """`Parfum - CODE F.I.L. D123/4` is a name and a code."""
    label = read_label("Zork, Blim - CODE F.I.L. D33728/3", WORDS)
    assert label.names() == ("Zork", "Blim")
    assert label.notes[-1].kind == "code"


@pytest.mark.parametrize("text", ["Zork (and)\nBlim\nFoo", "Zork\n(and) Blim, Foo"])
def test_a_blend_goes_on_over_a_line_end(text: str) -> None:
    """An "(and)" beside a line end ties what stands on both lines."""
    label = read_label(text, WORDS)
    assert label.names() == ("Zork", "Blim", "Foo")
    assert [item.blend for item in label.items] == [1, 1, None]


def test_blends_share_a_number() -> None:
    """The members of one "(and)" blend are told from their neighbours."""
    label = read_label("Zork, Blim (and) Foo, Bar (and) Baz", WORDS)
    assert [item.blend for item in label.items] == [None, 1, 1, 2, 2]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("Ab, Bb, Cb, Db, Eb, Fb", "alphabetical"),
        ("Active ingredient: Zork 1%. Inactive ingredients: Foo", "active"),
        ("Shampoo: Zork, Blim\nMask: Foo, Bar", "more than one list"),
    ],
)
def test_lists_that_prove_no_order_say_why(text: str, reason: str) -> None:
    """Alphabetical lists, panels and several lists are told apart from the usual."""
    assert reason in read_label(text, WORDS).unordered


@pytest.mark.parametrize("text", ["Bb, Ab, Cb, Db, Eb, Fb", "Ab, Bb, Cb"])
def test_lists_are_ordered_unless_shown_otherwise(text: str) -> None:
    """A list out of the alphabet, or too short to tell, is in descending order."""
    assert read_label(text, WORDS).unordered == ""


def test_repeated_names_are_remarked() -> None:
    """A name printed twice keeps both places, with a remark at the second."""
    label = read_label("Zork, Blim, ZORK", WORDS)
    assert len(label.items) == 3
    assert [(r.kind, r.span) for r in label.remarks] == [("repeated", (12, 16))]


GROWING = {
    "list": "Sodium Laureth Sulfate, Glycerin (x), ",
    "words": "lorem ipsum dolor ",
    "open": "(",
    "lines": "Aqua\n",
    "breaks": "Aqua-\nbb, ",
    "locants": "a-1,2-",
    "slashes": "Aqua / ",
    "figures": "5% ",
    "headings": "Ingredients: ",
    "codes": "(fil 12 ",
    "dots": "a. b@c.d ",
    "marks": "*a* ",
    "entities": "&amp",
}


@pytest.mark.slow
@pytest.mark.parametrize("piece", GROWING.values(), ids=GROWING.keys())
def test_work_grows_in_step_with_the_text(piece: str) -> None:
    """Ten times the text takes about ten times the calls, whatever the text.

    Calls are counted and not timed, so that a busy machine changes nothing; the
    times are those of `tests/bench/label_growth.py`.
    """
    small, large = (piece * (size // len(piece)) for size in (6_000, 60_000))
    read_label(piece * 9, WORDS)
    assert _calls(large) < 15 * _calls(small)


def _calls(text: str) -> int:
    count = 0

    def counted(_frame: object, event: str, _value: object) -> None:
        nonlocal count
        count += event in {"call", "c_call"}

    sys.setprofile(counted)
    try:
        read_label(text, WORDS)
    finally:
        sys.setprofile(None)
    return count
