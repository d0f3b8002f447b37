"""The shell in a real terminal, inside tmux: keys go in, a screen comes out."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

pytestmark = pytest.mark.skipif(
    shutil.which("tmux") is None, reason="tmux is not installed"
)
COMMAND = "from abluent.shell.command.cli import script; script()"
PATIENCE = 40.0  # seconds that a busy machine may need for one screen

Tmux = Callable[..., str]


@pytest.fixture
def tmux(tmp_path: Path, data_folder: Path) -> Iterator[Tmux]:
    """A server of its own with one shell 80 columns wide, and how to talk to it."""
    program = shutil.which("tmux") or "tmux"

    def run(*words: str) -> str:
        line = [program, "-S", str(tmp_path / "tmux"), "-f", "/dev/null", *words]
        return subprocess.run(line, capture_output=True, text=True, check=True).stdout

    # The width is that of the window, whatever the tests are run with.
    shell = f"unset COLUMNS; ABLUENT_DATA={shlex.quote(str(data_folder))} exec "
    shell += shlex.join([sys.executable, "-c", COMMAND])
    run("new-session", "-d", "-x", "80", "-y", "60", shell)
    yield run
    subprocess.run([program, "-S", str(tmp_path / "tmux"), "kill-server"], check=False)


def seen(tmux: Tmux, wanted: str) -> str:
    """Wait until a text is on the screen; return the screen."""
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline:
        screen = tmux("capture-pane", "-p", "-S", "-200")
        if wanted in screen:
            return screen
        time.sleep(0.1)
    raise AssertionError(f"{wanted!r} did not appear in:\n{screen}")


def test_a_sitting_in_a_terminal(tmux: Tmux, data_folder: Path) -> None:
    seen(tmux, "abluent>")
    tmux("send-keys", "-l", "help")
    tmux("send-keys", "Enter")
    seen(tmux, "Tab completes.")
    tmux("send-keys", "-l", "does tide")
    tmux("send-keys", "Tab")
    seen(tmux, 'abluent> does "Tideline Wash"')
    tmux("send-keys", "-l", " clear Dimethicone")
    tmux("send-keys", "Enter")
    screen = seen(tmux, "On wash day: ")
    assert "Tideline Wash takes most of Dimethicone off" in " ".join(screen.split())
    # A label is pasted whole, named, and on the disk at once.
    pasted = "Ingredients: Aqua, Cetearyl Alcohol,\nDimethicone, Glycerin, Parfum"
    tmux("set-buffer", pasted)
    tmux("paste-buffer", "-p")
    tmux("send-keys", "Enter")
    seen(tmux, "Name [Product 1]:")
    tmux("send-keys", "-l", "Cove Cream")
    tmux("send-keys", "Enter")
    seen(tmux, "Kind [other")
    tmux("send-keys", "-l", "conditioner")
    tmux("send-keys", "Enter")
    seen(tmux, "Market, such as EU")
    tmux("send-keys", "Enter")
    seen(tmux, '"Cove Cream" (conditioner) is on the shelf')
    # A terminal that is closed under it loses nothing.
    tmux("kill-session")
    kept = (data_folder / "shelves" / "mine.jsonl").read_text()
    assert '"Cove Cream"' in kept
    assert "does " in (data_folder / "history").read_text()


def waiting(tmux: Tmux, *, less_than: int = 9999) -> int:
    """Wait for the prompt of a long text; return how many lines it says are left."""
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline:
        screen = tmux("capture-pane", "-p")
        found = re.search(r"(\d+) more lines: Space", screen)
        if found and int(found[1]) < less_than:
            return int(found[1])
        time.sleep(0.1)
    raise AssertionError(f"no text waits for a key in:\n{screen}")


def test_a_long_answer_comes_a_screen_at_a_time(tmux: Tmux) -> None:
    """The next question is typed where the last one's answer was left."""
    tmux("resize-window", "-x", "40", "-y", "12")
    seen(tmux, "abluent>")
    tmux("send-keys", "-l", 'does "Tideline Wash" clear Dimethicone')
    tmux("send-keys", "Enter")
    first = waiting(tmux)
    tmux("send-keys", "Space")
    assert waiting(tmux, less_than=first) < first
    tmux("send-keys", "C-c")
    seen(tmux, "more lines\nabluent>")
    tmux("send-keys", "-l", "drop")
    tmux("send-keys", "Enter")
    seen(tmux, "does not say which")
