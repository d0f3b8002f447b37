"""Labels in the interactive shell: pasted, asked about, edited, never lost."""

from __future__ import annotations

import io

from abluent.shell.session.session import Session
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from sittings import LABEL, typed


def test_lines_of_a_label_are_gathered_until_an_empty_line() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nCove Cream\nconditioner\n\nshelf\n", session)
    assert "This looks like a label." in page
    assert '"Cove Cream" (conditioner) is on the shelf "mine" now' in page
    assert "5 names, 5 known" in page
    assert "Cove Cream can leave Dimethicone and Cetearyl Alcohol." in page
    assert session.shelf.labels[0].text == LABEL


def test_a_label_without_a_name_is_given_one() -> None:
    session = Session.open()
    typed(f"{LABEL}\n\n\nwash\n\n", session)
    assert [x.product for x in session.shelf.labels] == ["Product 1"]


def test_the_line_before_a_label_names_it() -> None:
    session = Session.open()
    typed(f"Quayside Rinse Nine\n{LABEL}\n\n\n\n\n", session)
    assert [x.product for x in session.shelf.labels] == ["Quayside Rinse Nine"]


def test_the_market_is_asked_and_what_is_suggested_only_offered() -> None:
    session = Session.open()
    text = "Ingredients / Inhaltsstoffe: Aqua, Glycerin, Parfum"
    typed(f"{text}\n\nOne\nwash\n\n{text}\n\nTwo\nwash\nnone\n", session)
    assert [x.market for x in session.shelf.labels] == ["EU", ""]


def test_drug_facts_suggest_the_united_states() -> None:
    session = Session.open()
    text = (
        "Drug Facts: Active ingredient: Pyrithione Zinc 1%, Inactive ingredients: Water"
    )
    page = typed(f"{text}\n\nOne\nwash\n\n", session)
    assert '"One" (wash, US) is on the shelf' in page


def test_a_market_that_is_none_is_asked_again_and_the_label_is_not_lost() -> None:
    session = Session.open()
    typed(f"{LABEL}\n\nOne\nwash\nAtlantis\nEU\n", session)
    assert [x.market for x in session.shelf.labels] == ["EU"]


def test_nothing_pasted_is_lost_when_somebody_gives_up() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\n", session)
    assert "`add` takes it up again" in page
    typed("add\n\nCove Cream\nconditioner\n\n", session)
    assert [x.text for x in session.shelf.labels] == [LABEL]


def test_a_paste_with_an_empty_line_in_it_is_not_cut() -> None:
    """Without bracketed paste an empty line seems to end the label."""
    session = Session.open()
    typed(f"{LABEL},\n\nPanthenol, Citric Acid, Linalool\nOne\nwash\n\n", session)
    (label,) = session.shelf.labels
    assert label.product == "One"
    assert label.text.endswith("Panthenol, Citric Acid, Linalool")


def test_a_label_is_gathered_under_a_prompt_of_its_own() -> None:
    out = io.StringIO()
    source = io.StringIO(f"{LABEL}\n\nOne\nwash\n\n")
    InteractiveShell(Session.open(), PlainReader(source, out, spoken=True), out).run()
    assert "label> " in out.getvalue()


def test_a_market_that_is_set_is_offered() -> None:
    session = Session.open()
    typed(f"set market US\n{LABEL}\n\nOne\nwash\n\n", session)
    assert [x.market for x in session.shelf.labels] == ["US"]


def test_the_kind_is_offered_from_the_name_and_asked_again_if_it_is_none() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nEbb Wash\nbalm\n\n\n", session)
    assert '"balm" is no kind' in page
    assert session.shelf.labels[0].kind == "wash"


def test_a_name_that_is_taken_is_asked_again_and_the_label_is_not_lost() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua")
    page = typed(f"{LABEL}\n\nEbb Wash\nwash\n\nEbb Two\n", session)
    assert "is on the shelf" in page
    assert [x.product for x in session.shelf.labels] == ["Ebb Wash", "Ebb Two"]
    assert session.shelf.labels[1].text == LABEL


def test_add_asks_for_all_there_is() -> None:
    session = Session.open()
    typed(f"add\n{LABEL}\n\nCove Cream\nconditioner\n\n", session)
    assert session.shelf.labels[0].text == LABEL
    typed("drop Cove Cream\nundo\nwater hard\n", session)
    assert session.shelf.labels[0].product == "Cove Cream"
    assert session.shelf.water == "hard"


def test_a_product_is_edited_and_renamed() -> None:
    session = Session.open()
    session.add_label("Ebb to Flow", "wash", "Aqua")
    page = typed(
        'rename "Ebb to Flow" to "Quay Wash"\nedit Quay Wash\nco-wash\n'
        "Aqua, Parfum\n\nrename Quay Wash\n",
        session,
    )
    assert '"Ebb to Flow" is called "Quay Wash" now' in page
    assert "does not say from what to what" in page
    (label,) = session.shelf.labels
    assert (label.product, label.kind) == ("Quay Wash", "co-wash")
    assert label.text == "Aqua, Parfum"
    typed("undo\nundo\n", session)
    assert session.shelf.labels[0].product == "Ebb to Flow"
