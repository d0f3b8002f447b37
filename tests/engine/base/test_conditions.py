"""Conditions: from the words of a question, a shelf or a routine to the base's own."""

import re

import pytest
from abluent.engine.base.conditions import (
    ConditionError,
    aspect_of,
    aspects,
    excludes,
    in_line,
    laid_over,
    phrases,
    speaking,
    stated,
)
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.shelf.words import shelf_words

BASE = Base.load()
CONDITIONS = BASE.instances(BASE.term(Role.CONDITION))


def test_every_phrase_states_a_condition_in_a_question() -> None:
    """What the base has several words for may stand in a question, and only that."""
    with speaking(BASE):
        for phrase in phrases(BASE):
            query = parse_query(f'does "A" clear "B" {phrase}')
            assert print_query(query).endswith(f" {phrase}")
            assert stated(BASE, [phrase])
    assert "in hard water" not in str(parse_query('which washes clear "B"'))


def test_the_language_itself_knows_no_condition() -> None:
    """Nothing of the base is written into the grammar."""
    with pytest.raises(GrammarError):
        parse_query('does "A" clear "B" in hard water')


def test_every_condition_can_be_stated_in_a_question() -> None:
    """The label of each condition is one of the phrases."""
    assert {BASE.label(each) for each in CONDITIONS} <= {*phrases(BASE)}


def test_a_shelf_has_the_words_of_the_base() -> None:
    """A shelf may say of every aspect what the base has words for."""
    assert shelf_words().aspects == {a: (*w,) for a, w in aspects(BASE).items()}


def test_a_routine_has_the_words_of_the_base() -> None:
    """A line of a routine takes every word of every aspect, and states it."""
    for aspect, words in aspects(BASE).items():
        for word, condition in words.items():
            (routine,) = parse_routines(f'{aspect} is {word}\nuse "Ebb" daily')
            (said,) = routine.washing
            assert in_line(BASE, said.aspect, said.words) == (condition,)


@pytest.mark.parametrize(
    ("aspect", "words", "states"),
    [
        ("water", "soft and warm", ("inSoftWater", "warmWater")),
        ("water", "Hard, and cold", ("inHardWater", "coldWater")),
        ("rubbing", "none", ("withoutRubbing",)),
    ],
)
def test_a_line_may_state_several(
    aspect: str, words: str, states: tuple[str, ...]
) -> None:
    """Joined by commas or `and`; water is warm, though that is its temperature."""
    assert in_line(BASE, aspect, words) == states


@pytest.mark.parametrize(
    ("aspect", "words", "told"),
    [
        ("water", "hrad", "not `hrad`"),
        ("colour", "red", "`colour` is nothing that is known of washing"),
    ],
)
def test_a_word_that_states_nothing_is_refused(
    aspect: str, words: str, told: str
) -> None:
    """With the words that would do."""
    with pytest.raises(ConditionError, match=told):
        in_line(BASE, aspect, words)


def test_every_condition_has_an_aspect_and_a_claim_or_a_side() -> None:
    """None is there for nothing: a claim or caution names it, or its opposite."""
    claims = [s for s in BASE.symbols if BASE.record(s).space == "claim"]
    used = {
        each
        for claim in claims
        for name in ("when", "appliesTo")
        for each in BASE.record(claim).links(name)
    }
    for each in CONDITIONS:
        assert all(aspect_of(BASE, each))
        assert each in used


def test_opposites_are_stated_on_both_sides() -> None:
    """A condition and its opposite name one another."""
    for each in CONDITIONS:
        for other in BASE.record(each).links("opposite"):
            assert each in BASE.record(other).links("opposite")


def test_deionised_water_is_soft_and_no_hard_water() -> None:
    """What excludes a wider condition excludes the narrower too."""
    assert excludes(BASE, "inDeionisedWater", "inHardWater")
    assert not excludes(BASE, "inDeionisedWater", "inSoftWater")
    assert not excludes(BASE, "inSaltWater", "inHardWater")


def test_a_question_stands_above_the_shelf() -> None:
    """What a question says takes the place of what excludes it, and of no more."""
    shelf = ["inHardWater", "damagedHair"]
    assert laid_over(BASE, shelf, ["inSoftWater"]) == ("inSoftWater", "damagedHair")


def test_two_that_exclude_one_another_are_refused() -> None:
    """The message names both."""
    with pytest.raises(ConditionError, match="`in hard water` and `in soft water`"):
        stated(BASE, ["hard", "in soft water"])


def test_an_unknown_word_is_refused_with_what_is_known() -> None:
    """The message names the word and lists the conditions."""
    with pytest.raises(ConditionError, match=re.escape("`wet`")) as caught:
        stated(BASE, ["wet"])
    assert "in hard water" in str(caught.value)


@pytest.mark.parametrize(
    ("note", "read"),
    [
        ("bleached twice, fine", ("damagedHair",)),
        ("fine, permed", ("damagedHair",)),
        ("virgin", ("undamagedHair",)),
        ("not bleached", ()),
        ("hard to comb", ()),
        ("", ()),
    ],
)
def test_a_note_on_hair_is_read_by_the_words_it_begins_with(
    note: str, read: tuple[str, ...]
) -> None:
    """Each part between commas; words of another aspect mean nothing there."""
    assert in_line(BASE, "hair", note) == read
