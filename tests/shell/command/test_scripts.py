"""What is made from the help of the command: completion scripts and a page for man."""

from __future__ import annotations

import shutil
import subprocess

import pytest
from commanded import Run


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_script_knows_every_command_and_its_options(run: Run, shell: str) -> None:
    script = run("completion", shell).out
    for word in ("desk", "picture", "completion", "shape", "no-browser"):
        assert word in script


@pytest.mark.skipif(shutil.which("bash") is None, reason="there is no bash")
def test_bash_completes_by_it(run: Run) -> None:
    script = run("completion", "bash").out
    typed = "COMP_WORDS=(abluent de); COMP_CWORD=1; _abluent"
    asked = f"{script}\n{typed}; echo ${{COMPREPLY[@]}}"
    done = subprocess.run(
        ["bash", "-c", asked], capture_output=True, text=True, check=True
    )
    assert done.stdout.split()[:2] == ["demo", "desk"]


def test_the_page_for_man_tells_every_command(run: Run) -> None:
    page = run("man").out
    assert page.startswith(".TH ABLUENT 1")
    for word in (".SS desk", ".SS picture", "\\-\\-no\\-browser", ".SH EXAMPLES"):
        assert word in page
    # A line that begins with a mark of that language is one of its requests.
    assert {line.split()[0] for line in page.splitlines() if line.startswith(".")} == {
        *(".TH", ".SH", ".SS", ".TP", ".B", ".br"),
    }
