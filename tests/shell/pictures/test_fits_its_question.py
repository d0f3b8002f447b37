"""A picture fits its question: its word, its heading and what it draws."""

from __future__ import annotations

from itertools import combinations

from hard_pictures import card, texts, told
from shown import demo, demo_session

_EVEN = "Of no film is either shown to take more."


def test_why_a_wash_leaves_is_drawn_as_what_it_leaves() -> None:
    why = told('why does "Gullwing Silk Wash" leave things')
    what = told('what does "Gullwing Silk Wash" leave')
    assert why.word == ""
    assert why.claim == what.claim
    assert len(why.steps) == len(what.steps) > 1


def test_no_to_all_of_it_is_no_bare_no_where_some_goes() -> None:
    said = told('does "Dune Grass Wash" clear everything from "Tarred Rope Pomade"')
    assert said.word == "Not all of it"
    assert "takes off some or all of" in said.claim


def test_a_saying_stands_above_what_is_so_and_the_heading_is_short() -> None:
    question = 'what of the saying "silicones need a sulfate wash"'
    said = told(question)
    assert said.above == "It is said: “silicones need a sulfate wash”"
    assert said.claim == "Silicones need no sulfate."
    assert len(said.chosen) == len(said.reasons) == 3
    for shape in ("16:9", "9:16", "1:1", "A4"):
        shown = texts(card(demo(question), question, shape))
        assert shown[0] == said.above


def test_what_to_mind_of_a_saying_is_what_to_do() -> None:
    said = told('what of the saying "chlorine turns hair green"')
    assert said.advice.startswith("It may take several washes")


def test_what_a_rinse_takes_is_told_without_the_stages_of_one_film() -> None:
    said = told('what does "Saltpan Rinse" clear')
    assert not said.steps
    assert not any(group.word.startswith("Well") for group in said.groups)
    assert not any(reason.startswith("It cleans") for reason in said.reasons)


def test_two_washes_of_which_neither_takes_more_are_told_by_their_cleansers() -> None:
    washes = demo_session().shelf.labels
    strong = [each.product for each in washes if each.kind == "wash"]
    pairs = (f'compare "{one}" and "{two}"' for one, two in combinations(strong, 2))
    even = (each for each in pairs if _EVEN in demo(each).sentence)
    question = next(even)
    said = told(question)
    assert "shown to take more off" in said.claim or "leave" in said.claim
    assert any(reason.startswith("They take the same of") for reason in said.reasons)
    cleans = dict(said.table.rows)["cleans with"] if said.table else ()
    assert all(cell and "It cleans" not in cell.word for cell in cleans)
