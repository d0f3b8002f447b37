"""Which of a list, how many of it, what a word points back to, and sayings in parts."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.phrase.reading import Heard
from abluent.grammar.speech.read import read_speech
from few_names import FewNames

_WASH = frozenset({"kind", "wash", "agent"})
_PRODUCT = frozenset({"product", "wash", "agent"})
_FILM = frozenset({"ingredient", "film"})
_WATER = frozenset({"condition"})
NAMES = {
    "quay wash": Sense("Quay Wash", _PRODUCT),
    "reed wash": Sense("Reed Wash", _PRODUCT),
    "fen wash": Sense("Fen Wash", _PRODUCT),
    "reed pomade": Sense("Reed Pomade", frozenset({"product"})),
    "pomade": Sense("stylers", frozenset({"kind"}), "styler"),
    "wash": Sense("washes", _WASH, "wash"),
    "washes": Sense("washes", _WASH, "wash"),
    "tar": Sense("Tar", _FILM),
    "pitch": Sense("Pitch", _FILM),
    "gum": Sense("Gum", _FILM),
    "resins": Sense("resins", frozenset({"class", "film"}), "resin"),
    "resin": Sense("resins", frozenset({"class", "film"}), "resin"),
    "lyes": Sense("lyes", frozenset({"class", "agent"}), "lye salt"),
    "in hard": Sense("in hard water", _WATER, "in soft water"),
    "in soft water": Sense("in soft water", _WATER, "in hard water"),
    "lye": Sense("lyes", frozenset({"class", "agent"}), "lye salt"),
}
LEXICON = FewNames(NAMES)


def heard(text: str) -> Heard:
    """What a saying comes to."""
    return read_speech(text, LEXICON)


READ = [
    (
        "tar vs pitch vs gum, which of them comes off with quay wash",
        'which of "Tar", "Pitch" and "Gum" does "Quay Wash" clear',
    ),
    (
        "which of these does quay wash remove: tar, pitch, gum",
        'which of "Tar", "Pitch" and "Gum" does "Quay Wash" clear',
    ),
    (
        "how many of the washes here (quay wash, reed wash) take off tar and gum",
        'how many of "Quay Wash" and "Reed Wash" clear "Tar" and "Gum"',
    ),
    (
        "which of my shelf are both lye free and put down no resin",
        "which products without lyes leave no resins",
    ),
    (
        "no lye, no resin left on hair. quay wash or reed wash or fen wash",
        'which of "Quay Wash", "Reed Wash" and "Fen Wash" do not contain lyes and '
        "leave no resins",
    ),
    ("a resin: tar? pitch? gum?", 'which of "Tar", "Pitch" and "Gum" are a resin'),
    (
        "lye free washes cant remove tar. name me one that does",
        'which washes without lyes clear "Tar"',
    ),
    (
        "she puts on reed pomade, washes with quay wash. will the pomade come off",
        'does "Quay Wash" clear everything from "Reed Pomade"',
    ),
    (
        "reed pomade + quay wash only, does it build up",
        'does "Quay Wash" clear everything from "Reed Pomade"',
    ),
    ("will quay wash put tar back", 'does "Quay Wash" leave "Tar"'),
    ("quay wash or reed wash for tar and gum", 'compare "Quay Wash" and "Reed Wash"'),
    (
        "need a wash that takes off tar, no lye",
        'which washes without lyes clear "Tar"',
    ),
]


@pytest.mark.parametrize(("text", "question"), READ)
def test_a_saying_is_read(text: str, question: str) -> None:
    """As the question that keeps its list, its count and what it points back to."""
    assert heard(text).readings[0].question.startswith(question)


PARTS = [
    (
        "what is tar? and does quay wash take off gum",
        ['what is "Tar"', 'does "Quay Wash" clear "Gum"'],
    ),
    (
        "lye, tar, gum - whats the last one, does it build up",
        ['what is "Gum"', 'does "Gum" build up'],
    ),
    (
        "what is tar? does it stay? and how mild is quay wash",
        ['what is "Tar"', 'does "Tar" build up', 'how mild is "Quay Wash"'],
    ),
]


@pytest.mark.parametrize(("text", "questions"), PARTS)
def test_several_things_are_asked_apart(text: str, questions: list[str]) -> None:
    """Each as a question of its own, in the order of the text, and none at once."""
    found = heard(text)
    assert found.parts == len(questions)
    assert [each.question for each in found.readings[: found.parts]] == questions
    assert not any(each.sure for each in found.readings[: found.parts])


def test_a_step_is_no_part() -> None:
    """What only leads to a question, or to a conclusion, is not asked apart."""
    assert not heard("quay wash has lye so does it take tar off").parts
    assert not heard("tar is a resin, so it builds up").parts


def test_a_name_of_which_nothing_is_asked_is_told() -> None:
    """It is no more than left aside by one of the offers."""
    text = "does quay wash take off tar, I also have a tub of gum called bluebell"
    found = heard(text)
    spoken = " ".join(each.question for each in found.readings)
    told = [text[span.start : span.end] for span in found.aside]
    assert ("gum" in told) is ("Gum" not in spoken)


def test_whether_and_claim_of_one_thing_are_one_offer() -> None:
    """Two offers differ in what they ask, and not in their form alone."""
    found = heard("client uses reed pomade, washes with quay wash. will it come off")
    questions = [each.question for each in found.readings]
    assert questions[0] == 'does "Quay Wash" clear everything from "Reed Pomade"'
    assert not any(each.startswith('is it true that "Quay Wash"') for each in questions)


SIDES = [
    (
        "two lathers with quay wash instead of one with reed wash, the same for tar",
        ['does "Quay Wash" clear "Tar" after 2 rounds', 'does "Reed Wash" clear "Tar"'],
    ),
    (
        "does quay wash leave tar in hard or in soft water",
        [
            'does "Quay Wash" leave "Tar" in hard water',
            'does "Quay Wash" leave "Tar" in soft water',
        ],
    ),
]


@pytest.mark.parametrize(("text", "questions"), SIDES)
def test_two_sides_are_two_questions(text: str, questions: list[str]) -> None:
    """How often each wash is taken, or a condition and its opposite."""
    found = heard(text)
    assert found.parts == len(questions)
    assert [each.question for each in found.readings[: found.parts]] == questions


@pytest.mark.parametrize("count", ["3", "12", "four"])
def test_a_phrase_of_a_matter_holds_for_any_number(count: str) -> None:
    """`# times a week` is one phrase, and no list of numbers."""
    found = heard(f"quay wash {count} times a week, does it take tar off")
    assert "routine" in found.unsettled


BETWEEN = [
    (
        "what won't quay wash take off that reed wash will",
        'what is not cleared by "Quay Wash" and is cleared by "Reed Wash"',
    ),
    (
        "which resins does reed wash take off that quay wash doesn't",
        'which resins are cleared by "Reed Wash" and are not cleared by "Quay Wash"',
    ),
    (
        "what does reed pomade leave that quay wash wont take off",
        'what is left by "Reed Pomade" and is not cleared by "Quay Wash"',
    ),
]


@pytest.mark.parametrize(("text", "question"), BETWEEN)
def test_what_one_does_and_another_does_not(text: str, question: str) -> None:
    """Both are said of the film, in one question."""
    assert heard(text).readings[0].question == question


TURNS = [
    (
        "every single wash here that has no lye leaves tar",
        'is it true that all washes without lyes leave "Tar"',
    ),
    ("all washes hold lye, don't they", "is it true that all washes contain lyes"),
    (
        "no wash takes off tar unless it has lye",
        'is it true that no washes without lyes clear "Tar"',
    ),
    (
        "without lye does quay wash still take off tar",
        'suppose "Quay Wash" had no lyes: does "Quay Wash" clear "Tar"',
    ),
    (
        "which of tar, pitch and gum build up",
        'which of "Tar", "Pitch" and "Gum" build up',
    ),
    ("name two washes with lye", "which washes with lyes first 2"),
    ("so how many washes leave tar", 'how many washes leave "Tar"'),
    (
        "which takes off more, 2x quay wash or reed wash",
        'does "Quay Wash" clear everything after 2 rounds',
    ),
    ("what is in position 4 of quay wash", 'what does "Quay Wash" contain at place 4'),
    (
        "is quay wash both lye free and resin free",
        'does "Quay Wash" not contain lyes and not contain resins',
    ),
]


@pytest.mark.parametrize(("text", "question"), TURNS)
def test_a_turn_of_phrase_says_what_it_says(text: str, question: str) -> None:
    """A nod denies nothing, and a condition is kept."""
    assert heard(text).readings[0].question == question


def test_which_and_which_are_asked_apart() -> None:
    """Of the same list; a request that begins with `any` asks which too."""
    found = heard("quay wash vs reed wash: which one leaves tar and which one takes it")
    assert [each.question for each in found.readings[:2]] == [
        'which of "Quay Wash" and "Reed Wash" leave "Tar"',
        'which of "Quay Wash" and "Reed Wash" clear "Tar"',
    ]
    both = heard("any lye free one that takes off tar and leaves no gum").readings[0]
    assert both.question == 'which washes without lyes clear "Tar" and leave no "Gum"'


def test_more_than_is_a_mark_of_comparison_between_what_cleans() -> None:
    """And a list in order, where nothing is cleaned."""
    found = heard("quay wash > reed wash for tar").readings[0]
    assert found.question.endswith(
        '"Quay Wash" clear "Tar" better than "Reed Wash"'
    ) or found.question.endswith('"Quay Wash" clears "Tar" better than "Reed Wash"')


def test_no_offer_asks_which_one_product_is() -> None:
    """`which "Quay Wash" clears F` asks nothing."""
    found = heard("quay wash is gentle right? but does it do tar")
    assert [each.question for each in found.readings] == [
        'is it true that "Quay Wash" is mild, and also that "Quay Wash" clears "Tar"',
        'does "Quay Wash" clear "Tar"',
        'is "Quay Wash" mild',
    ]
    assert not any('which "Quay' in each.question for each in found.readings)


def test_no_step_needs_nothing_in_particular() -> None:
    """`and also that P needs things` asks nothing, as a claim by itself does not."""
    found = heard(
        "i put reed pomade on every wash day, will fen wash ever get it out or do i "
        "need something with lyes"
    )
    assert found.readings
    assert not any("needs things" in each.question for each in found.readings)


def test_how_mild_it_is_is_asked_as_well() -> None:
    """And is never dropped in silence where it cannot be."""
    found = heard("what does quay wash leave and how harsh is it")
    assert [each.question for each in found.readings[: found.parts]] == [
        'what does "Quay Wash" leave',
        'how mild is "Quay Wash"',
    ]


def test_one_statement_is_not_judged_twice() -> None:
    """With its condition and without, it is one."""
    found = heard("does quay wash still take off tar if it is in hard water")
    questions = [each.question for each in found.readings]
    assert not any("and also that" in each for each in questions)


def test_one_thing_asked_twice_breaks_nothing() -> None:
    """Two questions of the same things that say the same are one."""
    text = "is there a wash that gets tar off. normal shampoo for tar once enough?"
    assert heard(text).readings
