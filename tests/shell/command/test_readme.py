"""What the tour of the README shows is what its commands print."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from abluent.shell.command.cli import main

README = Path(__file__).parents[3] / "README.md"
BLOCKS = re.findall(
    r"^```(\w+)\n(.*?)^```$", README.read_text("utf-8"), re.MULTILINE | re.DOTALL
)
TOUR = [
    tuple(each.split("\n", 1))
    for kind, text in BLOCKS
    if kind == "text"
    for each in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]
]
ALONE = ("abluent ask ", "abluent name ")
CASES = [
    (typed, shown)
    for typed, shown in TOUR
    if typed.startswith(ALONE) and "--over" not in typed and shown
]


def gaps(shown: str) -> list[str]:
    """The parts of what is shown, between the lines that stand for those left out."""
    return re.split(r"^  …\n", shown, flags=re.MULTILINE)


def told_in_turn(shown: str, printed: str) -> bool:
    """Whether the parts shown stand in what was printed, one after the other."""
    at = 0
    for part in gaps(shown):
        found = printed.find(part, at)
        if found < 0:
            return False
        at = found + len(part)
    return printed.startswith(gaps(shown)[0])


def test_the_tour_is_found() -> None:
    assert len(CASES) >= 8
    assert not told_in_turn("a\n  …\nc\n", "c\na\n")


@pytest.mark.slow
@pytest.mark.parametrize(("typed", "shown"), CASES)
def test_an_answer_of_the_tour_is_what_is_printed(
    typed: str,
    shown: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    main(shlex.split(typed)[1:])
    ran = capsys.readouterr()
    assert told_in_turn(shown, ran.out or ran.err), ran.out


@pytest.mark.slow
def test_the_review_of_the_tour_is_what_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (remarks,) = (text for kind, text in BLOCKS if kind == "toml")
    Path("remarks.toml").write_text(remarks, "utf-8")
    (trace,) = (
        each for each, _ in TOUR if each.startswith("abluent trace --to why.js")
    )
    assert main(shlex.split(trace)[1:]) == 0
    (shown,) = (text for each, text in TOUR if each.startswith("abluent review"))
    capsys.readouterr()
    assert main(["review", "why.json", "remarks.toml"]) == 1  # something falls
    assert told_in_turn(shown, capsys.readouterr().out)


@pytest.mark.slow
def test_the_catalogue_of_the_tour_is_what_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Swept, and then asked over what was written."""
    pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
    pytest.importorskip("numpy", reason="a sweep needs numpy")
    monkeypatch.chdir(tmp_path)
    over = [each for each in TOUR if "judged.duckdb" in each[0]]
    assert over[0][0].startswith("abluent sweep")
    assert len(over) >= 4
    for typed, shown in over:
        assert shown
        assert main(shlex.split(typed)[1:]) == 0
        printed = capsys.readouterr().out
        assert told_in_turn(shown, printed), printed
