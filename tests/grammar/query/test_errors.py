"""Questions that cannot be read: the message, the place and the nearest question."""

import pytest
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.query.errors import Mistake, QueryError, advice, mistakes
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from hypothesis import given, settings
from hypothesis import strategies as st


@pytest.mark.parametrize("mistake", mistakes(), ids=lambda mistake: mistake.wrong)
def test_a_known_mistake_is_answered(mistake: Mistake) -> None:
    """Each row of the table is told apart from all the others, and mended."""
    if mistake.reads:
        parse_query(mistake.wrong)
        error = advice(mistake.wrong)
    else:
        with pytest.raises(QueryError) as caught:
            parse_query(mistake.wrong)
        error = caught.value
    assert error is not None
    assert (error.message, error.nearest) == (mistake.says, mistake.right)
    if mistake.right:
        assert print_query(parse_query(mistake.right)) == mistake.right
        assert mistake.right in error.render()


def test_the_table_is_long_enough_and_has_no_doubles() -> None:
    """Every example stands once."""
    examples = [mistake.wrong for mistake in mistakes()]
    assert len(examples) >= 60
    assert len(set(examples)) == len(examples)


MISPLACED = [
    (
        'does "Tideline Wash" claer "Dimethicone"',
        'Something is lacking between `"Tideline Wash"` and `claer`.',
        "claer",
        'does "Tideline Wash" clear "Dimethicone"',
    ),
    (
        "wich washes clear dimethicone",
        "`wich` cannot stand here.",
        "wich",
        "which washes clear dimethicone",
    ),
    (
        "what does Crystal Clear Wash leave",
        "`Wash` cannot stand here.",
        "Wash",
        'what does "Crystal Clear Wash" leave',
    ),
    (
        'does "Tideline Wash" clear from "Harbour Cream"',
        "A name is lacking before `from`; a name that has this word in it must be in "
        "quotes.",
        "from",
        'does "Tideline Wash" clear "Harbour Cream"',
    ),
    (
        'compare "Tideline Wash" "Cove Wash"',
        'Something is lacking between `"Tideline Wash"` and `"Cove Wash"`.',
        '"Cove Wash"',
        'compare "Tideline Wash" and "Cove Wash"',
    ),
    (
        "is dimethicone water-insoluble",
        "The question stops too early.",
        "",
        'is "dimethicone" water-insoluble',
    ),
    (
        'which washes (clear "Dimethicone" or leave nothing',
        "The question stops too early.",
        "",
        'which washes clear "Dimethicone" or leave nothing',
    ),
    (
        'which washes clear "Dimethicone" or gums and soap',
        "`and` and `or` stand in one list; brackets must tell what belongs together.",
        '"Dimethicone" or gums and soap',
        'which washes clear ("Dimethicone" or gums) and soap',
    ),
    (
        "which washes clear at least many silicones",
        "A number in digits must stand here, not `many`.",
        "many",
        "which washes clear many silicones",
    ),
    (
        "which washes clear gums first 2.5",
        "A count is a whole number.",
        "2.5",
        "",
    ),
    ('does "" clear gums', "There is nothing between these quotes.", '""', ""),
    ("?", "Nothing is asked.", "", ""),
    ("", "Nothing is asked.", "", ""),
    ("(", "`(` cannot stand here.", "(", ""),
    ("forget", "The question stops too early.", "", 'forget "…"'),
    (
        'does the wash "Tideline Wash" clear the silicone "Dimethicone"',
        'Something is lacking between `wash` and `"Tideline Wash"`.',
        '"Tideline Wash"',
        'does "Tideline Wash" clear "Dimethicone"',
    ),
]


@pytest.mark.parametrize(("text", "message", "word", "nearest"), MISPLACED)
def test_a_misplaced_word_is_pointed_at(
    text: str, message: str, word: str, nearest: str | None
) -> None:
    """The message names the word, the span has it, the nearest question is near."""
    with pytest.raises(QueryError) as caught:
        parse_query(text)
    error = caught.value
    assert error.message == message
    assert text[error.span.start : error.span.end] == word
    if nearest is not None:
        assert error.nearest == nearest


def test_the_page_shows_place_expectation_and_a_way_out() -> None:
    """Everything a person needs stands in what is printed."""
    with pytest.raises(GrammarError) as caught:
        parse_query('compare "Tideline Wash" "Cove Wash"')
    assert caught.value.render().splitlines() == [
        'Something is lacking between `"Tideline Wash"` and `"Cove Wash"`.',
        '  compare "Tideline Wash" "Cove Wash"',
        "                          ^^^^^^^^^^^",
        'Ask: compare "Tideline Wash" and "Cove Wash"',
    ]


def test_kinds_of_name_are_expected_by_kind() -> None:
    """Where a name is lacking, it is said of what."""
    with pytest.raises(QueryError) as caught:
        parse_query('does "Tideline Wash" clear everything from')
    assert caught.value.expected[:3] == (
        "a product",
        "a kind of product",
        "a set you named",
    )


def test_a_verb_read_as_a_name_is_found() -> None:
    """A slip inside a name is mended once the name is known to stand for nothing."""
    text = "which washes claer dimethicone"
    error = advice(text)
    assert error is not None
    assert error.nearest == "which washes clear dimethicone"
    assert text[error.span.start : error.span.end] == "claer"


def test_a_sound_question_gets_no_advice() -> None:
    """Names without slips are left alone."""
    assert advice("which washes clear dimethicone") is None


def test_nesting_without_end_is_refused() -> None:
    """A question of a thousand brackets is refused and harms nothing."""
    with pytest.raises(QueryError, match="100 brackets"):
        parse_query("which " + "(" * 1000 + "washes" + ")" * 1000)
    with pytest.raises(QueryError, match="100 brackets"):
        parse_query("which washes " + "not " * 5000 + "clear gums")


def refusal(text: str) -> QueryError | None:
    """The error that a text gives, if any."""
    try:
        parse_query(text)
    except QueryError as error:
        return error
    return None


@given(text=st.text(max_size=40))
@settings(max_examples=60, deadline=None)
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes the reader fail in another way, and what it offers is valid."""
    error = refusal(text)
    assert error is None or error.message
    assert error is None or not error.nearest or refusal(error.nearest) is None


WORDS = st.sampled_from(
    'which what does is clear leave washes "X" and or not that ( ) : , every 5 % at '
    "first from why suppose had no in hard water among let be as without".split()
)


@pytest.mark.slow
@given(words=st.lists(WORDS, max_size=9))
@settings(max_examples=60, deadline=None)
def test_any_row_of_words_is_read_or_refused(words: list[str]) -> None:
    """Nor does any row of the language's own words."""
    error = refusal(" ".join(words))
    assert error is None or error.message
    assert error is None or not error.nearest or refusal(error.nearest) is None
