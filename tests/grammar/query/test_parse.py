"""Questions as they are typed, and the trees they are read into."""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query

CREAM, WASH, FILM = (
    q.Name("Harbour Cream"),
    q.Name("Tideline Wash"),
    q.Name("Dimethicone"),
)
CLEARED = q.Statement(WASH, q.Clears(FILM, CREAM))
EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())

CASES = Path(__file__).parents[2] / "cases"

FIXED = {
    'what does "Harbour Cream" leave': q.What(CREAM, q.Leaves(q.Thing())),
    'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"': q.Whether(CLEARED),
    'does "Tideline Wash" clear everything from "Harbour Cream"': q.Whether(
        q.Statement(WASH, q.Clears(EVERYTHING, CREAM))
    ),
    'which washes clear "Dimethicone"': q.Which(q.Name("washes"), q.Clears(FILM)),
    'why does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"': q.About(
        q.Aspect.WHY, q.Whether(CLEARED)
    ),
    'why not does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"': q.About(
        q.Aspect.WHY, q.Whether(CLEARED), negative=True
    ),
    "is it true that only sulfates clear water-insoluble silicones": q.Claim(
        q.Statement(
            q.Quantified(q.Quantity.ONLY, q.Name("sulfates")),
            q.Clears(q.Name("water-insoluble silicones")),
        )
    ),
    'is it true that every ingredient named "*ate" is an anionic surfactant': q.Claim(
        q.Statement(
            q.Quantified(
                q.Quantity.EVERY, q.Such(q.Name("ingredient"), (q.Named("*ate"),))
            ),
            q.Is(q.Name("anionic surfactant")),
        )
    ),
}


@pytest.mark.parametrize("text", FIXED)
def test_fixed_forms_have_their_trees(text: str) -> None:
    """The forms that scripts rely on, which also print back unchanged."""
    assert parse_query(text) == FIXED[text]
    assert print_query(parse_query(text)) == text


@pytest.mark.parametrize("text", FIXED)
@pytest.mark.parametrize(
    "change",
    [
        lambda text: text + "?",
        lambda text: text + " .",
        lambda text: "  " + text.replace(" ", "   ") + " ",
        lambda text: text.replace(' "', " \u201c").replace('"', "\u201d"),
        lambda text: text.replace(' "', " \xab").replace('"', "\xbb"),
        lambda text: text.replace('"', "'"),
        lambda text: text[0].upper() + text[1:],
        lambda text: text.replace("does", "DOES").replace("which", "WHICH"),
        lambda text: text.replace(' "Dimethicone"', " Dimethicone"),
        lambda text: text.replace("clear", "clears").replace("leave", "leaves"),
        lambda text: text.replace("clear", "remove"),
    ],
    ids=range(11),
)
def test_typing_habits_make_no_difference(text: str, change: object) -> None:
    """Quotes, capitals, spaces, the mark at the end, the ending of a verb."""
    assert callable(change)
    assert parse_query(change(text)) == FIXED[text]


def test_no_goes_over_a_list_joined_by_or() -> None:
    """`no A or B` is neither, as it is said; brackets keep it to the first."""
    both = parse_query("does soap contain no silicones or waxes")
    assert both == parse_query("does soap contain no silicones and no waxes")
    first = parse_query("does soap contain (no silicones) or waxes")
    assert first != both
    assert print_query(first) == "does soap contain (no silicones) or waxes"


WHY_NOT = [
    'why not does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
    'why not "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
    'why does "Tideline Wash" not clear "Dimethicone" from "Harbour Cream"',
    'why doesn\'t "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
    'why doesn\u2019t "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
]


@pytest.mark.parametrize("text", WHY_NOT)
def test_a_negative_answer_is_asked_about_in_any_order(text: str) -> None:
    """All ways to ask why not come to the same positive statement, denied once."""
    about = parse_query(text)
    assert isinstance(about, q.About)
    assert isinstance(about.matter, q.Whether)
    said = about.matter.statement.predicate
    within = isinstance(said, q.Not)
    assert about.negative is not within
    assert (said.part if isinstance(said, q.Not) else said) == q.Clears(FILM, CREAM)


