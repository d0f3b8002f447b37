"""Names and labels read in one command, by the base or with knowledge of one's own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commanded import QUERY, SHELF, Run


@pytest.mark.slow
def test_a_name_is_one_object_with_the_keys_that_scripts_rely_on(run: Run) -> None:
    ran = run("name", "--json", "Sodium Laureth Sulfate", "aqua", "Merrowex Complex")
    assert ran.code == 0
    sulfate, water, unknown = ran.objects
    assert sulfate["printed"] == sulfate["ingredient"] == "Sodium Laureth Sulfate"
    assert sulfate["how"] == "listed"
    assert sulfate["charge"] == "anionic"
    assert sulfate["water"] in {"soluble", "dispersible"}
    assert "AnionicSurfactant" in sulfate["classes"]
    assert sulfate["sources"]
    assert sulfate["standing"]
    assert (water["ingredient"], water["how"]) == ("Water", "synonym")
    assert (unknown["ingredient"], unknown["how"]) == (None, "unknown")
    assert (unknown["charge"], unknown["water"]) == ("unknown", "unknown")
    assert unknown["classes"] == []


def test_names_come_from_standard_input(run: Run) -> None:
    ran = run("name", "--json", "-", typed=b"Dimethicone\nAqua\n")
    assert [each["printed"] for each in ran.objects] == ["Dimethicone", "Aqua"]


@pytest.mark.slow
def test_an_unknown_name_is_said_to_be_unknown(run: Run) -> None:
    ran = run("name", "Merrowex Tidal Complex")
    assert ran.out == "Merrowex Tidal Complex, not known to this base.\n"


def test_a_label_is_one_object_whose_spans_are_places_in_the_file(
    run: Run, tmp_path: Path
) -> None:
    path = tmp_path / "Ebb_Wash.txt"
    text = "kind: wash\r\nmarket: EU\r\n\r\nIngredients:\r\nAqua, Dimethicone.\r\n"
    path.write_bytes(text.encode())
    (label,) = run("read", "--json", str(path)).objects
    assert (label["product"], label["kind"], label["market"]) == (
        "Ebb Wash",
        "wash",
        "EU",
    )
    for place, item in enumerate(label["ingredients"], 1):
        start, end = item["span"]
        assert item["position"] == place
        assert text[start:end] == item["printed"]
    assert [x["ingredient"] for x in label["ingredients"]] == ["Water", "Dimethicone"]
    (heading,) = (x for x in label["notes"] if x["kind"] == "heading")
    start, end = heading["span"]
    assert text[start:end] == heading["text"]


@pytest.mark.slow
def test_a_label_comes_from_standard_input(run: Run) -> None:
    ran = run("read", "--json", "--kind", "wash", "-", typed=b"Aqua, Parfum")
    assert ran.objects[0]["kind"] == "wash"
    assert ran.err == ""
    ran = run("read", "--json", "-", typed=json.dumps(SHELF[0]).encode())
    assert ran.objects[0]["product"] == "Ebb Cream"


def test_an_empty_label_is_wrong_data(run: Run) -> None:
    ran = run("read", "-", typed=b" \n")
    assert (ran.code, ran.out) == (1, "")
    assert 'the label of "label" is empty' in ran.err


def test_every_line_has_a_level_in_per_cent(run: Run) -> None:
    """Bounds by rank and by law: phenoxyethanol is capped at 1 % in the EU.

    Regulation (EC) No 1223/2009, Art. 19(1)(g) and Annex V 29.
    """
    label = b"Aqua, Sodium Laureth Sulfate, Phenoxyethanol, Dimethicone 2%"
    words = ("read", "--kind", "wash", "--market", "EU")
    items = run(*words, "--json", "-", typed=label).objects[0]["ingredients"]
    found = {item["printed"]: item["level"] for item in items}
    assert found["Sodium Laureth Sulfate"]["high"] <= 50
    assert found["Dimethicone"] == {
        "low": 2.0,
        "high": 2.0,
        "standing": found["Dimethicone"]["standing"],
        "low_open": False,
        "high_open": False,
    }
    assert "; 2 %" in run(*words, "-", typed=label).out
    usual = run(*words, "--json", "--practice", "-", typed=b"Aqua, Glycerin, Parfum")
    free = run(*words, "--json", "-", typed=b"Aqua, Glycerin, Parfum")
    for narrow, wide in zip(
        usual.objects[0]["ingredients"], free.objects[0]["ingredients"], strict=True
    ):
        assert narrow["level"]["low"] >= wide["level"]["low"]
        assert narrow["level"]["high"] <= wide["level"]["high"]


def test_the_law_of_a_day_is_asked_for(run: Run) -> None:
    ran = run("read", "--on", "tomorrow", "-", typed=b"Aqua")
    assert (ran.code, '"tomorrow" is no day' in ran.err) == (2, True)
    assert run("read", "--on", "2020-01-31", "-", typed=b"Aqua").code == 0


def test_every_label_of_a_shelf_is_read(run: Run, shelf: Path) -> None:
    ran = run("read", "--json", str(shelf))
    assert [x["product"] for x in ran.objects] == ["Ebb Cream", "Ebb Wash"]


# ------------------------------------------------------------ knowledge of one's own

OWN = """
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .

ing:merrowex-tidal-complex
  a abl:SiliconeFluid ;
  abl:inci "Merrowex Tidal Complex" ;
  abl:charge abl:none ;
  abl:waterSolubility abl:insoluble ;
  abl:source src:common-practice ;
  abl:standing abl:commonPractice .
"""


@pytest.mark.slow
def test_an_ingredient_of_ones_own_needs_no_python(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.ttl"
    path.write_text(OWN)
    query = 'what does "Kelp Line Curl Cream" leave'
    for own in (str(path), str(tmp_path)):
        (answer,) = run("ask", "--json", "--knowledge", own, query).objects
        assert "Merrowex Tidal Complex" in [row["film"] for row in answer["answers"]]
    (name,) = run(
        "name", "--json", "--knowledge", str(path), "merrowex tidal complex"
    ).objects
    assert name["how"] == "listed"


@pytest.mark.slow
def test_broken_knowledge_is_placed(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.ttl"
    path.write_text("no Turtle")
    ran = run("name", "--knowledge", str(path), "Dimethicone")
    assert ran.code == 1
    assert ran.err.startswith(f"{path}:1:")
    ran = run("name", "--knowledge", str(tmp_path / "none.ttl"), "Dimethicone")
    assert (ran.code, "there is no file or folder" in ran.err) == (2, True)
    (tmp_path / "mine.txt").write_text("")
    ran = run("name", "--knowledge", str(tmp_path / "mine.txt"), "Dimethicone")
    assert (ran.code, "does not end like knowledge" in ran.err) == (2, True)


OWN_RULE = """
"{ingredient} stands beyond place 90"
  because the product line the n, the ingredient
      and the n is above 90
  so      the product late the ingredient
  rule    late-by-my-reading, standing commonPractice, source a-work-i-never-described
"""


@pytest.mark.slow
def test_a_rule_that_cites_nothing_known_is_named(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.rules"
    path.write_text(OWN_RULE)
    ran = run("trace", "--knowledge", str(path), QUERY)
    assert ran.code == 1
    assert "`a-work-i-never-described` is no source of the base" in ran.err
