"""The tool under comparison, by its command alone, so that it may be built anew inside.

What it prints is caught; nothing else of it is looked at.
"""

from __future__ import annotations

import io
import json
import os
import tomllib
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from importlib import import_module
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

TOP = Path(__file__).parents[2]
FINE = {0, 1}
"""The codes of commands that were understood; 1 tells of a fault in the data."""


class Misunderstood(Exception):
    """A command that is asked for here is none any more."""


@contextmanager
def alone(start: Path | None = None) -> Iterator[Path]:
    """A folder to work in, away from what the user taught, kept and asked before.

    Which of several equal reasons is shown may hang on what is in the cache; so each
    table begins with the same one.

    Args:
        start: a folder that `started` filled, whose cache to begin with.
    """
    with TemporaryDirectory() as name:
        room = Path(name)
        if start:
            copytree(start / "cache", room / "cache")
        homes = {"XDG_CACHE_HOME": f"{room / 'cache'}", "XDG_DATA_HOME": name}
        with patch.dict(os.environ, {**homes, "ABLUENT_DATA": name, "COLUMNS": "80"}):
            yield room


@contextmanager
def started() -> Iterator[Path]:
    """A folder whose cache has the base in it and nothing that was asked of it."""
    with alone() as room:
        printed("name", "Water")
        yield room


def printed(*words: str | Path) -> str:
    """Run one command in this process and return what it printed.

    Raises:
        Misunderstood: the command left with another code than 0 or 1.
    """
    out, errors = io.StringIO(), io.StringIO()
    argv = [str(word) for word in words]
    with redirect_stdout(out), redirect_stderr(errors):
        try:
            code = command()(argv)
        except SystemExit as left:
            code = int(left.code or 0)
    if code not in FINE:
        raise Misunderstood(f"abluent {' '.join(argv)}\n{errors.getvalue()}")
    return out.getvalue()


def objects(*words: str | Path) -> list[dict[str, Any]]:
    """Run one command and return the JSON objects it printed, one a line."""
    return [json.loads(line) for line in printed(*words).split("\n") if line]


def asked(room: Path, questions: Sequence[str], *options: str | Path) -> Iterable[Any]:
    """Ask questions in one session and return their answers as JSON."""
    file = room / "questions.txt"
    file.write_text("\n".join(questions) + "\n", encoding="utf-8")
    return objects("ask", "--json", *options, "--queries", file)


def command() -> Callable[[Sequence[str]], int]:
    """What the installed command runs, found where `pyproject.toml` names it."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    module, _, _ = project["project"]["scripts"]["abluent"].partition(":")
    main: Callable[[Sequence[str]], int] = import_module(module).main
    return main
