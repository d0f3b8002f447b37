"""What is offered at the cursor, from the parser's own state."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.grammar.query.complete import NounKind, complete
from abluent.grammar.query.errors import QueryError
from abluent.grammar.query.lex import lex
from abluent.grammar.query.parse import parse_query
from hypothesis import example, given, settings
from hypothesis import strategies as st

CASES = Path(__file__).parents[2] / "cases" / "queries.txt"
LINES = [
    line for line in CASES.read_text("utf-8").splitlines() if line and line[0] != "#"
]


def words(text: str) -> set[str]:
    """The words offered after a text."""
    return {offer.text for offer in complete(text).words}


def kinds(text: str) -> set[NounKind]:
    """The kinds of name offered after a text."""
    noun = complete(text).noun
    return set(noun.kinds) if noun else set()


WORDS = [
    ("", {"which", "what", "does", "why", "suppose", "let"}, {"clear", "from"}),
    ("wh", {"which", "what", "why", "who says"}, {"does"}),
    ("which washes ", {"clear", "leave", "without", "on my shelf"}, {"from", "which"}),
    ("which washes cl", {"clear"}, {"leave"}),
    ("which washes cle", {"clear"}, {"clears"}),
    ("which washes re", {"remove"}, {"clear"}),
    ("which washes clear gums ", {"from", "and", "mildest first"}, {"clear", "at"}),
    ("which washes clear gums and ", {"leave", "every", "do"} - {"do"}, {"from"}),
    ("which washes clear gums in", {"in hard water"}, {"from"}),
    ("which washes clear gums on", {"on damaged hair", "on a heavy load"}, {"from"}),
    ("which washes clear gums on bleached or", {"on bleached or damaged hair"}, set()),
    ("which washes clear gums in warm water ", {"on damaged hair"}, {"from hard"}),
    ("which washes clear gums in ha", {"in hard water"}, {"in soft water"}),
    ("which washes on my ", {"on my shelf"}, {"from"}),
    ("which washes at ", {"at least partly"}, {"at most"}),
    ("which washes ", {"partly", "at least partly", "perhaps"}, {"which is"}),
    ("which washes clear gums ", {"in hard water", "in soft water"}, set()),
    ("is it", {"is it true that"}, {"which"}),
    ("which products contain gums at", {"at least", "at most"}, {"clear"}),
    ('suppose "A" ', {"had", "without"}, {"clear"}),
    ("why ", {"does", "not", "is it true that"}, {"clear"}),
    ("which washes (", {"clear", "not"}, {"from"}),
]


@pytest.mark.parametrize(("text", "offered", "withheld"), WORDS)
def test_words_that_may_follow(
    text: str, offered: set[str], withheld: set[str]
) -> None:
    """Words and phrases fit the place and what is typed of them."""
    assert offered <= words(text)
    assert withheld.isdisjoint(words(text))


PRODUCT, KIND, INGREDIENT = NounKind.PRODUCT, NounKind.KIND, NounKind.INGREDIENT
CLASS, FILM, SET, NEW = NounKind.CLASS, NounKind.FILM, NounKind.SET, NounKind.NEW
NAMES = [
    ("which ", {KIND, CLASS, SET}),
    ("which washes clear ", {FILM, INGREDIENT, CLASS, SET}),
    ("which washes clear gums and ", {FILM, INGREDIENT, CLASS, SET}),
    ("which washes clear every ", {FILM, INGREDIENT, CLASS, SET}),
    ("which washes clear everything except ", {FILM, INGREDIENT, CLASS, SET}),
    ("which washes clear gums from ", {PRODUCT, KIND, SET}),
    ("which washes without ", {INGREDIENT, CLASS, SET}),
    ("which washes (clear gums and contain ", {INGREDIENT, CLASS, SET}),
    ("which washes among ", {PRODUCT, KIND, SET}),
    ("what is in ", {PRODUCT, KIND, SET}),
    ("which ingredients are ", {CLASS, KIND, SET}),
    ('is "A" ', {CLASS, KIND, SET}),
    ('why is "A" not ', {CLASS, KIND, SET}),
    ("let ", {NEW}),
    ("save which washes as ", {NEW}),
    ("forget ", {SET}),
    ("compare ", {PRODUCT, KIND, SET}),
    ('compare "A" and "B" for ', {FILM, INGREDIENT, CLASS, SET}),
    ('suppose "A" had no ', {INGREDIENT, CLASS, SET}),
    ('is "A" milder than ', {PRODUCT, KIND, SET}),
    ("does ", set(NounKind) - {NEW, NounKind.SAYING}),
    ("is it true that only ", set(NounKind) - {NEW, NounKind.SAYING}),
    ("which ingredients named ", set()),
    ('which washes clear "A" ', set()),
    ("which washes clear gums first ", set()),
    ('does "A" from ', set()),
]


@pytest.mark.parametrize(("text", "expected"), NAMES)
def test_kinds_of_name_that_may_follow(text: str, expected: set[NounKind]) -> None:
    """A name is offered where one may stand, of the kinds that the place asks for."""
    assert kinds(text) == expected


NAMED = [
    ("does Tide", 5, "Tide", False),
    ("does Tideline Wa", 5, "Tideline Wa", False),
    ('does "Tideline Wa', 5, "Tideline Wa", True),
    ('does "A" clear \u201cDim', 15, "Dim", True),
    ("which washes clear ", 19, "", False),
    ('which washes clear "', 19, "", True),
    ('does "A" clear «Dim', 15, "Dim", True),
]


@pytest.mark.parametrize(("text", "start", "typed", "quoted"), NAMED)
def test_what_there_is_of_a_name(
    text: str, start: int, typed: str, quoted: bool
) -> None:
    """The offer says what to replace, and whether a quote is open."""
    noun = complete(text).noun
    assert noun is not None
    assert (noun.start, noun.typed, noun.quoted) == (start, typed, quoted)


def test_inside_quotes_no_word_is_offered() -> None:
    """A quoted name is a name to its end."""
    assert complete('does "Tideline cl').words == ()


def test_a_whole_question_is_known_as_one() -> None:
    """Enter may be pressed."""
    assert complete("which washes clear gums").complete
    assert not complete("which washes clear").complete
    assert not complete('which washes clear "gums').complete


@pytest.mark.slow
@pytest.mark.parametrize("line", LINES)
def test_every_word_of_a_question_was_offered(line: str) -> None:
    """At each word of each usual question, that word or a name was on offer."""
    for word in lex(line):
        before = line[: word.start]
        offers = complete(before)
        spelt = " ".join(word.text.lower().split())
        told = {offer.text for offer in offers.words}
        if word.kind in ("WORD", "QUOTED"):
            named = before.endswith(("named ", "say ")) or offers.noun is not None
            assert named, (before, word)
        elif word.kind not in ("NUMBER", "COMMA", "LPAR", "RPAR", "COLON", "PERCENT"):
            assert told & {spelt, *_other_forms(spelt)}, (before, word)


def _other_forms(spelt: str) -> set[str]:
    """The spelling that is offered for a word in another form."""
    forms = {
        "which of": "which",
        "do": "does",
        "are": "is",
        "how mild are": "how mild is",
        "how strong are": "how strong is",
        "a": "the",
        "an": "the",
        "was": "were",
    }
    return {spelt.removesuffix("s"), forms.get(spelt, spelt)}


@pytest.mark.slow
@given(line=st.sampled_from(LINES), at=st.integers(0, 80))
@example(line="which washes leave only water-soluble silicones", at=30)
@example(line='which washes (clear "A" or clear gums) and not', at=43)
@settings(max_examples=150, deadline=None)
def test_an_offer_taken_leaves_a_question_that_can_go_on(line: str, at: int) -> None:
    """After any offered word, something may follow or the question is whole."""
    text = line[:at]
    for offer in complete(text).words[:12]:
        taken = text[: offer.start] + offer.text + " "
        after = complete(taken)
        assert after.words or after.noun or after.complete or _wants_more(taken), taken


def _wants_more(text: str) -> bool:
    """Whether only a number, a pattern or a bracket is lacking."""
    try:
        parse_query(text)
    except QueryError as error:
        return {"a number", "a text in quotes", "`(`", "`:`", "`)`"} >= set(
            error.expected
        )
    return True
