"""A week that is told in free speech is offered as a routine, or worked out at once."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.session.unexact import Unexact
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell

SHELF = """\
{"product": "Plover Mild", "kind": "wash", "market": "EU", "text": "Aqua, Decyl \
Glucoside, Cocamidopropyl Betaine, Sodium Cocoyl Glutamate"}
{"product": "Plover Balm", "kind": "conditioner", "market": "EU", "text": "Aqua, \
Cetearyl Alcohol, Behentrimonium Chloride, Dimethicone"}
"""
TOLD = "Plover Mild twice a week, Plover Balm after every wash: what builds up"
PARTLY = "Plover Mild 3x a week on my gorgonzola, Plover Balm each time, what builds up"


@pytest.fixture
def shelf(tmp_path: Path) -> str:
    path = tmp_path / "shelf.jsonl"
    path.write_text(SHELF, "utf-8")
    return str(path)


def test_a_week_that_is_read_whole_is_worked_out_at_once(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ask", "--shelf", shelf, TOLD]) == 0
    told = capsys.readouterr().out
    assert 'wash with "Plover Mild" twice a week' in told
    assert 'use "Plover Balm" after every wash' in told
    assert "As it is now, counted over 7 days" in told


def test_a_week_of_which_something_is_left_aside_is_offered(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ask", "--shelf", shelf, PARTLY]) == 2
    told = capsys.readouterr().err
    assert "1  the week told, as a routine:" in told
    assert "left aside: “gorgonzola”" in told
    assert f"abluent routine --shelf {shelf}" in told


def test_the_command_that_is_printed_works_it_out(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["routine", "--shelf", shelf, PARTLY]) == 0
    told = capsys.readouterr().out
    assert told.startswith("Read as")
    assert "As it is now, counted over 7 days" in told


def test_a_file_that_is_not_there_is_told_as_before(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["routine", "--shelf", shelf, "my week.txt"]) == 2
    assert "my week.txt" in capsys.readouterr().err


def test_the_data_of_an_offer_have_its_lines(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["ask", "--json", "--shelf", shelf, PARTLY])
    week = json.loads(capsys.readouterr().out)["week"]
    assert week["lines"][0] == 'wash with "Plover Mild" 3 times a week'
    assert week["unread"] == ["gorgonzola"]


def test_a_number_takes_the_week_in_the_shell(shelf: str) -> None:
    out = StringIO()
    lines = StringIO(f"{PARTLY}\n1\n")
    reader = PlainReader(lines, out, spoken=False)
    InteractiveShell(Session.open([shelf]), reader, out).run()
    assert "A number takes one" in out.getvalue() or "Enter takes" in out.getvalue()
    assert "As it is now, counted over 7 days" in out.getvalue()


def test_an_exact_question_tells_no_week(shelf: str) -> None:
    session = Session.open([shelf])
    assert session.week("does Plover Mild clear everything from Plover Balm") is None
    with pytest.raises(Unexact) as raised:
        session.ask(PARTLY)
    assert raised.value.week is not None
    assert raised.value.options[0] is raised.value.week
