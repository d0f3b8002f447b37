"""The five rooms of the desk, without a browser."""

from __future__ import annotations

import io
import re
from urllib.parse import quote

import pytest
from abluent.shell.desk.state import Desk
from abluent.shell.session.session import Session
from abluent.shell.talk.help import examples
from desks import BASE, LABEL, ONE, Visitor, found

PART = {"X-Desk-Part": "1"}


# -- the label ---------------------------------------------------------------------


def test_a_label_is_read_beside_its_text(visitor: Visitor) -> None:
    page = visitor.type_label().text
    assert "6 names, 5 known" in page
    assert "preset: it says “shampoo”" in page
    assert "preset: its heading is in a language of the EU" in page
    assert 'href="#at-4"' in page
    assert 'id="at-4" href="#line-4"' in page
    assert "spelling mended" in page


def test_what_is_typed_survives_a_reload(visitor: Visitor) -> None:
    visitor.type_label()
    assert "Merrowex Tidal Complex" in visitor.get("/label").text


def test_a_second_tab_loses_nothing(visitor: Visitor) -> None:
    """Who saves over what another tab saved meanwhile gets a text of its own."""
    first = visitor.type_label("Aqua, Glycerin")
    stale = {"text": "Aqua, Parfum", "number": "0", "kind": "wash", "market": "EU"}
    second = visitor.post(f"/label/{visitor.key}/read", stale).text
    other = found(r'data-address="/label/([0-9a-z]{10})"', second)
    assert first.status_code == 200
    assert other != visitor.key
    assert "Aqua, Glycerin" in visitor.get(f"/label/{visitor.key}").text
    assert "Aqua, Parfum" in visitor.get(f"/label/{other}").text


def test_a_choice_stands_against_the_preset(visitor: Visitor) -> None:
    page = visitor.type_label(kind="leave-in", kind_preset="wash").text
    assert "<option selected>leave-in</option>" in page
    again = visitor.get(f"/label/{visitor.key}").text
    assert "<option selected>leave-in</option>" in again


def test_a_label_goes_on_the_shelf_without_a_name(visitor: Visitor, desk: Desk) -> None:
    visitor.type_label()
    answer = visitor.type_label(do="add", kind="wash", kind_preset="wash")
    assert answer.status_code == 302
    # Its first line is its name; a second of that name is numbered.
    label = desk.session.shelf.find("Quayside Shampoo")
    assert label is not None
    assert (label.kind, label.market, label.text) == ("wash", "EU", LABEL)
    visitor.key = ""
    visitor.type_label()
    visitor.type_label(do="add", kind="wash", kind_preset="wash")
    assert desk.session.shelf.find("Wash 1") is not None


def test_an_empty_label_is_refused_and_said(visitor: Visitor) -> None:
    assert "is empty" in visitor.type_label("", do="add").text


@pytest.mark.long
def test_an_unread_name_is_taught(visitor: Visitor) -> None:
    visitor.type_label()
    same = {"unread": "Merrowex Tidal Complex", "known": "Glycerin"}
    page = visitor.post(f"/label/{visitor.key}/same", same).text
    assert "means Glycerin from now on" in page
    assert "6 names, 6 known" in page


def test_what_cannot_be_taught_says_why(visitor: Visitor) -> None:
    visitor.type_label()
    same = {"unread": "Merrowex Tidal Complex", "known": "Nothingium"}
    page = visitor.post(f"/label/{visitor.key}/same", same).text
    assert "is no ingredient of the base" in page


# -- the shelf ---------------------------------------------------------------------


def test_a_product_shows_what_it_leaves_and_clears(visitor: Visitor) -> None:
    cream = visitor.get(f"/shelf/product/{quote('Harbour Cream')}").text
    assert "leaves silicone fluids: Dimethicone" in cream
    assert "not known whether it leaves" in cream
    assert "strand-film" in cream
    wash = visitor.get(f"/shelf/product/{quote('Tideline Wash')}").text
    assert "how well it takes off" in wash
    assert "In part: waxes, cationic surfactants, Amodimethicone, " in wash
    assert "Well: film-formers except waxes, " in wash
    assert "(17)" not in wash


def test_what_is_left_out_is_told_with_its_reason(visitor: Visitor, desk: Desk) -> None:
    desk.session.add_label("Odd Bottle", "other", "Aqua, Glycerin")
    page = visitor.get("/shelf").text
    assert "1 left out of some questions" in page
    assert "its kind is not known" in page


def test_a_shelf_comes_and_goes_as_a_file(visitor: Visitor, desk: Desk) -> None:
    file = (io.BytesIO(b"product,kind,market,text\nA,wash,EU,Aqua\n"), "a.csv")
    page = visitor.post("/shelf/import", {"file": file}).text
    assert "1 of 1 products put on" in page
    assert desk.session.shelf.name == "mine"
    assert '"product": "A"' in visitor.get("/shelf/export", form="jsonl").text


