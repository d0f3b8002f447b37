"""Lists: which do, which are near, and the sentence that they begin with."""

from __future__ import annotations

import pytest
from demo_world import answer, names


@pytest.mark.slow
def test_which_keeps_those_that_do_and_lists_what_is_open() -> None:
    found = answer('which washes at least partly clear "Dimethicone"')
    assert "Tideline Wash" in names(found)
    assert "Backwater Cream Cleanser" not in names(found)
    told = (
        "Best for Dimethicone: Tideline Wash and Breakwater Wash, likely most of it, "
        "perhaps not all in one wash. Lamp Room Clarifying Wash and Plover Mild "
        "Wash take some too, as weaker cleansers. Gullwing Silk Wash "
        "and Ferryman Dandruff Wash put Dimethicone on hair themselves, whatever "
        "they take off; the other 6 take at most part, if any."
    )
    assert found.sentence == told
    assert {row.wash for row in found.others} & {"Backwater Cream Cleanser"}  # type: ignore[union-attr]
    none = answer('which washes clear "Dimethicone"').sentence
    assert none == told


@pytest.mark.slow
@pytest.mark.parametrize(
    ("question", "inside", "outside"),
    [
        ("which washes contain no sulfates", "Tideline Wash", "Breakwater Wash"),
        ("which washes without sulfates", "Tideline Wash", "Breakwater Wash"),
        ("which sulfate-free washes", "Tideline Wash", "Breakwater Wash"),
        ("which products leave nothing", "Tideline Wash", "Harbour Cream"),
        ("which products leave a silicone", "Harbour Cream", "Tideline Wash"),
        ("which conditioners", "Harbour Cream", "Tideline Wash"),
        (
            'which washes at least partly clear "Dimethicone" '
            "and do not leave silicones",
            "Tideline Wash",
            "Gullwing Silk Wash",
        ),
        (
            'which washes perhaps clear "Dimethicone"',
            "Tideline Wash",
            "Backwater Cream Cleanser",
        ),
        (
            'which washes except "Tideline Wash" at least partly clear "Dimethicone"',
            "Breakwater Wash",
            "Tideline Wash",
        ),
        (
            'which ingredients named "*cone" are silicones',
            "Dimethicone",
            "Simethicone X",
        ),
        ("which films need no wash", "Cyclopentasiloxane", "Dimethicone"),
    ],
)
def test_which(question: str, inside: str, outside: str) -> None:
    found = names(answer(question))
    assert inside in found
    assert outside not in found


def test_nobody_clears_every_silicone_and_the_nearest_are_named() -> None:
    found = answer("which washes clear silicones")
    assert not found.members
    assert found.sentence.startswith(
        "Tideline Wash and Breakwater Wash take some of each of the 6 silicones. Lamp "
        "Room Clarifying Wash and Plover Mild Wash take some, but perhaps none of "
        "Amodimethicone; "
    )
    assert found.sentence.endswith("None is shown to take all in one wash.")


def test_a_limit_and_an_order_by_mildness() -> None:
    found = answer(
        'which washes at least partly clear "Dimethicone" first 2 mildest first'
    )
    assert names(found) == ["Lamp Room Clarifying Wash", "Plover Mild Wash"]
    assert found.sentence == (
        "Lamp Room Clarifying Wash and Plover Mild Wash are the mildest that surely "
        "take some of Dimethicone."
    )


def test_those_are_the_members_of_the_last_answer() -> None:
    last = answer('which washes at least partly clear "Dimethicone"')
    kept = names(answer("which of those contain sulfates", last))
    assert kept
    assert set(kept) < set(names(last))


def test_how_many_counts_what_which_lists() -> None:
    listed = answer("which washes contain no sulfates")
    counted = answer("how many washes contain no sulfates")
    assert counted.sentence.startswith(str(len(listed.members)))


def test_many_pairs_begin_with_what_goes() -> None:
    """Classes and no counts come first."""
    found = answer("what do betaine surfactants remove").sentence
    assert found.startswith("Betaine surfactants take at least part of most oily films")
    assert "They take at most part of waxes, cationic surfactants" in found


def test_spellings_that_are_not_asked_about_are_left_out() -> None:
    """A line that was not read may be anything, and stays."""
    found = answer("which products leave proteins").notes
    assert not any("is read as" in each for each in found)
    assert any("was not read" in each for each in found)


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (
            'which washes clear "Petrolatum" and do not leave silicones',
            "Left out: Gullwing Silk Wash and Ferryman Dandruff Wash, which leave",
        ),
        (
            "which washes clear minerals",
            "Lamp Room Clarifying Wash takes some of each of the 6 hard-water "
            "minerals. The other 11 take none. None is shown to take all in one wash.",
        ),
        ("which products leave silicones", "9 of the 25 products leave silicones, "),
        (
            'which of "Amodimethicone" and "Dimethicone" hardest first',
            "Amodimethicone is the harder to take off: with",
        ),
        (
            'which washes clear "Dimethicone" first 1 mildest first',
            "The mildest that surely take some of Dimethicone: Lamp Room Clarifying "
            "Wash or Plover Mild Wash; nothing here tells which of them is the "
            "mildest.",
        ),
        (
            "is it true that every anionic surfactant clears lanolin",
            "False as said: Sodium Laureth Sulfate alone takes part of Lanolin, not "
            "all",
        ),
        (
            "is it true that no co-wash clears some silicones",
            "Cannot tell: how much of PEG-10 Dimethicone Backwater Cream Cleanser",
        ),
    ],
)
def test_a_list_begins_with_a_sentence_that_answers(question: str, said: str) -> None:
    sentence = answer(question).sentence
    assert said in sentence
    assert not sentence.startswith(("Open", "None ", "Unsupported"))


def test_washes_that_are_offered_say_what_they_leave_themselves() -> None:
    found = answer("which washes clear Polyquaternium-11")
    (note,) = [each for each in found.notes if "of their own" in each]
    guar = "Guar Hydroxypropyltrimonium Chloride and Hydrolyzed Silk"
    assert note.startswith(f"Gullwing Silk Wash (Dimethicone, {guar}), ")
    assert "Tideline" not in note
