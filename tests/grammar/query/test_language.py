"""The reference of the question language says what is so."""

import re
from importlib.resources import files

import pytest
from abluent.grammar.query import tree as q
from abluent.grammar.query.errors import QueryError
from abluent.grammar.query.lex import AFTER_NUMBER, BEFORE_NUMBER
from abluent.grammar.query.meaning import simplified
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.grammar.query.read import DEEPEST
from abluent.grammar.query.words import CONDITION, spellings

PAGE = files("abluent.grammar.query").joinpath("LANGUAGE.md").read_text("utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
EXAMPLES = [
    line for kind, block in BLOCKS if kind == "query" for line in block.splitlines()
]
PAIRS = [tuple(block.splitlines()) for kind, block in BLOCKS if kind == "same"]


@pytest.mark.parametrize("line", EXAMPLES)
def test_an_example_is_a_question_in_its_printed_wording(line: str) -> None:
    """What the page shows is what an answer is headed with."""
    assert print_query(parse_query(line)) == line


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair[0])
def test_what_is_said_to_be_the_same_is_the_same(pair: tuple[str, str]) -> None:
    """Equal as trees, or once the lists and quantities are spread out."""
    one, other = (simple(parse_query(line)) for line in pair)
    assert one == other


def simple(query: q.Query) -> q.Query:
    """A question with its predicate in the simplest form."""
    if isinstance(query, q.Which) and query.predicate is not None:
        return q.Which(
            query.subject, simplified(query.predicate), query.order, query.limit
        )
    return query


def test_every_spelling_is_listed_in_order() -> None:
    """The rows of words are those of the grammar, the printed one first."""
    rows = []
    for kind, row in spellings().items():
        if kind == CONDITION:
            continue  # Those are handed in.
        star = "*" if kind in AFTER_NUMBER | BEFORE_NUMBER else ""
        if row[0].isalpha() or " " in row[0] or star or "'" in row[0]:
            rows.append(" / ".join(f"`{spelling}`" for spelling in row) + star)
    listed = re.findall(
        r"^(`.*?)[;.]$", PAGE[PAGE.index("## The words") :], re.MULTILINE
    )
    assert sorted(listed) == sorted(rows)


def test_the_message_shown_is_the_message_given() -> None:
    """The example of an error is one."""
    (shown,) = [block for kind, block in BLOCKS if kind == "text"]
    with pytest.raises(QueryError) as caught:
        parse_query('compare "Tideline Wash" "Cove Wash"')
    assert caught.value.render() + "\n" == shown


def test_the_depth_is_the_one_stated() -> None:
    """A hundred, in words."""
    assert DEEPEST == 100
    assert "a hundred brackets" in PAGE
