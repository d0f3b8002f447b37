"""Traces written and checked in one command each."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from abluent.engine.checking import checker, kernel
from commanded import QUERY, Run


@pytest.mark.slow
def test_a_trace_is_written_once_and_holds(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "why.json"
    assert run("trace", "--to", str(path), QUERY).code == 0
    ran = run("check", str(path))
    assert ran.code == 0
    assert ran.out.startswith(f"{path}: holds, by the base abluent ")
    ran = run("check", "--alone", str(path))
    alone = "holds by its own rules and facts; not compared with a base"
    assert (ran.code, ran.out) == (0, f"{path}: {alone}\n")
    before = path.read_bytes()
    ran = run("trace", "--to", str(path), "what is Dimethicone")
    assert ran.code == 2
    assert "add --overwrite" in ran.err
    assert path.read_bytes() == before
    words = ("trace", "--to", str(path), "--overwrite", "what is Dimethicone")
    assert run(*words).code == 0
    assert path.read_bytes() != before


@pytest.mark.slow
def test_a_trace_that_was_changed_does_not_hold(run: Run, tmp_path: Path) -> None:
    trace = json.loads(run("trace", "--format", "json", QUERY).out)
    trace["verdict"]["answers"][0]["verdict"] = "partly clears"
    path = tmp_path / "why.json"
    path.write_text(json.dumps(trace))
    ran = run("check", "--json", str(path))
    assert ran.code == 1
    assert ran.objects[0]["holds"] is False
    assert ran.objects[0]["problems"]


@pytest.mark.slow
def test_a_trace_is_held_against_the_installed_base(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "why.json"
    run("trace", "--to", str(path), "what is Dimethicone")
    assert run("check", str(path)).code == 0
    trace = checker.read(path.read_text())
    trace["sources"] |= dict.fromkeys(trace["sources"], "An invented work.")
    del trace["digest"]
    path.write_text(json.dumps({**trace, "digest": kernel.digest(trace)}))
    assert run("check", "--alone", str(path)).code == 0
    ran = run("check", str(path))
    assert (ran.code, "differs in the sources" in ran.out) == (1, True)


@pytest.mark.slow
def test_a_supposition_is_listed_and_has_a_code_of_its_own(
    run: Run, tmp_path: Path
) -> None:
    """A script can tell it from what holds without one."""
    path = tmp_path / "why.json"
    question = (
        'suppose "Harbour Cream" had no "Dimethicone": '
        'does "Tideline Wash" clear everything from "Harbour Cream"'
    )
    assert run("trace", "--to", str(path), question).code == 0
    ran = run("check", "--alone", str(path))
    assert ran.code == 3
    assert "; supposing " in ran.out
    assert "not that line(product/Harbour Cream, 3, dimethicone)" in ran.out


def test_what_holds_means_is_printed(run: Run) -> None:
    ran = run("check", "--statement")
    assert (ran.code, ran.out) == (0, f"{checker.HOLDS}\n")
    assert run("check").code == 2


def test_the_version_names_the_base(run: Run) -> None:
    """By a digest that a trace names too."""
    name, _, digest = run("--version").out.strip().partition(", base ")
    trace = json.loads(run("trace", "--format", "json", QUERY).out)
    assert trace["base"] == {"name": name, "digest": digest}
    assert len(digest) == 64


def test_what_is_no_trace_is_wrong_data(run: Run) -> None:
    ran = run("check", "-", typed=b"no trace")
    assert ran.code == 1
    assert ran.err.startswith("standard input: this is no trace")
    assert run("check", "-", typed=b"[]").code == 1


@pytest.mark.slow
def test_a_trace_is_printed_as_a_page(run: Run) -> None:
    page = run("trace", QUERY).out
    assert page.startswith('# does "Tideline Wash" clear "Dimethicone"')
    said = "Tideline Wash takes most of Dimethicone from Harbour Cream off"
    assert f"**Yes, likely: {said}, perhaps not all in one wash, " in page
    assert "label of Harbour Cream, line 1, column" in page
    assert "## Sources" in page
    assert "## Cautions" in page
    assert "**the weakest step**" in page
