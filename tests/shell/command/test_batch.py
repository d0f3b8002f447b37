"""A file of questions answered into one folder."""

from __future__ import annotations

import csv
import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.command.cli import main
from abluent.shell.session.batch import (
    COLUMNS,
    Entry,
    answered,
    cell,
    file_name,
    table_of,
)
from abluent.shell.session.batch_folder import UNFINISHED, Folder, answer_into
from shown import CREAM, WASH, WHICH, session

PART = "which washes at least partly clear Dimethicone"
LEAVES = f'what does "{CREAM}" leave'
QUESTIONS = [WHICH, LEAVES, 'what is "Nonesuch"', "<b>?", PART]


@cache
def made() -> Sequence[tuple[Entry, str]]:
    return list(answered(session(), QUESTIONS, day="2026-01-31"))


@pytest.mark.slow
def test_each_question_has_a_page_or_a_reason(tmp_path: Path) -> None:
    """And a page without its steps says how they are had."""
    folder = tmp_path / "out"
    entries = answer_into(session(), QUESTIONS, folder)
    assert [bool(entry.problem) for entry in entries] == [0, 0, 1, 1, 0]
    index = (folder / "index.html").read_text("utf-8")
    assert 'href="1-which-washes-clear-dimethicone.html"' in index
    assert "there is no product called" in index
    assert "<b>?" not in index
    pages = [entry.page for entry in entries if entry.page]
    assert {*pages, "index.html", "verdicts.csv"} == {x.name for x in folder.iterdir()}
    page = (folder / pages[1]).read_text("utf-8")
    assert "It holds" not in page
    assert "abluent trace --format html" in page


@pytest.mark.slow
def test_a_page_has_its_steps_on_request() -> None:
    ((_, page),) = answered(session(), [LEAVES], check=True)
    assert "It holds" in page
    assert "abluent trace --format html" not in page


@pytest.mark.slow
def test_what_was_finished_stays_when_it_is_stopped(tmp_path: Path) -> None:
    """The next run answers the rest, and what it looks back to; no page is new."""
    folder, asked = tmp_path / "out", [LEAVES, "let x be washes", "what is x", "a?"]
    done = 0

    def stop() -> None:
        nonlocal done
        done += 1
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        answer_into(session(), asked, folder, watch=stop)
    assert not (folder / "index.html").exists()
    first = next(folder.glob("1-*.html"))
    first.write_text("as it was", "utf-8")
    with (folder / UNFINISHED).open("a", encoding="utf-8") as note:
        note.write('{"question": "what is')
    entries = answer_into(session(), asked, folder)
    assert [entry.question for entry in entries] == asked
    assert not entries[2].problem
    assert first.read_text("utf-8") == "as it was"
    assert not (folder / UNFINISHED).exists()
    whole = answer_into(session(), asked, tmp_path / "whole")
    assert table_of(entries) == table_of(whole)


def test_what_was_asked_otherwise_is_done_again(tmp_path: Path) -> None:
    """Of another base or shelf nothing counts, and of other questions none after."""
    folder = tmp_path / "out"
    one = Folder(folder, "a")
    one.begin(["x", "y"])
    one.put(Entry("x", "so", "1-x.html", lines=(("x", "so"),)), "page")
    one.put(Entry("y", problem="not so"), "")
    assert [each.question for each in Folder(folder, "a").begin(["x", "y"])] == [
        "x",
        "y",
    ]
    assert not Folder(folder, "b").done
    assert [each.question for each in Folder(folder, "a").begin(["x", "z"])] == ["x"]
    (folder / "1-x.html").unlink()
    assert not Folder(folder, "a").begin(["x"])
    (folder / UNFINISHED).write_text(json.dumps({"digest": "a"}) + "\n[1]\n", "utf-8")
    assert not Folder(folder, "a").done


def test_the_table_holds_every_verdict_and_no_formula() -> None:
    lines = list(csv.reader(table_of([each for each, _ in made()]).splitlines()))
    assert tuple(lines[0]) == COLUMNS
    (none,) = [line for line in lines if line[0] == WHICH]
    assert "None is shown to take all in one wash" in none[1]
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
        Folder(folder, "a")
    assert Folder(folder, "a", overwrite=True).done == []
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
