"""Questions asked in one command: what is answered, printed and refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.shell.command.runs import question_of
from commanded import QUERY, Run


@pytest.mark.slow
def test_an_answer_is_one_json_object_with_the_keys_that_scripts_rely_on(
    run: Run,
) -> None:
    (answer,) = run("ask", "--json", QUERY).objects
    assert answer["query"] == QUERY
    (row,) = answer["answers"]
    assert row["wash"] == "Tideline Wash"
    assert row["film"] == "Dimethicone"
    assert row["from"] == "Harbour Cream"
    assert row["verdict"] == "at least partly clears"
    assert row["disputed"] == []
    assert row["standing"] == "common practice"
    assert (
        "Tideline Wash lifts at least part of Dimethicone (fluid grade)."
        in (row["reasons"])
    )
    assert row["reasons"][-1].startswith("Nothing here bounds from above what Tide")
    least, most = row["at_least"], row["at_most"]
    assert (least["effect"], most["effect"]) == ("part", "all")
    assert (least["standing"], most["standing"]) == ("common practice",) * 2
    proofs = {row["proof"], least["proof"], most["proof"]}
    assert [len(proof) for proof in proofs] == [16] * 3


@pytest.mark.slow
def test_where_no_wash_is_needed_there_are_no_ends(run: Run) -> None:
    query = 'which films does "Tideline Wash" clear'
    (answer,) = run("ask", "--json", query).objects
    rows = {row["film"]: row for row in answer["answers"]}
    row = rows["Isododecane"]
    assert row["verdict"] == "no wash needed"
    assert (row["at_least"], row["at_most"], row["disputed"]) == (None, None, [])


@pytest.mark.slow
def test_what_a_product_leaves_is_told_by_a_word(run: Run) -> None:
    (answer,) = run("ask", "--json", 'what does "Harbour Cream" leave').objects
    assert {row["leaves"] for row in answer["answers"]} == {"yes"}
    assert {row["leaves"] for row in answer["others"]} <= {"may", "no", "not known"}
    assert not any("verdict" in row for row in answer["answers"])


@pytest.mark.slow
def test_a_judged_claim_has_a_witness_and_a_proof(run: Run) -> None:
    claim = (
        "is it true that only sulfates at least partly clear water-insoluble silicones"
    )
    (answer,) = run("ask", "--json", claim).objects
    assert answer["claim"] == "refuted"
    assert answer["witness"] == "Tideline Wash"
    assert len(answer["proof"]) == 16


@pytest.mark.slow
def test_a_claim_that_no_known_case_refutes_is_not_refuted(run: Run) -> None:
    """A wash that takes at least part may take all, and may not."""
    claim = "is it true that only sulfates clear water-insoluble silicones"
    (answer,) = run("ask", "--json", claim).objects
    assert answer["claim"] == "unsupported"


@pytest.mark.slow
def test_what_the_trade_usually_puts_in_can_be_left_aside(run: Run) -> None:
    """T23 and T25: custom bounds the silicone of a conditioner; law does not."""
    query = 'does "Harbour Cream" contain "Dimethicone" above 0.4 %'
    (usual,) = run("ask", "--json", query).objects
    (lawful,) = run("ask", "--json", "--no-practice", query).objects
    assert usual["sentence"] == (
        "Yes, as it is usually used: Dimethicone makes more than 0.4 % of Harbour "
        "Cream. Dimethicone is number 3 of 25 on the list, which prints no amounts."
    )
    assert usual["answers"][0]["standing"] == "common practice"
    assert usual["answers"][0]["open"] is False
    assert lawful["sentence"] == (
        "Cannot tell: Dimethicone is number 3 of 25 on the list, which prints no "
        "amounts. The list allows above 0 and below 33.33 % of its weight."
    )
    assert lawful["answers"][0]["open"] is True
    assert lawful["answers"][0]["product"] == "Harbour Cream"
    assert lawful["answers"][0]["standing"] == "law or standard"


def test_an_answer_for_people_begins_with_the_verdict(run: Run) -> None:
    ran = run("ask", QUERY)
    assert ran.code == 0
    assert ran.out.startswith(
        "Yes, likely: Tideline Wash takes most of Dimethicone from Harbour Cream off,"
        "\nperhaps not all in one wash, by common practice."
        "\n  1. "
    )
    for heading in ("\n  2. ", "Sources: [1] ", "On wash day: ", "Mind: "):
        assert heading in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_a_narrow_terminal_is_fine(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "32")
    assert max(map(len, run("ask", QUERY).out.splitlines())) <= 32


@pytest.mark.slow
def test_ones_own_shelf_is_asked(run: Run, shelf: Path) -> None:
    query = 'which washes clear "Dimethicone"'
    (answer,) = run("ask", "--json", "--shelf", str(shelf), query).objects
    washes = [row["wash"] for row in answer["answers"] + answer["others"]]
    assert washes == ["Ebb Wash"]


@pytest.mark.slow
def test_several_shelves_are_asked_as_one(run: Run, shelf: Path) -> None:
    words = ("ask", "--json", "--shelf", "demo", "--shelf", str(shelf))
    query = 'does "Ebb Wash" clear "Dimethicone" from "Harbour Cream"'
    (answer,) = run(*words, query).objects
    assert answer["answers"][0]["wash"] == "Ebb Wash"


@pytest.mark.slow
def test_every_question_of_a_file_is_answered_in_turn(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "queries.txt"
    path.write_text(f"{QUERY}\n\nwhich wahes clear\n{QUERY}\n")
    ran = run("ask", "--json", "--queries", str(path))
    assert ran.code == 1
    first, second, third = ran.objects
    assert first == third
    assert second["query"] == "which wahes clear"
    assert "clear" in second["error"]


def test_questions_come_from_standard_input(run: Run) -> None:
    ran = run("ask", "--json", "-", typed=QUERY.encode())
    assert ran.objects[0]["query"] == QUERY


def test_words_after_two_hyphens_are_the_question(run: Run) -> None:
    assert run("ask", "--json", "--", QUERY).objects[0]["query"] == QUERY


@pytest.mark.parametrize(
    ("words", "question"),
    [
        (["which washes"], "which washes"),
        (
            ["does", "Tideline Wash", "clear", "Dimethicone"],
            'does "Tideline Wash" clear Dimethicone',
        ),
        (["does", '"Ebb Wash"', "clear", "it"], 'does "Ebb Wash" clear it'),
        ([], ""),
    ],
)
def test_a_question_of_several_words_keeps_its_names(
    words: list[str], question: str
) -> None:
    assert question_of(words) == question


# ------------------------------------------------------- errors, each with a place


def test_a_mistyped_question_is_pointed_at(run: Run) -> None:
    ran = run("ask", 'does "Tideline Wash" cleer "Dimethicone"')
    assert (ran.code, ran.out) == (2, "")
    lines = ran.err.splitlines()
    assert any(line.endswith('cleer "Dimethicone"') for line in lines)
    assert any(line.strip() == "^^^^^" for line in lines)
    assert 'does "Tideline Wash" clear "Dimethicone"' in ran.err


def test_an_unknown_product_is_pointed_at_with_what_is_near(run: Run) -> None:
    ran = run("ask", 'does "Tideline Wsh" clear "Dimethicone"')
    assert ran.code == 2
    assert ran.err.splitlines() == [
        'there is no product called "Tideline Wsh"',
        '    does "Tideline Wsh" clear "Dimethicone"',
        "         ^^^^^^^^^^^^^^",
        '  did you mean "Tideline Wash"?',
    ]


def test_an_error_is_an_object_too(run: Run) -> None:
    ran = run("ask", "--json", "which")
    assert ran.objects[0]["query"] == "which"
    assert ran.objects[0]["error"] == ran.err.strip()


def test_an_empty_label_is_named_and_the_other_products_are_asked(
    run: Run, shelf: Path
) -> None:
    with shelf.open("a") as file:
        file.write('\n{"product": "Blank Wash", "kind": "wash", "text": " "}')
    ran = run("ask", "--json", "--shelf", str(shelf), 'what does "Ebb Cream" leave')
    assert ran.code == 1
    assert f'{shelf}:3: the label of "Blank Wash" is empty' in ran.err
    assert "Dimethicone" in [row["film"] for row in ran.objects[0]["answers"]]


def test_asking_about_a_refused_product_says_why_it_was_refused(
    run: Run, shelf: Path
) -> None:
    with shelf.open("a") as file:
        file.write('\n{"product": "Blank Wash", "kind": "wash", "text": " "}')
    query = 'does "blank wash" clear "Dimethicone"'
    ran = run("ask", "--shelf", str(shelf), query)
    assert ran.code == 2
    assert '"blank wash" is not on the shelf, as its label was refused' in ran.err
    assert 'the label of "Blank Wash" is empty' in ran.err.split("refused")[1]


def test_a_broken_file_is_placed_and_the_rest_is_asked(run: Run, shelf: Path) -> None:
    with shelf.open("a") as file:
        file.write('\n{"product": "Half')
    ran = run("ask", "--json", "--shelf", str(shelf), 'what does "Ebb Cream" leave')
    assert ran.code == 1
    assert f"{shelf}:3:" in ran.err
    assert ran.objects[0]["answers"]


@pytest.mark.slow
def test_an_unknown_ingredient_on_a_label_is_noted(run: Run) -> None:
    ran = run("ask", "--json", 'what does "Kelp Line Curl Cream" leave')
    assert ran.code == 0
    assert any("Merrowex Tidal Complex" in note for note in ran.objects[0]["notes"])
