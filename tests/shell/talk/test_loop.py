"""The interactive shell, driven by lines, by keys and by a pipe."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.talk import loop
from abluent.shell.talk.completion import SessionCompleter
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from abluent.shell.talk.prompt import PromptReader
from prompt_toolkit.completion import CompleteEvent
from prompt_toolkit.document import Document
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput

LABEL = "Ingredients: Aqua, Cetearyl Alcohol,\nDimethicone, Glycerin, Parfum"


def typed(text: str, session: Session | None = None) -> str:
    """Return what the shell prints for lines that come from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(session or Session.open(), reader, out).run()
    return out.getvalue()


@pytest.fixture
def keys() -> Iterator[PipeInput]:
    """A keyboard."""
    with create_pipe_input() as pipe:
        yield pipe


def at_keyboard(keys: PipeInput, session: Session, history: Path | None = None) -> str:
    """Return what the shell prints for the keys that were pressed."""
    out = io.StringIO()
    reader = PromptReader(
        SessionCompleter(session), history, source=keys, out=DummyOutput()
    )
    InteractiveShell(session, reader, out).run()
    return out.getvalue()


# ---------------------------------------------------------------------- orders


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


def test_leave_ends_it() -> None:
    assert typed("leave\nhelp\n") == ""


def test_a_product_that_is_not_there_is_named_with_what_is_near() -> None:
    page = typed('read "Harbor Cream"\n')
    assert 'no product "Harbor Cream" is on the shelf' in page
    assert 'did you mean "Harbour Cream"' in page


def test_there_is_nothing_to_trace_before_a_question() -> None:
    assert typed("trace last to why.md").startswith("there is no answer yet")
    assert typed("trace").startswith("this order names no file")


def test_the_last_answer_is_traced_to_a_file_and_nothing_is_replaced(
    tmp_path: Path,
) -> None:
    path = tmp_path / "why not.md"
    asked = 'does "Tideline Wash" clear Dimethicone'
    page = typed(f"{asked}\ntrace last to {path}\ntrace to {path}\n")
    assert f'The reasons are in "{path}".' in page
    assert f'"{path}" is there already and was left as it is' in page
    assert path.read_text().startswith(f"# {asked}")


# ---------------------------------------------------------------------- labels


def test_lines_of_a_label_are_gathered_until_an_empty_line() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nCove Cream\nconditioner\nshelf\n", session)
    assert "This looks like a label." in page
    assert '"Cove Cream" (conditioner) is on the shelf "mine" now.' in page
    assert session.shelf.labels[0].text == LABEL


def test_a_label_without_a_name_is_left() -> None:
    session = Session.open()
    assert "nothing was added" in typed(f"{LABEL}\n\n\n", session)
    assert session.shelf.name == "Merrow Quay class"


def test_the_kind_is_offered_from_the_name_and_asked_again_if_it_is_none() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nEbb Wash\nbalm\n\n", session)
    assert '"balm" is no kind' in page
    assert session.shelf.labels[0].kind == "wash"


def test_a_name_that_is_taken_is_asked_again_and_the_label_is_not_lost() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua")
    page = typed(f"{LABEL}\n\nEbb Wash\nwash\nEbb Two\nwash\n", session)
    assert "is on the shelf" in page
    assert [x.product for x in session.shelf.labels] == ["Ebb Wash", "Ebb Two"]
    assert session.shelf.labels[1].text == LABEL


def test_add_asks_for_all_there_is() -> None:
    session = Session.open()
    typed(f"add\nCove Cream\n{LABEL}\n\nconditioner\n", session)
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


# ------------------------------------------------------------------- a keyboard


def test_a_pasted_label_is_taken_whole(keys: PipeInput) -> None:
    session = Session.open()
    pasted = LABEL.replace("\n", "\r\n")
    keys.send_text(f"\x1b[200~{pasted}\x1b[201~\rCove Cream\rconditioner\r\x04")
    page = at_keyboard(keys, session)
    assert '"Cove Cream" (conditioner) is on the shelf' in page
    assert session.shelf.labels[0].text == LABEL


def test_control_c_clears_the_line_and_control_d_leaves(keys: PipeInput) -> None:
    keys.send_text("shelf nowhere\x03help undo\r\x04")
    assert at_keyboard(keys, Session.open()).startswith("undo: take back")


def test_control_c_stops_the_question_and_not_the_shell(
    keys: PipeInput, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slow(self: Session, text: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Session, "ask", slow)
    keys.send_text("which washes clear Dimethicone\rhelp undo\r\x04")
    page = at_keyboard(keys, Session.open())
    assert page.splitlines()[0] == "stopped"
    assert page.splitlines()[1].startswith("undo:")


def test_lines_last_in_a_history_of_ones_own(keys: PipeInput, tmp_path: Path) -> None:
    history = tmp_path / "made" / "history"
    keys.send_text("help undo\r\x04")
    at_keyboard(keys, Session.open(), history)
    assert "+help undo" in history.read_text()
    assert history.stat().st_mode & 0o077 == 0
    keys.send_text("\x1b[A\r\x04")
    assert at_keyboard(keys, Session.open(), history).startswith("undo:")


def test_a_history_that_cannot_be_kept_is_no_fault(
    keys: PipeInput, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    keys.send_text("help undo\r\x04")
    page = at_keyboard(keys, Session.open(), tmp_path / "file" / "history")
    assert page.startswith("undo:")


# ------------------------------------------------------------------- completion


@pytest.fixture(scope="module")
def offered() -> Callable[[str], list[str]]:
    """What Tab offers after a text."""
    completer = SessionCompleter(Session.open())

    def offers(text: str) -> list[str]:
        found = completer.get_completions(Document(text), CompleteEvent())
        return [text[: len(text) + x.start_position] + x.text for x in found]

    return offers


def test_the_words_that_can_come_next_are_offered(
    offered: Callable[[str], list[str]],
) -> None:
    assert "which" in offered("wh")
    assert "what" in offered("wh")
    assert "shelf" in offered("sh")


def test_products_of_the_shelf_are_offered_where_a_product_can_stand(
    offered: Callable[[str], list[str]],
) -> None:
    assert 'does "Tideline Wash"' in offered("does tide")
    assert 'does "Tideline Wash"' in offered('does "tide')
    assert 'drop "Harbour Cream"' in offered("drop harb")


def test_films_are_offered_where_a_film_can_stand(
    offered: Callable[[str], list[str]],
) -> None:
    found = offered("which washes clear dimethicon")
    assert 'which washes clear "Dimethicone"' in found
    assert not any("Harbour" in text for text in found)


def test_nothing_is_offered_inside_a_pasted_label(
    offered: Callable[[str], list[str]],
) -> None:
    assert offered("Aqua,\nwh") == []


# ------------------------------------------------------------------------ a pipe


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