def test_undo_says_what_it_took_back(visitor: Visitor, desk: Desk) -> None:
    desk.session.add_label("Odd Bottle", "wash", "Aqua, Glycerin", "EU")
    answer = visitor.post("/shelf/undo", follow_redirects=True)
    assert "Odd Bottle" in answer.text
    assert "is off the shelf again" in answer.text


def test_what_the_shell_adds_meanwhile_is_seen(visitor: Visitor, desk: Desk) -> None:
    desk.session.add_label("One", "wash", "Aqua", "EU")
    Session.open(own=True).add_label("From the shell", "wash", "Aqua, Parfum", "EU")
    assert "From the shell" in visitor.get("/shelf").text
    visitor.type_label(name="From the desk", do="add", kind="wash")
    names = [each.product for each in Session.open(own=True).shelf.labels]
    assert names == ["One", "From the shell", "From the desk"]


def test_an_answer_is_of_the_shelf_as_it_is_now(visitor: Visitor, desk: Desk) -> None:
    cream = "Aqua, Cetearyl Alcohol, Dimethicone"
    desk.session.add_label("One", "conditioner", cream, "EU")
    asked = 'what does "One" leave'
    assert "Dimethicone" in visitor.get("/question", q=asked).text
    Session.open(own=True).edit("One", text="Aqua, Glycerin")
    answer = visitor.get("/question", q=asked).text
    assert "One is not known to leave any film" in answer


# -- the question ------------------------------------------------------------------


def test_an_answer_opens_down_to_label_line_rule_and_source(visitor: Visitor) -> None:
    page = visitor.get("/question", q=ONE).text
    assert "Tideline Wash takes most of Dimethicone from Harbour Cream off" in page
    assert "strand-unknown" in page
    row = visitor.get("/question/row", q=ONE, n="0").text
    assert "Read on the label of Tideline Wash, line 1, column" in row
    assert "By rule <code>" in row
    assert "Source: " in row


@pytest.mark.long
def test_menus_type_the_question(visitor: Visitor) -> None:
    page = visitor.get("/question", form="which", film="Dimethicone").text
    typed = "which washes at least partly clear &#34;Dimethicone&#34;"
    assert f'value="{typed}"' in page
    assert "Breakwater Wash" in page


def test_a_switch_shows_what_changes(visitor: Visitor) -> None:
    asked = 'does "Shingle Soap Wash" clear "lime soap"'
    hard = visitor.get("/question", q=asked, water="soft").text
    assert "change" in found(r'(?s)<div role="status">(.*?)</div>', hard)
    same = visitor.get("/question", q=ONE, water="hard").text
    assert "Nothing changes." in same


def test_free_speech_is_offered_as_questions(visitor: Visitor) -> None:
    asked = "lamp room vs breakwater for gel resdue"
    page = visitor.get("/question", q=asked).text
    assert "Is this meant?" in page
    assert "compare &#34;Lamp Room Clarifying Wash&#34;" in page


def test_what_cannot_be_read_says_why(visitor: Visitor) -> None:
    assert 'class="fault"' in visitor.get("/question", q="does xyzzy").text


def test_many_verdicts_begin_with_a_graded_word(visitor: Visitor) -> None:
    page = visitor.get("/question", q="which washes clear silicones").text
    graded, every = page.split("Every verdict with its reasons")
    assert "<strong>Well</strong>: Tideline Wash" in graded
    assert "<strong>Takes off and puts on</strong>: Gullwing Silk Wash" in graded
    assert "at most partly clears" not in graded
    assert "at most partly clears" in every


def test_no_question_ends_without_another_to_ask(visitor: Visitor, desk: Desk) -> None:
    """What is offered names only what is on the shelf, and is answered."""
    for asked in ("", "my hair is sad", "does xyzzy"):
        page = visitor.get("/question", q=asked).text
        assert re.search("[Ff]or example", page), asked
    assert "no label tells" in visitor.get("/question", q="my hair is sad").text
    for each in examples(desk.fresh().shelf):
        assert desk.answer(each).sentence


def test_a_label_is_called_by_its_first_line(visitor: Visitor) -> None:
    visitor.type_label()
    page = visitor.get(f"/label/{visitor.key}").text
    assert "It is called “Quayside Shampoo” if you name it nothing else." in page


def test_a_line_is_completed(visitor: Visitor) -> None:
    options = visitor.get("/question/offers", q='does "Tide').text
    assert "does &#34;Tideline Wash&#34;" in options


# -- the week ----------------------------------------------------------------------

WEEK = {
    "product-0": "Tideline Wash",
    "days-0": ["Wednesday", "Sunday"],
    "product-1": "Harbour Cream",
    "after-1": "1",
    "do": "account",
}


