"""Every how-to, followed to the letter from the blocks of its own page."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest
from abluent.engine.owl import hermit
from abluent.engine.owl.hermit import NoReasoner
from abluent.shell.command.cli import main
from abluent.shell.pages import trace_forms

HOUSE = Path(__file__).parent.parent
PAGE = (HOUSE / "HOW-TO.md").read_text(encoding="utf-8")
SECTIONS = dict(
    part.split("\n", 1)  # type: ignore[misc]
    for part in re.split(r"^## ", PAGE, flags=re.MULTILINE)[1:]
)
_BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_FILE = re.compile(r"`([\w./-]+\.\w+)`[^`\n]*:$")
FORM = "Add a form of question"
IN_PROCESS = [name for name in SECTIONS if name != FORM]
HEAVY = {"Add an ingredient", "Add a claim with its source"}
"""What takes a long time; what it writes is used by the sections after it."""


class Step(NamedTuple):
    """A block: a file to write, edits to make, or a command with what it prints."""

    kind: str
    text: str
    path: str = ""
    prints: tuple[str, ...] = ()


def steps(section: str) -> list[Step]:
    """The blocks of a section, in order; a file is named by the line before it."""
    found: list[Step] = []
    text = SECTIONS[section]
    for block in _BLOCK.finditer(text):
        kind, body = block.groups()
        if kind == "console":
            for part in re.split(r"^\$ ", body, flags=re.MULTILINE)[1:]:
                command, *prints = part.rstrip("\n").split("\n")
                found.append(Step("run", command, prints=tuple(prints)))
        elif kind == "diff":
            found.append(Step("diff", body))
        else:
            before = text[: block.start()].rstrip("\n").splitlines()[-1]
            named = _FILE.search(before) or re.search(r"^`([\w./-]+)`", before)
            assert named is not None, before
            found.append(Step("file", body, path=named[1]))
    assert found
    return found


def write(step: Step, folder: Path) -> None:
    path = folder / step.path
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(step.text, encoding="utf-8")


def assert_printed(step: Step, out: str) -> None:
    """Every line that is shown was printed, in order; `…` stands for any."""
    at = 0
    shown = [line for line in step.prints if line != "…"]
    assert shown or "…" in step.prints or not out, step.text
    for line in shown:
        pieces = [re.escape(piece) for piece in line.split("…")]
        pattern = ".*".join(pieces).rstrip()
        found = re.compile(rf"^{pattern}", re.MULTILINE).search(out, at)
        assert found is not None, f"{step.text}\nlacks: {line}\nin: {out}"
        at = found.end()


def no_java() -> str:
    """HermiT has tests of its own, and takes its time."""
    raise NoReasoner("not asked here")


def run_here(step: Step, capsys: pytest.CaptureFixture[str]) -> str:
    program, *words = shlex.split(step.text)
    if program == "sed":
        subprocess.run([program, *words], check=True)
        return ""
    assert program == "abluent"
    main(words)
    told = capsys.readouterr()
    return told.out + told.err


@pytest.mark.slow
@pytest.mark.parametrize(
    "section",
    [
        pytest.param(s, marks=[pytest.mark.long] if s in HEAVY else [])
        for s in IN_PROCESS
    ],
)
def test_a_how_to_does_what_it_says(
    section: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Each file is written, each command run, and each line shown is printed.

    What an earlier section wrote is there, as it is for who reads on.
    """
    monkeypatch.chdir(tmp_path)
    added = tmp_path / "shell" / "pages" / "trace_forms"
    monkeypatch.setattr(trace_forms, "__path__", [*trace_forms.__path__, str(added)])
    monkeypatch.setattr(hermit, "java", no_java)
    monkeypatch.setattr(sys.stdin, "isatty", lambda: False, raising=False)
    for earlier in IN_PROCESS[: IN_PROCESS.index(section)]:
        for step in steps(earlier):
            if step.kind == "file":
                write(step, tmp_path)
    for step in steps(section):
        if step.kind == "file":
            write(step, tmp_path)
        else:
            assert_printed(step, run_here(step, capsys))


def test_every_edit_of_the_form_of_question_fits(tmp_path: Path) -> None:
    """The edits apply to the sources as they are, and no file is there already."""
    edits = "".join(step.text for step in steps(FORM) if step.kind == "diff")
    assert edits.count("--- a/") == 6
    patch = tmp_path / "form.diff"
    patch.write_text(edits, encoding="utf-8")
    check = ["git", "apply", "--check", str(patch)]
    done = subprocess.run(check, cwd=HOUSE, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (made,) = [step for step in steps(FORM) if step.kind == "file"]
    assert not (HOUSE / made.path).exists()


@pytest.mark.long
def test_the_form_of_question_is_answered(tmp_path: Path) -> None:
    """With the edits made in a copy of the house, the new question has its answer."""
    house = tmp_path / "abluent"
    skip = shutil.ignore_patterns("__pycache__")
    for room in ("grammar", "engine", "shell", "ontology"):
        shutil.copytree(HOUSE / room, house / room, ignore=skip)
    ask = _asking(tmp_path)
    for step in steps(FORM):
        if step.kind == "file":
            write(step, house)
        elif step.kind == "diff":
            patch = tmp_path / "form.diff"
            patch.write_text(step.text, encoding="utf-8")
            subprocess.run(["git", "apply", str(patch)], cwd=house, check=True)
        else:
            assert_printed(step, ask(step))


def _asking(folder: Path) -> Callable[[Step], str]:
    """What runs a command in a copy of the house, with a cache of its own."""
    own = {"PYTHONPATH": str(folder), "XDG_CACHE_HOME": str(folder / "cache")}

    def run(step: Step) -> str:
        words = shlex.split(step.text)[1:]
        command = [sys.executable, "-m", "abluent.shell", *words]
        done = subprocess.run(
            command,
            cwd=folder,
            env={**os.environ, **own},
            capture_output=True,
            text=True,
            check=False,
        )
        return done.stdout + done.stderr

    return run
