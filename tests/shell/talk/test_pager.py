"""Long answers come a screen at a time, where somebody sits before a screen."""

from __future__ import annotations

import io
from collections.abc import Iterator

import pytest
from abluent.shell.ground.reports import rows_of
from abluent.shell.session.session import Session
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from abluent.shell.talk.pager import screens
from abluent.shell.talk.prompt import PromptReader
from hypothesis import given
from hypothesis import strategies as st
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput

LONG = "\n".join(f"line {number}" for number in range(1, 31))
CTRL_C, CTRL_D, ESCAPE = "\x03", "\x04", "\x1b"


@pytest.fixture
def keys() -> Iterator[PipeInput]:
    """A keyboard."""
    with create_pipe_input() as pipe:
        yield pipe


def shell_at(keys: PipeInput, rows: int) -> tuple[InteractiveShell, io.StringIO]:
    """A shell on a screen of so many rows, and what it prints."""
    out = io.StringIO()
    reader = PromptReader(None, None, source=keys, out=DummyOutput())
    shell = InteractiveShell(
        Session.open(), reader, out, page=lambda: (40, False), rows=lambda: rows
    )
    return shell, out


@given(
    st.lists(st.text("ab 漢", max_size=30), min_size=1, max_size=40),
    st.integers(1, 30),
    st.integers(1, 12),
)
def test_no_line_is_lost_and_none_is_doubled(
    lines: list[str], columns: int, rows: int
) -> None:
    """The pieces together are the text, and each tells how many lines are left."""
    text = "\n".join(lines)
    pieces = list(screens(text, columns, rows))
    assert "\n".join(piece for piece, _ in pieces) == text
    done = 0
    for piece, left in pieces:
        done += piece.count("\n") + 1
        assert left == len(lines) - done


def test_a_wide_line_counts_for_the_rows_it_takes() -> None:
    """Four columns hold two wide characters, so six of them take three rows."""
    pieces = [piece for piece, _ in screens("漢漢漢漢漢漢\na\nb", 4, 5)]
    assert pieces == ["漢漢漢漢漢漢\na", "b"]


def test_a_screen_at_a_time(keys: PipeInput) -> None:
    shell, out = shell_at(keys, 12)
    keys.send_text(" \r")
    shell.show(LONG)
    assert out.getvalue() == LONG + "\n"


@pytest.mark.parametrize("key", ["q", CTRL_C, CTRL_D, ESCAPE])
def test_it_is_left_early_and_says_what_is_left_out(keys: PipeInput, key: str) -> None:
    shell, out = shell_at(keys, 12)
    keys.send_text(key)
    shell.show(LONG)
    assert out.getvalue().endswith("line 11\n… 19 more lines\n")


def test_other_keys_neither_go_on_nor_stop(keys: PipeInput) -> None:
    shell, out = shell_at(keys, 12)
    keys.send_text("x7q")
    shell.show(LONG)
    assert out.getvalue().count("line ") == 11


def test_control_c_leaves_the_pager_and_not_the_shell(keys: PipeInput) -> None:
    """The next line is read, and a fault in it is told as ever."""
    shell, out = shell_at(keys, 5)
    keys.send_text(f"shelf\r{CTRL_C}drop\r{CTRL_D}")
    assert shell.run() == 2
    assert "more lines\n" in out.getvalue()
    assert "does not say which product" in out.getvalue()


def test_an_error_is_never_held_back(keys: PipeInput) -> None:
    """However low the screen is, a message is printed whole and at once."""
    shell, out = shell_at(keys, 4)
    keys.send_text(f'does "Tideline Wash" claer soap\r{CTRL_D}')
    shell.run()
    assert 'does "Tideline Wash" clear soap' in out.getvalue()
    assert "more line" not in out.getvalue()


def test_nothing_is_held_back_from_a_pipe_or_a_plain_terminal() -> None:
    out = io.StringIO()
    reader = PlainReader(io.StringIO("shelf\n"), out, spoken=True)
    InteractiveShell(Session.open(), reader, out, rows=lambda: 5).run()
    assert "more lines" not in out.getvalue()
    assert "Harbour Cream" in out.getvalue()


def test_what_is_no_screen_has_the_rows_of_a_small_one() -> None:
    assert rows_of(io.StringIO()) == 24
