"""The interactive shell under the keys of a keyboard: pastes, history, Tab."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from abluent.shell.session.session import Session
from abluent.shell.talk.completion import SessionCompleter
from abluent.shell.talk.loop import InteractiveShell
from abluent.shell.talk.prompt import PromptReader
from prompt_toolkit.completion import CompleteEvent
from prompt_toolkit.document import Document
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput
from sittings import LABEL


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


def test_from_nothing_to_an_answer_on_ones_own_label(keys: PipeInput) -> None:
    """A paste and an accepted offer count as one key each; there are under 25."""
    session = Session.open(own=True)
    paste = f"\x1b[200~{LABEL}\x1b[201~"
    pressed = [paste, "\r", "\r", "\r", "\r"]
    keys.send_text("".join([*pressed, "\x04"]))
    assert "leave Dimethicone and Cetearyl Alcohol" in at_keyboard(keys, session)
    assert len(pressed) < 25


def test_a_key_that_is_typed_at_a_pause_begins_the_next_line(keys: PipeInput) -> None:
    reader = PromptReader(None, None, source=keys, out=DummyOutput())
    keys.send_text("w")
    assert reader.more(9) is False
    keys.send_text("hy\r")
    assert reader.line().text == "why"
    keys.send_text(" ")
    assert reader.more(9) is True


def test_a_pasted_label_is_taken_whole(keys: PipeInput) -> None:
    session = Session.open()
    pasted = LABEL.replace("\n", "\r\n")
    keys.send_text(f"\x1b[200~{pasted}\x1b[201~\rCove Cream\rconditioner\r\r\x04")
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
