"""Conditions: from the words of a question, a shelf or a routine to the base's own."""

import re

import pytest
from abluent.engine.base.conditions import (
    ConditionError,
    aspect_of,
    aspects,
    excludes,
    in_note,
    laid_over,
    stated,
)
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.grammar.query.words import spellings
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.shelf.shelf import ASPECTS

BASE = Base.load()
CONDITIONS = BASE.instances(BASE.term(Role.CONDITION))


def test_every_phrase_of_the_language_states_a_condition() -> None:
    """What may stand in a question is known to the base."""
    for phrase in spellings()["CIRCUMSTANCE"]:
        assert stated(BASE, [phrase])


def test_every_condition_can_be_stated_in_a_question() -> None:
    """The label of each condition is a phrase of the language."""
    assert {BASE.label(each) for each in CONDITIONS} <= {*spellings()["CIRCUMSTANCE"]}


@pytest.mark.parametrize("aspect", ASPECTS)
def test_a_shelf_has_the_words_of_the_base(aspect: str) -> None:
    """What a shelf may say of an aspect is what the base has words for."""
    assert {*ASPECTS[aspect]} == {*aspects(BASE)[aspect]}


def test_the_water_of_a_routine_has_the_words_of_the_base() -> None:
    """A line of a routine takes every word for water and its temperature."""
    words = {*aspects(BASE)["water"], *aspects(BASE)["temperature"]}
    for word in sorted(words):
        (routine,) = parse_routines(f'water is {word}\nuse "Ebb" daily')
        assert routine.water == (word,)


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
    assert in_note(BASE, "hair", note) == read
