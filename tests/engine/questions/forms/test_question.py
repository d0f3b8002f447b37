"""What a thing is and leaves, what is told beside, and what cannot be answered."""

from __future__ import annotations

import re

import pytest
from abluent.engine.questions.forms.question import Unanswerable, UnknownName
from demo_world import answer, names


def test_what_a_wash_hides_is_what_it_leaves_and_what_does_not_count() -> None:
    left = answer('what does "Gullwing Silk Wash" hide')
    assert "Dimethicone" in names(left)
    assert left.sentence.startswith("No name is hidden on the label of Gullwing Silk")
    assert "easy to miss: Gullwing Silk Wash leaves Dimethicone, Guar" in left.sentence
    complex_ = answer('what does "Kelp Line Curl Cream" hide').sentence
    assert complex_.startswith("Merrowex Tidal Complex on the label of Kelp Line")
    open_ = answer('what does "Harbour Cream" hide')
    assert not open_.rows  # a conditioner that prints its silicone hides nothing
    hidden = answer('what does "Fog Bank Wash" hide')
    assert "Sodium Cocoyl Isethionate" in names(hidden)
    assert "Isethionate" not in hidden.sentence  # that it may do no work is not asked


def test_what_is_tells_the_class_with_its_source() -> None:
    found = answer('what is "Dimethicone"')
    assert "silicone fluid" in found.sentence
    assert all(row.sources for row in found.rows)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("wash", "what"),
    [
        ("Gullwing Silk Wash", '"Dimethicone"'),
        ("Sandpiper Wash", '"Amodimethicone"'),
        ("Sandpiper Wash", '"Cera Alba"'),
        ("Dune Grass Wash", '"Dimethiconol" from "Glass Float Serum"'),
        ("Shingle Soap Wash", '"Polyquaternium-7"'),
        ("Plover Mild Wash", 'everything from "Mooring Mask"'),
    ],
)
def test_the_washes_named_beside_are_those_of_the_list(wash: str, what: str) -> None:
    """All where they are few; else the mildest, how many more, and how to ask."""
    notes = answer(f'does "{wash}" clear {what}').notes
    (note,) = (each for each in notes if each.startswith("Of the washes at hand "))
    listed = answer(f"which washes at least partly clear {what}")
    names = {item.key for item in listed.members}
    named = {name for name in names if name in note}
    more = re.search(r"and (\d+) more take .*; all: `(.*)`\.", note)
    assert len(named) + (int(more[1]) if more else 0) == len(names)
    assert bool(more) == (len(names) > 4)
    if more:
        assert answer(more[2]).members == listed.members


def test_no_wash_is_named_beside_where_one_takes_part() -> None:
    found = answer('does "Tideline Wash" clear "Amodimethicone"')
    assert not any("at hand" in each for each in found.notes)


def test_a_name_of_several_kinds_is_told_alike_everywhere() -> None:
    """As in a verdict, so where it is asked what it is."""
    kinds = "may be a dispersible PEG silicone or soluble PEG silicone"
    for asked in ("what is {}", "is {} a silicone", "is {} a water-soluble silicone"):
        assert kinds in answer(asked.format('"PEG-12 Dimethicone"')).sentence


@pytest.mark.slow
def test_two_ingredients_are_compared() -> None:
    """Neither is a product, and neither leaves a film of its own."""
    found = answer('compare "Sodium Laureth Sulfate" and "Decyl Glucoside"')
    assert len(found.compared) == 2


def test_an_unknown_name_is_told_with_its_place_and_what_is_near() -> None:
    with pytest.raises(UnknownName) as caught:
        answer('does "Tidline Wash" clear "Dimethicone"')
    assert caught.value.name == "Tidline Wash"
    assert "Tideline Wash" in caught.value.near


def test_pointing_back_needs_an_answer_to_point_to() -> None:
    with pytest.raises(Unanswerable):
        answer("which of those contain sulfates")


def test_what_is_no_film_cannot_be_cleared() -> None:
    with pytest.raises(Unanswerable, match="leaves no film"):
        answer('does "Tideline Wash" clear "Citric Acid"')


def test_what_is_no_product_leaves_nothing_to_tell() -> None:
    with pytest.raises(Unanswerable, match="names no product"):
        answer("what does water-insoluble silicone leave")


def test_a_thing_is_described_by_what_it_is() -> None:
    """What a label shows by it is told after what kind of thing it is."""
    described = answer('what is "Sodium Benzoate"')
    assert described.sentence.startswith("Sodium Benzoate is a preservative: ")


def test_what_an_ingredient_is_comes_with_the_law_that_names_it() -> None:
    """A limit, a ban, and for a class those on its members; of others nothing."""
    one = answer('what is "Methylisothiazolinone"')
    assert any("0.0015 %" in note and "Annex V 57" in note for note in one.notes)
    assert any("barred from leave-on" in note for note in one.notes)
    assert any("0.0015 %" in n for n in answer("what are isothiazolinones").notes)
    assert not answer('what is "Dimethicone"').notes


def test_what_a_film_does_and_how_far_it_goes() -> None:
    """What it is, what it does, what one wash takes of it, and how sure that is."""
    found = answer('what is "Dimethicone"')
    assert "coats hair with a slippery film" in found.sentence
    assert "In one wash water takes none of it" in found.sentence
    assert found.sentence.endswith("(common practice).")
    kinds = [each.kind for each in found.findings]
    assert kinds == ["washDayAdvice", "labelSilence"]
    assert "No wash is needed" in answer('what is "Cyclopentasiloxane"').sentence


def test_what_a_name_of_several_grades_does_is_what_all_of_them_do() -> None:
    """Whether it dissolves, one grade does and another does not."""
    assert "dissolves in water" not in answer('what is "PEG-8 Dimethicone"').sentence


@pytest.mark.parametrize(
    ("asked", "says", "below"),
    [
        ('"Parfum"', "need not be named", "0.001 %"),
        ('"EDTA"', "disodium or tetrasodium EDTA", "a trace binds next to nothing"),
        ('"Behentrimonium Methosulfate"', "no sulfate cleanser", "after rinsing"),
        ('"Cocamidopropyl Betaine"', "cancels nothing", "order down to 1 %"),
    ],
)
def test_what_is_said_of_a_thing_and_what_no_label_tells(
    asked: str, says: str, below: str
) -> None:
    found = answer(f"what is {asked}")
    assert says in found.sentence
    assert below in found.findings[-1].items[0]


@pytest.mark.parametrize(
    ("kind", "says"),
    [("chelants", "takes no silicone"), ("sulfonates", "sits straight on carbon")],
)
def test_what_a_class_does(kind: str, says: str) -> None:
    assert says in answer(f"what are {kind}").sentence
