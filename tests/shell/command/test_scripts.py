"""What is made from the help of the command: completion scripts and a page for man."""

from __future__ import annotations

import argparse
import re
import shutil
import subprocess

import pytest
from abluent.shell.command.cli import parser_of
from commanded import Run


def commands() -> dict[str, set[str]]:
    """Every command that the parser takes, with its long options."""
    (subs,) = (
        action
        for action in parser_of()._actions
        if isinstance(action, argparse._SubParsersAction)
    )
    return {
        name: {flag for flag in each._option_string_actions if flag[:2] == "--"}
        for name, each in subs.choices.items()
    }


def offered(script: str, command: str) -> set[str]:
    """The long options that a script offers after a command."""
    fish = rf"__fish_seen_subcommand_from {command}' -l (\S+)$"
    if found := re.findall(fish, script, re.MULTILINE):
        return {f"--{name}" for name in found}
    (words,) = re.findall(rf'^ +{command}\) words="(.*)" ;;$', script, re.MULTILINE)
    return {word for word in words.split() if word[:2] == "--"}


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_script_knows_every_command_and_its_options(run: Run, shell: str) -> None:
    script = run("completion", shell).out
    assert "--no-browser" in commands()["desk"]
    for name, options in commands().items():
        assert offered(script, name) == options, name


@pytest.mark.skipif(shutil.which("bash") is None, reason="there is no bash")
def test_bash_completes_by_it(run: Run) -> None:
    script = run("completion", "bash").out
    typed = "COMP_WORDS=(abluent de); COMP_CWORD=1; _abluent"
    asked = f"{script}\n{typed}; echo ${{COMPREPLY[@]}}"
    done = subprocess.run(
        ["bash", "-c", asked], capture_output=True, text=True, check=True
    )
    wanted = sorted(name for name in commands() if name.startswith("de"))
    assert wanted
    assert done.stdout.split()[: len(wanted)] == wanted


def test_the_page_for_man_tells_every_command(run: Run) -> None:
    page = run("man").out
    assert page.startswith(".TH ABLUENT 1")
    assert ".SH EXAMPLES" in page
    sections = dict(
        re.findall(r"^\.SS (.+)\n((?:(?!\.S[SH] ).*\n)*)", page, re.MULTILINE)
    )
    told = {name.replace("\\-", "-"): text for name, text in sections.items()}
    assert set(told) == set(commands())
    for name, options in commands().items():
        text = told[name].replace("\\-", "-")
        assert options <= set(re.findall(r"--[\w-]+", text)), name
    # A line that begins with a mark of that language is one of its requests.
    assert {line.split()[0] for line in page.splitlines() if line.startswith(".")} == {
        *(".TH", ".SH", ".SS", ".TP", ".B", ".br"),
    }
