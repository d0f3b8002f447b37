"""Commands at large: their help, the code they leave with, the process they run in."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from commanded import QUERY, SHELF, Run, script


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["ask"], "there is no question to answer"),
        (["ask", "--shelf", "none.jsonl", "which washes"], "none.jsonl"),
        (["ask", "--shelf", "none", "which washes"], 'shelf of yours called "none"'),
        (["ask", "--queries", "none.txt"], 'there is no file "none.txt"'),
        (["read", "none.txt"], 'there is no file "none.txt"'),
        (["check", "none.json"], 'there is no file "none.json"'),
        (["trace", "--to", "none/why.md", QUERY], 'no folder "none"'),
        (["trace", "--to", "why.pdf", QUERY], "ends in .html or .md for a page"),
        (["shelf", "--to", "shelf.pdf"], "does not end like a shelf"),
        (["frobnicate"], "invalid choice"),
        (["ask", "--colour"], "unrecognized arguments"),
    ],
)
def test_a_wrong_command_leaves_with_two(run: Run, words: list[str], said: str) -> None:
    ran = run(*words)
    assert ran.code == 2
    assert said in ran.err


def test_a_shelf_is_saved_in_every_form_and_reads_back(
    run: Run, shelf: Path, tmp_path: Path
) -> None:
    for name in ("s.csv", "t.jsonl", "folder"):
        target = str(tmp_path / name)
        assert run("shelf", "--shelf", str(shelf), "--to", target).code == 0
        back = run("shelf", "--json", "--shelf", target).objects
        assert [{k: x[k] for k in SHELF[0]} for x in back] == SHELF
        again = run("shelf", "--shelf", str(shelf), "--to", target)
        assert (again.code, "left as it is" in again.err) == (2, True)


@pytest.mark.slow
def test_the_demo_answers_every_question_it_asks(run: Run) -> None:
    ran = run("demo")
    assert ran.code == 0
    assert ran.err == ""
    assert ran.out.count("\n> ") == 6


def test_every_command_has_help_with_an_example(run: Run) -> None:
    names = ("ask", "name", "read", "shelf", "trace", "check", "demo")
    whole = run("--help").out
    for name in names:
        assert f"    {name} " in whole
        page = run(name, "--help").out
        assert "example" in page


# ------------------------------------------------------------------ the process


def test_a_reader_that_has_gone_is_no_fault() -> None:
    code = (
        "from abluent.shell.command.cli import main; raise SystemExit(main(['demo']))"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    process.stdout.readline()
    process.stdout.close()
    _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")


def test_the_process_leaves_with_the_code_of_the_command() -> None:
    assert script("name", "Dimethicone").returncode == 0
    assert script("shelf", "--shelf", "none.csv").returncode == 2
    assert script("frobnicate").returncode == 2


@pytest.mark.slow
def test_half_a_character_on_a_label_is_passed_on(tmp_path: Path) -> None:
    path = tmp_path / "s.jsonl"
    row = {"product": "Ebb", "kind": "wash", "market": "", "text": "Aqua, \ud83d"}
    path.write_text(json.dumps(row))
    ran = script("shelf", "--json", "--shelf", str(path))
    assert json.loads(ran.stdout)["text"] == row["text"]
    assert script("read", str(path)).returncode == 0
    saved = tmp_path / "t.jsonl"
    assert script("shelf", "--shelf", str(path), "--to", str(saved)).returncode == 0
    assert json.loads(saved.read_text().splitlines()[1])["text"] == row["text"]


def test_a_listing_imports_nothing_heavy() -> None:
    code = (
        "import sys; from abluent.shell.command.cli import main; "
        "main(['shelf', '--json']); "
        "print(*sorted(sys.modules), file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    loaded = set(ran.stderr.split())
    heavy = {"lark", "prompt_toolkit", "pyoxigraph", "rdflib", "csv", "tqdm"}
    assert not loaded & heavy
    assert "abluent.engine.logic.reasoner" not in loaded


@pytest.mark.slow
def test_a_second_question_imports_nothing_slow(tmp_path: Path) -> None:
    """What was made for the first is used; what makes it is not even looked at.

    With each of these the answer would come noticeably later.
    """
    slow = {"dataclasses", "importlib.resources", "inspect", "lark", "platformdirs"}
    slow |= {"pathlib", "rdflib", "shutil", "tomllib", "zipfile"}
    # What finds the packages of an editable install has imported some of them.
    code = (
        f"import sys; [sys.modules.pop(name, None) for name in {sorted(slow)}]; "
        "from abluent.shell.command.cli import main; main(sys.argv[1:]); "
        "print(*sorted(sys.modules), file=sys.stderr)"
    )
    words = [sys.executable, "-c", code, "ask", "--json", QUERY]
    ways = {**os.environ, "XDG_CACHE_HOME": str(tmp_path)}
    first, second = (
        subprocess.run(words, env=ways, capture_output=True, text=True, check=True)
        for _ in range(2)
    )
    assert json.loads(first.stdout) == json.loads(second.stdout)
    loaded = set(second.stderr.split())
    assert not loaded & slow
    makers = {"base._compile", "base._parse", "reading.labels"}
    makers |= {"questions.about.follow_up"}
    assert not loaded & {f"abluent.engine.{name}" for name in makers}


def test_the_package_is_the_command_too() -> None:
    words = [sys.executable, "-m", "abluent.shell", "--help"]
    ran = subprocess.run(words, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout.split()[1]) == (0, "abluent"), ran.stderr
