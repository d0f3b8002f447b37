"""The bar that shows how many labels were read."""

from __future__ import annotations

import io
import sys
import time

import pytest
from abluent.shell.ground import progress
from abluent.shell.ground.progress import judging_bar, reading_bar, waiting
from abluent.shell.session.session import Session


class Terminal(io.StringIO):
    """Text that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_short_shelf_or_a_pipe_shows_no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", Terminal())
    with reading_bar(10) as tick:
        assert tick is None
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    with reading_bar(5_000) as tick:
        assert tick is None


def test_a_long_shelf_shows_how_far_it_got(monkeypatch: pytest.MonkeyPatch) -> None:
    out = Terminal()
    monkeypatch.setattr(sys, "stderr", out)
    monkeypatch.setattr(progress, "DELAY_SECONDS", 0)
    with reading_bar(5_000) as tick:
        assert tick is not None
        tick()
    assert "labels read" in out.getvalue()
    assert "/5000" in out.getvalue()


def test_judging_shows_how_far_it_got_and_what_is_left(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    out = Terminal()
    monkeypatch.setattr(sys, "stderr", out)
    with judging_bar(10) as show:
        assert show is None
    with judging_bar(5_000) as show:
        assert show is not None
        for done in (1000, 2000, 3400):
            show(done, 3400)
    assert "washes judged" in out.getvalue()
    assert "3400/3400" in out.getvalue()
    assert "<" in out.getvalue()


def test_what_cannot_be_counted_is_told_by_its_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    out = Terminal()
    monkeypatch.setattr(sys, "stderr", out)
    monkeypatch.setattr(progress, "DELAY_SECONDS", 0.01)
    with waiting("judging", "checking") as on:
        while "judging, 0 s" not in out.getvalue():
            time.sleep(0.01)
        on()
        on()
    assert out.getvalue().endswith("\r\x1b[K")


def test_work_that_fails_leaves_no_line_and_a_pipe_has_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for out in (Terminal(), io.StringIO()):
        monkeypatch.setattr(sys, "stderr", out)
        with pytest.raises(KeyboardInterrupt), waiting("judging"):
            raise KeyboardInterrupt
        assert out.getvalue() == ""


def test_each_label_is_counted_once() -> None:
    counted = []
    session = Session.open()
    session.watch = lambda: counted.append(1)
    session.read_product("Harbour Cream")
    session.read_product("harbour cream")
    session.read_product("Tideline Wash")
    assert len(counted) == 2
