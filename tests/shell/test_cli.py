"""One-shot commands: what they print, where, and the code they leave with."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.proof import checker
from abluent.shell.cli import main
from abluent.shell.commands import question_of

QUERY = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
SHELF = [
    {
        "product": "Ebb Cream",
        "kind": "conditioner",
        "market": "EU",
        "text": "Aqua, Cetearyl Alcohol, Dimethicone, Behentrimonium Chloride, Parfum",
    },
    {
        "product": "Ebb Wash",
        "kind": "wash",
        "market": "EU",
        "text": "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, "
        "Sodium Chloride, Citric Acid, Sodium Benzoate, Parfum",
    },
]


@dataclass
class Ran:
    """What a command printed, and the code it left with."""

    code: int
    out: str
    err: str

    @property
    def objects(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self.out.splitlines()]


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command, with bytes on its standard input."""

    def ran(*words: str, typed: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(typed)))
        try:
            code = main(words)
        except SystemExit as error:
            code = int(str(error.code))
        return Ran(code, *capsys.readouterr())

    return ran


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A shelf of two products."""
    path = tmp_path / "shelf.jsonl"
    path.write_text("\n".join(map(json.dumps, SHELF)))
    return path


# ------------------------------------------------------------------------- ask


def test_an_answer_is_one_json_object_with_the_keys_that_scripts_rely_on(
    run: Run,
) -> None:
    (answer,) = run("ask", "--json", QUERY).objects
    assert answer["query"] == QUERY
    (row,) = answer["answers"]
    assert row["wash"] == "Tideline Wash"
    assert row["film"] == "Dimethicone"
    assert row["from"] == "Harbour Cream"
    assert row["verdict"] == "clears"
    assert row["disputed"] is False
    assert row["standing"] == "common practice"
    assert row["reasons"][-1].startswith("Tideline Wash lifts Dimethicone")
    assert len(row["proof"]) == 64


def test_a_judged_claim_has_a_witness_and_a_proof(run: Run) -> None:
    claim = "is it true that only sulfates clear water-insoluble silicones"
    (answer,) = run("ask", "--json", claim).objects
    assert answer["claim"] == "refuted"
    assert answer["witness"] == "Tideline Wash"
    assert len(answer["proof"]) == 64


def test_an_answer_for_people_begins_with_the_verdict(run: Run) -> None:
    ran = run("ask", QUERY)
    assert ran.code == 0
    assert ran.out.startswith("Tideline Wash clears Dimethicone from Harbour Cream.\n")
    for heading in ("\n   1. ", "Caveat", "Source", "Stands as:", "weakest", "Mind"):
        assert heading in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_a_narrow_terminal_is_fine(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "32")
    assert max(map(len, run("ask", QUERY).out.splitlines())) <= 32


def test_ones_own_shelf_is_asked(run: Run, shelf: Path) -> None:
    query = 'which washes clear "Dimethicone"'
    (answer,) = run("ask", "--json", "--shelf", str(shelf), query).objects
    washes = [row["wash"] for row in answer["answers"] + answer["others"]]
    assert washes == ["Ebb Wash"]


def test_several_shelves_are_asked_as_one(run: Run, shelf: Path) -> None:
    words = ("ask", "--json", "--shelf", "demo", "--shelf", str(shelf))
    query = 'does "Ebb Wash" clear "Dimethicone" from "Harbour Cream"'
    (answer,) = run(*words, query).objects
    assert answer["answers"][0]["wash"] == "Ebb Wash"


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


def test_an_unknown_ingredient_on_a_label_is_noted(run: Run) -> None:
    ran = run("ask", "--json", 'what does "Kelp Line Curl Cream" leave')
    assert ran.code == 0
    assert any("Merrowex Tidal Complex" in note for note in ran.objects[0]["notes"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["ask"], "there is no question to answer"),
        (["ask", "--shelf", "none.jsonl", "which washes"], "none.jsonl"),
        (["ask", "--shelf", "none", "which washes"], 'shelf of yours called "none"'),
        (["ask", "--queries", "none.txt"], 'there is no file "none.txt"'),
        (["read", "none.txt"], 'there is no file "none.txt"'),
        (["check", "none.json"], 'there is no file "none.json"'),
        (["trace", "--to", "none/why.md", QUERY], 'no folder "none"'),
        (["trace", "--to", "why.pdf", QUERY], "ends in .md"),
        (["shelf", "--to", "shelf.pdf"], "does not end like a shelf"),
        (["frobnicate"], "invalid choice"),
        (["ask", "--colour"], "unrecognized arguments"),
    ],
)
def test_a_wrong_command_leaves_with_two(run: Run, words: list[str], said: str) -> None:
    ran = run(*words)
    assert ran.code == 2
    assert said in ran.err


# ------------------------------------------------------------------ name, read


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


# ---------------------------------------------------------------- trace, check


def test_a_trace_is_written_once_and_holds(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "why.json"
    assert run("trace", "--to", str(path), QUERY).code == 0
    ran = run("check", str(path))
    assert (ran.code, ran.out) == (0, f"{path}: holds\n")
    before = path.read_bytes()
    ran = run("trace", "--to", str(path), "what is Dimethicone")
    assert ran.code == 2
    assert "add --overwrite" in ran.err
    assert path.read_bytes() == before
    words = ("trace", "--to", str(path), "--overwrite", "what is Dimethicone")
    assert run(*words).code == 0
    assert path.read_bytes() != before


def test_a_trace_that_was_changed_does_not_hold(run: Run, tmp_path: Path) -> None:
    trace = json.loads(run("trace", "--format", "json", QUERY).out)
    trace["verdict"]["answers"][0]["verdict"] = "partly clears"
    path = tmp_path / "why.json"
    path.write_text(json.dumps(trace))
    ran = run("check", "--json", str(path))
    assert ran.code == 1
    assert ran.objects[0]["holds"] is False
    assert ran.objects[0]["problems"]


def test_a_trace_is_held_against_the_installed_base(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "why.json"
    run("trace", "--to", str(path), "what is Dimethicone")
    assert run("check", "--base", str(path)).code == 0
    trace = checker.read(path.read_text())
    trace["sources"] |= dict.fromkeys(trace["sources"], "An invented work.")
    del trace["digest"]
    path.write_text(json.dumps({**trace, "digest": checker.digest(trace)}))
    assert run("check", str(path)).code == 0
    ran = run("check", "--base", str(path))
    assert (ran.code, "differs in the sources" in ran.out) == (1, True)


def test_what_is_no_trace_is_wrong_data(run: Run) -> None:
    ran = run("check", "-", typed=b"no trace")
    assert ran.code == 1
    assert ran.err.startswith("standard input: this is no trace")
    assert run("check", "-", typed=b"[]").code == 1


def test_a_trace_is_printed_as_a_page(run: Run) -> None:
    page = run("trace", QUERY).out
    assert page.startswith('# does "Tideline Wash" clear "Dimethicone"')
    assert "**Tideline Wash clears Dimethicone from Harbour Cream.**" in page
    assert "label of Harbour Cream, line 1, column" in page
    assert "## Sources" in page
    assert "## Cautions" in page
    assert "**the weakest step**" in page


# --------------------------------------------------------------- shelf and demo


def test_a_shelf_is_saved_in_every_form_and_reads_back(
    run: Run, shelf: Path, tmp_path: Path
) -> None:
    for name in ("s.csv", "t.jsonl", "folder"):
        target = str(tmp_path / name)
        assert run("shelf", "--shelf", str(shelf), "--to", target).code == 0
        back = run("shelf", "--json", "--shelf", target).objects
        assert [{k: x[k] for k in SHELF[0]} for x in back] == SHELF
        again = run("shelf", "--shelf", str(shelf), "--to", target)
        assert (again.code, "left as it is" in again.err) == (2, True)


def test_the_demo_answers_every_question_it_asks(run: Run) -> None:
    ran = run("demo")
    assert ran.code == 0
    assert ran.err == ""
    assert ran.out.count("\n> ") == 6


def test_every_command_has_help_with_an_example(run: Run) -> None:
    names = ("ask", "name", "read", "shelf", "trace", "check", "demo")
    whole = run("--help").out
    for name in names:
        assert f"    {name} " in whole
        page = run(name, "--help").out
        assert "example" in page


# ------------------------------------------------------------------ the process


def test_a_reader_that_has_gone_is_no_fault() -> None:
    code = "import sys; from abluent.shell.cli import main; sys.exit(main(['demo']))"
    process = subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    process.stdout.readline()
    process.stdout.close()
    _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")


def script(*words: str) -> subprocess.CompletedProcess[bytes]:
    """Run the installed command in a process of its own."""
    code = "from abluent.shell.cli import script; script()"
    return subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, check=False
    )


def test_the_process_leaves_with_the_code_of_the_command() -> None:
    assert script("name", "Dimethicone").returncode == 0
    assert script("shelf", "--shelf", "none.csv").returncode == 2
    assert script("frobnicate").returncode == 2


def test_half_a_character_on_a_label_is_passed_on(tmp_path: Path) -> None:
    path = tmp_path / "s.jsonl"
    row = {"product": "Ebb", "kind": "wash", "market": "", "text": "Aqua, \ud83d"}
    path.write_text(json.dumps(row))
    ran = script("shelf", "--json", "--shelf", str(path))
    assert json.loads(ran.stdout)["text"] == row["text"]
    assert script("read", str(path)).returncode == 0
    saved = tmp_path / "t.jsonl"
    assert script("shelf", "--shelf", str(path), "--to", str(saved)).returncode == 0
    assert json.loads(saved.read_text().splitlines()[1])["text"] == row["text"]


def test_a_listing_imports_nothing_heavy() -> None:
    code = (
        "import sys; from abluent.shell.cli import main; main(['shelf', '--json']); "
        "print(*sorted(sys.modules), file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    loaded = set(ran.stderr.split())
    heavy = {"lark", "prompt_toolkit", "pyoxigraph", "rdflib", "csv", "tqdm"}
    assert not loaded & heavy
    assert "abluent.engine.logic.reasoner" not in loaded


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
rule late-by-my-reading
  if     line(?product, ?n, ?ingredient), ?n > 90
  then   late(?product, ?ingredient)
  says   "{?ingredient} stands beyond place 90"
  source a-work-i-never-described
  standing commonPractice
end
"""


def test_a_rule_that_cites_nothing_known_is_named(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.rules"
    path.write_text(OWN_RULE)
    ran = run("trace", "--knowledge", str(path), QUERY)
    assert ran.code == 1
    assert '"a-work-i-never-described" is cited and described nowhere' in ran.err