_LINES = [
    line
    for line in (CASES / "query_wordings.txt").read_text("utf-8").splitlines()
    if line and not line.startswith("#")
]
SAME = [(_LINES[at], _LINES[at + 1].strip()) for at in range(0, len(_LINES), 2)]


@pytest.mark.parametrize(("text", "canonical"), SAME)
def test_other_wordings_come_to_the_same(text: str, canonical: str) -> None:
    """Sugar is printed in the one wording that it stands for."""
    assert print_query(parse_query(text)) == canonical
    assert parse_query(canonical) == parse_query(text)


def test_a_list_belongs_to_the_nearest_word_before_it() -> None:
    """`with gums and soap` is one list; brackets make it two."""
    near = parse_query("which washes with gums and soap")
    far = parse_query("which (washes with gums) and soap")
    gums, soap, washes = q.Name("gums"), q.Name("soap"), q.Name("washes")
    assert near == q.Which(q.Such(washes, (q.Contains(q.And((gums, soap))),)))
    assert far == q.Which(q.And((q.Such(washes, (q.Contains(gums),)), soap)))


def test_a_verb_after_and_begins_another_clause() -> None:
    """`and` joins clauses where a verb follows it and nouns where none does."""
    query = parse_query("which washes clear gums and soap and do not leave minerals")
    assert isinstance(query, q.Which)
    nouns = q.And((q.Name("gums"), q.Name("soap")))
    left = q.Not(q.Leaves(q.Name("minerals")))
    assert query.predicate == q.Both((q.Clears(nouns), left))


def test_a_second_change_keeps_the_product() -> None:
    """`and had …` goes on with the label that was changed before."""
    query = parse_query(
        'suppose "Harbour Cream" had no gums and had soap at 2 % at place 3: why'
    )
    two = Decimal(2)
    assert isinstance(query, q.Suppose)
    assert query.changes == (
        q.Without(CREAM, q.Name("gums")),
        q.With(CREAM, q.Name("soap"), q.Level(two, two), 3),
    )


def test_nodes_know_where_they_stood() -> None:
    """Every name points at its own text, quotes included."""
    text = 'does "Tideline Wash" clear water-soluble gums from "Harbour Cream"'
    query = parse_query(text)
    assert isinstance(query, q.Whether)
    said = query.statement.predicate
    assert isinstance(said, q.Clears)
    assert said.source is not None
    spans = (query.statement.subject.span, said.object.span, said.source.span)
    assert [text[span.start : span.end] for span in spans] == [
        '"Tideline Wash"',
        "water-soluble gums",
        '"Harbour Cream"',
    ]
    assert text[query.span.start : query.span.end] == text


def test_reading_a_question_needs_no_lark() -> None:
    """Once the tables are kept, the library that made them is not imported."""
    code = (
        "import sys; from abluent.grammar.query.parse import parse_query;"
        "parse_query('which washes clear gums'); print('lark' in sys.modules)"
    )
    parse_query("why")
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert ran.stdout.strip() == "False"


def test_nothing_before_free_is_a_word_like_any_other() -> None:
    """`-free` says what a thing is without; by itself it says nothing."""
    assert parse_query("which -free washes") == q.Which(q.Name("-free washes"))


@pytest.mark.parametrize(
    ("free", "said"),
    [
        ('is "A" silicone-free', 'does "A" not contain silicone'),
        ("which washes are sulfate-free", "which washes do not contain sulfate"),
        (
            "is it true that washes are sulfate-free",
            "is it true that washes do not contain sulfate",
        ),
    ],
)
def test_to_be_free_of_a_thing_is_not_to_contain_it(free: str, said: str) -> None:
    assert parse_query(free) == parse_query(said)
    assert print_query(parse_query(free)) == said