def test_films_grow_and_shrink_with_both_bounds(visitor: Visitor) -> None:
    page = visitor.post("/week", WEEK).text
    assert "Dimethicone from Harbour Cream" in page
    # Films of one family that do the same from day to day share a card.
    assert page.count("<h3>Hard-water minerals from water</h3>") == 1
    assert "<h3>iron from water" not in page
    assert "iron from water" in page
    assert 'class="worst"' in page.replace("'", '"')
    assert 'class="best"' in page.replace("'", '"')
    assert "wash with &#34;Tideline Wash&#34; on Wednesday and Sunday" in page


@pytest.mark.long
def test_the_week_is_kept(visitor: Visitor) -> None:
    visitor.post("/week", {**WEEK, "days-0": ["Friday"]})
    page = visitor.get("/week").text
    assert "wash with &#34;Tideline Wash&#34; on Friday" in page


def test_a_plan_has_its_reasons(visitor: Visitor) -> None:
    chosen = "a wash that the plan chooses"
    aim = "clear silicones every wash"
    page = visitor.post(
        "/week", {**WEEK, "product-0": chosen, "aim": aim, "do": "plan"}
    )
    assert "Wash with Lamp Room Clarifying Wash on Wednesday" in page.text
    assert "Its reasons" in page.text


@pytest.mark.parametrize("do", ["account", "plan"])
def test_a_week_and_its_plan_are_saved_as_pictures(visitor: Visitor, do: str) -> None:
    chosen = "a wash that the plan chooses"
    week = {**WEEK, "aim": "clear silicones every wash", "do": do}
    if do == "plan":
        week["product-0"] = chosen
    source = found(
        r'href="(/week/picture\.png[^"]*)"', visitor.post("/week", week).text
    )
    answer = visitor.client.get(source, base_url=BASE)
    assert answer.data.startswith(b"\x89PNG"), answer.text
    assert answer.data[16:24] == b"".join(n.to_bytes(4, "big") for n in (1080, 1920))
    assert "week.png" in answer.headers["Content-Disposition"]


def test_an_empty_week_says_what_to_do(visitor: Visitor) -> None:
    page = visitor.post("/week", {"product-0": "", "span": "for 4 weeks"}).text
    assert "choose a product and its days" in page


# -- the picture -------------------------------------------------------------------


@pytest.mark.parametrize(
    "shape",
    ["9:16", *(pytest.param(s, marks=pytest.mark.long) for s in ("1:1", "16:9", "A4"))],
)
def test_a_picture_is_shown_told_and_saved(visitor: Visitor, shape: str) -> None:
    page = visitor.get("/picture", q=ONE, shape=shape).text
    source = found(r'src="(/picture/file\.svg[^"]*)"', page).replace("&amp;", "&")
    alt = "Tideline Wash takes off Dimethicone from Harbour Cream well."
    assert f'alt="{alt}' in page
    assert visitor.get(source).data.startswith(b"<?xml")
    png = visitor.get(source.replace(".svg", ".png"))
    assert png.data.startswith(b"\x89PNG")


def test_reasons_are_chosen(visitor: Visitor) -> None:
    every = visitor.get("/picture", q=ONE).text
    none = visitor.get("/picture", q=ONE, picked="1").text
    assert every.count(" checked> <span>") == 3
    assert none.count(" checked> <span>") == 0


def test_colours_that_can_hardly_be_read_are_refused(visitor: Visitor) -> None:
    page = visitor.get("/picture", q=ONE, ink="#aaaaaa", paper="#bbbbbb").text
    assert "can hardly be read" in page


def test_a_letter_that_nothing_draws_is_warned_of(visitor: Visitor) -> None:
    page = visitor.get("/picture", q=ONE, handle="quay \U000e0fff").text
    assert "an empty box would stand" not in page  # it cannot be seen at all
    page = visitor.get("/picture", q=ONE, handle="\u1703 quay").text
    assert "No typeface on this machine draws" in page


def test_handle_and_colours_are_kept(visitor: Visitor) -> None:
    kept = {"handle": "@quay.class", "ink": "#102030", "paper": "#ffffff"}
    visitor.post("/picture/keep", kept)
    page = visitor.get("/picture", q=ONE).text
    assert 'value="@quay.class"' in page
    assert 'value="#102030"' in page


# -- parts of pages ----------------------------------------------------------------


def test_a_part_is_the_page_less_its_frame(visitor: Visitor) -> None:
    path = f"/shelf/product/{quote('Harbour Cream')}"
    part = visitor.client.get(path, base_url="http://127.0.0.1:8000", headers=PART)
    assert "<html" not in part.text
    assert "leaves silicone fluids" in part.text


def test_what_is_not_there_is_said(visitor: Visitor) -> None:
    answer = visitor.get("/shelf/product/Nothing")
    assert answer.status_code == 422
    assert "Nothing" in answer.text
    assert visitor.get("/cellar").status_code == 404
