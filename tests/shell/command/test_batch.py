"""A file of questions answered into one folder."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.command.cli import main
from abluent.shell.session.batch import (
    COLUMNS,
    Batch,
    answered,
    cell,
    file_name,
    write_folder,
)
from shown import CREAM, WASH, WHICH, session

PART = "which washes at least partly clear Dimethicone"
LEAVES = f'what does "{CREAM}" leave'
QUESTIONS = [WHICH, LEAVES, 'what is "Nonesuch"', "<b>?", PART]


@cache
def made() -> Batch:
    return answered(session(), QUESTIONS, "2026-01-31")


@pytest.mark.slow
def test_each_question_has_a_page_or_a_reason(tmp_path: Path) -> None:
    assert made().unanswered == 2
    write_folder(tmp_path / "out", made().files, overwrite=False)
    index = (tmp_path / "out" / "index.html").read_text("utf-8")
    assert 'href="1-which-washes-clear-dimethicone.html"' in index
    assert "there is no product called" in index
    assert "<b>?" not in index
    pages = [entry.page for entry in made().entries if entry.page]
    assert all((tmp_path / "out" / page).is_file() for page in pages)


def test_the_table_holds_every_verdict_and_no_formula() -> None:
    lines = list(csv.reader(made().files["verdicts.csv"].splitlines()))
    assert tuple(lines[0]) == COLUMNS
    (none,) = [line for line in lines if line[0] == WHICH]
    assert none[1].startswith("None of the 2 looked at: ")
    assert none[2:7] == ["", "", "", "", ""]
    rows = [line for line in lines if line[0] == PART]
    (row,) = [line for line in rows if line[2].startswith(f"'{WASH}, Dimethicone")]
    assert row[3:6] == ["partly clears", "no", "common practice"]
    assert row[7].startswith("partly clears: ")
    assert all(each[:1] not in set("=+-@") for line in lines for each in line)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "  =1", "|x", "%"])
def test_a_cell_is_never_a_formula(text: str) -> None:
    assert cell(text).startswith("'")


def test_file_names_are_plain() -> None:
    assert file_name('../..\\"Crème" <x>') == "creme-x"
    assert file_name("???") == "question"
    assert len(file_name("long " * 50)) <= 48


def test_a_folder_that_is_there_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "mine.txt").write_text("mine")
    with pytest.raises(CommandError, match="there already"):
        write_folder(folder, {"index.html": "x"}, overwrite=False)
    write_folder(folder, {"index.html": "x"}, overwrite=True)
    assert (folder / "mine.txt").read_text() == "mine"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["out"]


@pytest.mark.slow
def test_the_command_answers_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    questions = tmp_path / "questions.txt"
    questions.write_text('what is "Harbour Cream"\n')
    assert main(["batch", "--to", str(tmp_path / "out"), str(questions)]) == 0
    assert "1 of 1 answered" in capsys.readouterr().out
    assert main(["batch", "--to", str(tmp_path / "out"), str(questions)]) == 2
