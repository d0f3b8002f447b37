"""`abluent routine` and `abluent plan`, as they are typed."""

from __future__ import annotations

import csv
import json
import re
import shlex
from itertools import pairwise
from pathlib import Path

import pytest
from abluent.shell.command.cli import main

WEEK = """\
routine "Quay week"
hair is bleached twice
wash with "Plover Mild Wash" on Wednesday
wash with "Gullwing Silk Wash" on Sunday
use "Harbour Cream" after every wash
"""
CLEAR = ["--also", "clear silicones every wash"]
PARTS = ["--also", "count partly clears as clearing"]


@pytest.fixture
def week(tmp_path: Path) -> str:
    path = tmp_path / "week.txt"
    path.write_text(WEEK, "utf-8")
    return str(path)


def test_account_as_data(week: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["routine", "--json", *PARTS, week]) == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["routine"], data["days"], data["turns"]) == ("Quay week", 7, True)
    assert data["said"] == {"hair": "bleached twice"}
    found = {(f["film"], f["from"]): f for f in data["films"]}
    film = found["Dimethicone", "Harbour Cream"]
    assert film["worst"] == {"clears": True, "adds": 2, "most": 2}
    assert film["best"] == {"clears": True, "adds": 1, "most": 1}
    assert film["steps"][0]["does"] == "partly clears"
    assert film["days"] == 7
    assert data["counted"]["partly clears"] == "clearing"


def test_what_is_only_known_to_come_off_in_part_may_grow(
    week: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["routine", "--json", week]) == 0
    data = json.loads(capsys.readouterr().out)
    found = {(f["film"], f["from"]): f for f in data["films"]}
    film = found["Dimethicone", "Harbour Cream"]
    assert film["worst"] == {"clears": False, "adds": 2, "most": None}
    assert film["best"] == {"clears": True, "adds": 1, "most": 1}
    assert film["days"] is None
    assert data["counted"]["partly clears"] == "either"


@pytest.mark.slow
def test_account_as_a_page(week: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["routine", "--steps", "--why", week]) == 0
    page = capsys.readouterr().out
    assert page.startswith("Quay week:\nWash with Lamp Room Clarifying Wash instead of")
    head = "As it is now, counted over 7 days, over and over; day 1 is a Monday, on"
    assert head in " ".join(page.split())
    assert "  Hair: bleached twice (on damaged hair).\n" in page
    assert "Hard-water minerals build up for certain: no wash of this" in page
    assert page.index("Builds up for certain:") < page.index("Stays within bounds:")
    assert "day 3 (Wed), use 1: Plover Mild Wash partly clears (0 uses since" in page
    assert "1.1 uses' worth)" in page
    assert "Why:" in page


@pytest.mark.slow
def test_plan_as_data(week: str, capsys: pytest.CaptureFixture[str]) -> None:
    only = ["--also", 'only "Tideline Wash" and "Breakwater Wash"']
    assert main(["plan", "--json", *CLEAR, *only, week]) == 0
    data = json.loads(capsys.readouterr().out)
    counts = [plan["counts"] for plan in data["plans"]]
    assert {"Tideline Wash": 2} in counts
    assert data["plans"][0]["proven"] == "search"
    assert data["complete"] is True


@pytest.mark.slow
def test_a_routine_without_a_plan_is_an_answer_with_what_to_buy(
    week: str, capsys: pytest.CaptureFixture[str]
) -> None:
    only = ["--also", 'only "Shallows Wash"']
    assert main(["plan", *CLEAR, *only, week]) == 0
    page = capsys.readouterr().out
    told = " ".join(page.split())
    assert "Harbour Cream leaves silicones, which no wash on this shelf surely" in told
    assert "If Harbour Cream is to stay, the least to buy that would do for" in told
    assert "- a wash with" in page


@pytest.mark.slow
def test_trace_of_a_plan_is_accepted_by_the_checker(
    week: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trace = str(tmp_path / "why.json")
    only = ["--also", 'only "Tideline Wash" and "Plover Mild Wash"']
    assert main(["plan", *CLEAR, *only, "--trace", trace, week]) == 0
    page = capsys.readouterr().out
    assert "\nA wash that surely takes a part of a film is counted as clear" in page
    assert main(["check", "--alone", trace]) == 0
    assert capsys.readouterr().out.startswith(f"{trace}: holds by its own rules")
    assert main(["check", trace]) == 3
    told = capsys.readouterr().out
    assert told.startswith(f"{trace}: holds, by the base abluent ")
    assert told.endswith(
        "; supposing that the question, which cannot be asked by itself, comes to "
        "this\n"
    )


@pytest.mark.slow
@pytest.mark.parametrize("ending", ["csv", "jsonl"])
def test_many_routines_become_one_table(
    ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One that is wrong is told, and stops no other."""
    many = tmp_path / "many.csv"
    rows = [f'R{n},wash,Tideline Wash,"on Sunday"' for n in range(2)]
    head = "routine,how,product,when"
    many.write_text("\n".join([head, *rows, "Bad,wash,Nothing Here,daily"]), "utf-8")
    out = tmp_path / f"out.{ending}"
    clear = ["--also", "clear silicones every wash", "--also", 'only "Tideline Wash"']
    add = ["--also", 'use "Harbour Cream" after every wash']
    assert main(["plan", *clear, *add, "--to", str(out), str(many)]) == 1
    assert "there is no wash for this to stand beside" in capsys.readouterr().err
    text = out.read_text("utf-8")
    if ending == "csv":
        names = [row["routine"] for row in csv.DictReader(text.splitlines())]
    else:
        names = [json.loads(line)["routine"] for line in text.splitlines()]
    assert names == [f"R{n}" for n in range(2)]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "there is no routine in it"),
        ("water is hard", "uses nothing"),
        ("wash daily", "this wash has no product"),
        ('use "Harbour Cream" on 2026-03-01', "no first and last day"),
    ],
)
def test_wrong_routines_are_wrong_data(
    text: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "week.txt"
    path.write_text(text, "utf-8")
    assert main(["routine", str(path)]) == 1
    assert told in capsys.readouterr().err


README = Path(__file__).parents[3] / "README.md"
BLOCKS = re.findall(
    r"^```(\w+)\n(.*?)^```$", README.read_text("utf-8"), re.MULTILINE | re.DOTALL
)


@pytest.mark.slow
def test_what_the_readme_shows_is_what_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Line by line; `…` stands for lines left out."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    (week,) = (text for kind, text in BLOCKS if kind == "routine")
    Path("quay.txt").write_text(week, "utf-8")
    shown = [text for kind, text in BLOCKS if kind == "text" and "quay.txt" in text]
    assert len(shown) == 3
    for text in shown:
        command, *lines = text.splitlines()
        assert main(shlex.split(command)[2:]) == 0
        printed = capsys.readouterr().out
        parts = "\n".join(lines).split("\n  …\n")
        for first, then in pairwise(parts):
            assert 0 <= printed.find(first) < printed.find(then)
        assert printed.startswith(parts[0])
        assert printed.endswith(f"{parts[-1]}\n")


@pytest.mark.slow
def test_a_plan_of_the_rest_is_not_called_mildest_of_all(
    week: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where no plan keeps to everything, it is compared with what keeps the rest."""
    only = ["--also", 'only "Shallows Wash" and "Dune Grass Wash"']
    assert main(["plan", *CLEAR, *only, week]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert page.startswith(
        "Quay week: Use Cockle Protein Mask instead of Harbour Cream, and wash with "
        "Dune Grass Wash on Wednesday and Sunday"
    )
    assert "It is the mildest: every other choice of washes that keeps to" in page
