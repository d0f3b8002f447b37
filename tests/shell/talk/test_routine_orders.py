"""Routines in the interactive shell: typed line by line, traced, listed and written."""

from __future__ import annotations

import io
import json
from functools import cache
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell


@cache
def demo() -> Session:
    """One session for all: each sitting here begins with what it needs."""
    return Session.open()


def typed(text: str) -> str:
    """What the shell prints for lines that come from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(demo(), reader, out).run()
    return " ".join(out.getvalue().split())


WEEK = """\
water is soft
wash with “Shallows Wash” on Monday and Thursday
use 'Harbour Cream' after every wash
"""


def test_a_wrong_line_costs_its_line_alone() -> None:
    """What was right before it stays, and the routine is worked out in the end."""
    wrong = (
        'use "Harbor Crem" daily\nwash with Shallows\nuse "Headland Gel" on Sonday\n'
    )
    page = typed(f"routine\n{WEEK}{wrong}\n")
    assert 'no product "Harbor Crem" is on the shelf' in page
    assert 'did you mean "Harbour Cream"?' in page
    assert page.count("3 lines are kept; go on, or end with an empty line.") == 3
    assert "and silicones may build up" in page
    assert "Dimethicone from Harbour Cream" in page


def test_a_product_of_the_shelf_needs_no_quotes() -> None:
    plain = "wash with tideline wash on Sunday\nuse Harbour Cream after every wash\n"
    page = typed(f"routine\nroutine Harbour Cream\n{plain}\n")
    assert 'Read as: wash with "Tideline Wash" on Sunday' in page
    assert 'Read as: use "Harbour Cream" after every wash' in page
    assert "Read as: routine" not in page
    assert "Read as" not in typed(f"routine\n{WEEK}\n")
    assert "Dimethicone from Harbour Cream" in page


def test_lines_that_do_not_fit_together_are_kept_and_mended() -> None:
    page = typed(
        'routine\nuse "Harbour Cream" after every wash\n\nrinse with water daily\n\n'
    )
    assert "there is no wash for this to stand beside" in page
    assert 'add a line such as: wash with "Tideline Wash" on Sunday' in page
    assert "1 line is kept" in page
    assert "1 day, over and over" in page


def test_the_last_line_can_be_taken_out() -> None:
    page = typed(f'routine\n{WEEK}use "Jetty Oil" daily\nout\n\n')
    assert 'Out again: use "Jetty Oil" daily' in page
    assert "Jetty Oil from" not in page
    assert "from Jetty Oil" not in page


def test_an_empty_line_at_once_gives_it_up() -> None:
    page = typed("routine\n\nname Dimethicone\n")
    assert "Dimethicone" in page
    assert "over and over" not in page


@pytest.mark.long
def test_trace_last_is_that_of_the_routine(tmp_path: Path) -> None:
    """Not that of the question before it."""
    out = tmp_path / "why.json"
    ask = 'does "Shallows Wash" clear "Dimethicone"\n'
    lines = f'{ask}routine\nwater is soft\nwash with "Shallows Wash" on Sunday\nuse '
    lines += f'"Glass Float Serum" on Sunday\n\ntrace last to {out}\n'
    assert "The reasons are in" in typed(lines)
    trace = json.loads(out.read_text("utf-8").splitlines()[0])
    assert "wash with" in json.dumps(trace["question"])
    assert main(["check", "--alone", str(out)]) == 0


@pytest.mark.long
def test_rows_after_a_routine_list_every_film() -> None:
    page = typed(f'{"routine"}\n{WEEK}use "Jetty Oil" on Sunday\n\nrows\n')
    assert page.count("- Helianthus Annuus Seed Oil from Jetty Oil") == 1
    again = typed(f'routine\n{WEEK}\ndoes "Shallows Wash" clear "Dimethicone"\nrows\n')
    assert again.count("As it is now, counted over") == 1


@pytest.mark.parametrize("form", ["svg", pytest.param("ics", marks=pytest.mark.long)])
def test_a_plan_is_written_where_it_is_told_to(form: str, tmp_path: Path) -> None:
    out = tmp_path / f"week.{form}"
    page = typed(f"plan to {out}\n{WEEK}clear silicones every 2 washes\n\n")
    assert f'It is in "{out}".' in page
    text = out.read_text("utf-8")
    assert ("BEGIN:VCALENDAR" in text) == (form == "ics")
    assert ("<svg" in text) == (form == "svg")


def test_a_form_that_nobody_writes_is_refused(tmp_path: Path) -> None:
    page = typed(f"routine to {tmp_path / 'week.doc'}\n{WEEK}\n")
    assert "does not end like a table, a calendar or a picture" in page
