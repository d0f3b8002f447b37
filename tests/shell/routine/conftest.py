"""What is printed of a routine or a plan on a shelf of the test's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from abluent.shell.command.cli import main


@pytest.fixture
def page_of(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """What is printed of some lines on a shelf, without its line ends."""

    def printed(shelf: str, command: str, *lines: str) -> str:
        file, routine = tmp_path / "shelf.jsonl", tmp_path / "week.txt"
        file.write_text(shelf, "utf-8")
        routine.write_text("\n".join(lines) + "\n", "utf-8")
        assert main([command, "--shelf", str(file), str(routine)]) == 0
        return " ".join(capsys.readouterr().out.split())

    return printed
