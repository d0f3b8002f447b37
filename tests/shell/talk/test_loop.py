"""The interactive shell, driven by lines and by a pipe: its orders, what it says."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from abluent.shell.pages.signs import signed_page
from abluent.shell.session.session import Session
from abluent.shell.talk import loop
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from sittings import LABEL, typed


def test_help_fits_a_screen_and_speaks_of_the_shelf() -> None:
    page = typed("help\n")
    assert len(page.splitlines()) <= 24
    assert all(len(line) <= 80 for line in page.splitlines())
    assert 'what does "Harbour Cream" leave' in page
    assert "leave the shell" in page


def test_help_uses_the_products_of_ones_own_shelf() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", LABEL)
    assert 'what does "Cove Cream" leave' in typed("help", session)


def test_help_on_one_order() -> None:
    assert typed("help undo\n") == "undo: take back the last change to your shelf\n"


def test_the_shelf_is_listed() -> None:
    assert "Harbour Cream              conditioner  EU" in typed("shelf")


def test_an_order_without_what_it_needs_says_so() -> None:
    assert typed("drop").startswith("`drop` does not say which product")
    assert 'try: drop "Harbour Cream"' in typed("drop")


def test_a_fault_does_not_end_the_shell() -> None:
    page = typed("shelf nowhere\nwater wet\nhelp undo\n")
    assert 'there is no file, folder or shelf of yours called "nowhere"' in page
    assert 'water is "deionised" or "hard" or "salt" or "soft", not "wet"' in page
    assert "undo: take back" in page


def test_a_fault_of_the_program_does_not_end_the_shell(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(self: Session, text: str) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(Session, "ask", broken)
    assert typed("which washes\nhelp undo\n").splitlines() == [
        "this program is at fault: ZeroDivisionError: division by zero",
        "undo: take back the last change to your shelf",
    ]


def test_a_line_that_nothing_settles_ends_with_what_can_be_asked() -> None:
    said = typed("my hair is sad\n")
    assert "no label tells" in said
    assert 'What can be asked: what does "Harbour Cream" leave' in said


def test_an_answer_without_works_says_so() -> None:
    session = Session.open()
    session.add_label("Alone", "wash", "Aqua, Merrowex Tidal Complex", "EU")
    said = typed('does "Alone" contain a silicone\ncite\n', session)
    assert "No work stands behind the last answer" in said


def test_leave_ends_it() -> None:
    assert typed("leave\nhelp\n") == ""


def test_a_product_that_is_not_there_is_named_with_what_is_near() -> None:
    page = typed('read "Harbor Cream"\n')
    assert 'no product "Harbor Cream" is on the shelf' in page
    assert 'did you mean "Harbour Cream"' in page


def test_there_is_nothing_to_trace_before_a_question() -> None:
    assert typed("trace last to why.md").startswith("there is no answer yet")
    assert typed("trace").startswith("there is no answer yet")


def test_the_last_answer_is_traced_to_a_file_and_nothing_is_replaced(
    tmp_path: Path,
) -> None:
    path = tmp_path / "why not.md"
    asked = 'does "Tideline Wash" clear Dimethicone'
    page = typed(f"{asked}\ntrace last to {path}\ntrace to {path}\n")
    assert f'The reasons are in "{path}"; `open` shows it.' in page
    assert f'"{path}" is there already and was left as it is' in page
    assert path.read_text().startswith(f"# {asked}")


def test_undo_says_what_it_took_back() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua")
    assert '"Ebb Wash" is off the shelf again' in typed("undo\n", session)


def test_what_a_question_left_out_is_told() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua, Sodium Laureth Sulfate")
    session.add_label("Odd Bottle", "other", "Aqua, Sodium Laureth Sulfate")
    page = typed('which washes clear "Dimethicone"\n', session)
    assert "Left out: Odd Bottle, kind not known" in page
    assert "Left out" not in typed('what does "Ebb Wash" leave\n', session)


def test_verdicts_have_their_signs_and_colour_is_never_alone() -> None:
    answer = Session.open().ask('which washes at least partly clear "Dimethicone"')
    plain = signed_page(answer, 80, coloured=False)
    assert "-?   Best chance (likely take most, perhaps not all in one wash)" in plain
    assert "-=   Weaker, take some, not all in one wash: Lamp Room" in plain
    assert "?=   Take at most part, if any: Backwater Cream Cleanser" in plain
    assert "\x1b" not in plain
    coloured = signed_page(answer, 80, coloured=True)
    assert re.sub(r"\x1b\[\d+m", "", coloured) == plain


def test_pictures_works_and_settings_are_orders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    asked = 'does "Tideline Wash" clear "Dimethicone"'
    lines = [asked, "picture 1:1", "picture", "cite", "cite to works.bib", "set market"]
    page = typed("\n".join([*lines, "set handle @quay", "set", "picture x"]) + "\n")
    assert (tmp_path / "picture.png").read_bytes().startswith(b"\x89PNG")
    assert (tmp_path / "picture-2.png").exists()
    assert "@" in (tmp_path / "works.bib").read_text()
    assert "market is not set now" in page
    assert "handle: @quay" in page
    assert '"x" is no shape of a picture' in page
    assert 'settings.toml"' in page


def test_a_shape_has_a_word_and_a_trace_a_file_if_none_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    asked = 'does "Tideline Wash" clear "Dimethicone"'
    lines = [asked, "picture square", "picture round", "what is Dimethicone"]
    page = typed("\n".join([*lines, "trace", "trace why"]) + "\n")
    size = (tmp_path / "picture.png").read_bytes()[16:24]
    assert size == (1080).to_bytes(4, "big") * 2
    assert "9:16 (tall), 1:1 (square)" in page
    assert "<h1>" in (tmp_path / "why.html").read_text("utf-8")
    assert '"why" is nothing that is traced here' in page


def test_it_is_what_was_put_on_the_shelf_last() -> None:
    asked = "does it clear Dimethicone"
    page = typed(f"{asked}\n{LABEL}\n\nOne\nwash\n\n{asked}\n")
    assert '“it” is "One".' in page
    before, after = page.split('“it” is "One".')
    assert before.startswith("“it” is nothing yet: name what is meant")
    assert "Is this meant?" in before
    assert "nothing yet" not in after
    assert after.strip().startswith("No: One takes none of Dimethicone")


def test_a_new_shelf_begins_with_the_water_that_is_set() -> None:
    session = Session.open()
    typed(f"set water soft\n{LABEL}\n\nOne\nwash\n\n", session)
    assert session.shelf.water == "soft"
    typed("undo\n", session)
    assert (len(session.shelf.labels), session.shelf.water) == (0, "soft")


def test_a_batch_is_an_order(tmp_path: Path) -> None:
    questions = tmp_path / "questions.txt"
    questions.write_text('what does "Harbour Cream" leave\n')
    page = typed(f"batch {questions} to {tmp_path / 'answers'}\nbatch\n")
    assert "1 of 1 answered" in page
    assert (tmp_path / "answers" / "index.html").exists()
    assert "names no file of questions" in page


def test_the_desk_is_an_order() -> None:
    out, opened = io.StringIO(), []
    shell = InteractiveShell(
        Session.open(), PlainReader(io.StringIO("desk\n"), out, spoken=False), out
    )
    shell.open_desk = lambda session, say: opened.append(session)
    shell.run()
    assert opened == [shell.session]
    assert "run `abluent desk`" in typed("desk\n")


def test_what_another_shell_adds_is_seen() -> None:
    session = Session.open()
    session.add_label("One", "wash", "Aqua")
    Session.open(own=True).add_label("Two", "wash", "Aqua")
    assert "Two" in typed("shelf\n", session)


def test_lines_from_a_pipe_are_done_and_the_worst_code_is_left_with(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("shelf nowhere\nhelp undo\n"))
    assert main([]) == 2
    said = capsys.readouterr().out
    assert "abluent>" not in said
    assert said.splitlines()[-1].startswith("undo:")


class Terminal(io.StringIO):
    """Text that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_terminal_that_cannot_draw_gets_a_plain_prompt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    out = Terminal()
    monkeypatch.setenv("TERM", "dumb")
    monkeypatch.setattr(sys, "stdin", Terminal("help undo\nleave\n"))
    monkeypatch.setattr(sys, "stdout", out)
    assert main([]) == 0
    said = out.getvalue()
    assert said.startswith(loop.WELCOME)
    assert "abluent> undo: take back" in said
    assert "\x1b" not in said


def test_the_hair_and_the_temperature_are_said_as_the_water_is() -> None:
    session = Session.open()
    page = typed("hair damaged\ntemperature warm\nhair red\n", session)
    assert "The hair is damaged from now on." in page
    assert tuple(session.shelf.conditions.values()) == ("hard", "damaged", "warm")
    assert 'hair is "damaged" or "undamaged", not "red"' in page
