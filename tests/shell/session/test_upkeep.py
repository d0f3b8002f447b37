"""The commands for those who keep the base, on a copy of it with one edit."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import abluent.ontology
import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.about.upkeep import turned
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import World
from abluent.grammar.common.record import replace
from abluent.grammar.query.parse import parse_query
from abluent.shell.command.cli import main
from abluent.shell.pages.upkeep import audit_page
from abluent.shell.session.loading import products
from abluent.shell.session.session import Session
from abluent.shell.session.upkeep import audited
from abluent.shell.shelf.demo import demo_shelf
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell

QUESTION = 'does "Tideline Wash" clear "Dimethicone (fluid grade)"'
PART = "Tideline Wash takes most of Dimethicone (fluid grade) off, perhaps not all in"
ALL = "Tideline Wash takes all of Dimethicone (fluid grade), by common"


@pytest.fixture(scope="module")
def edited(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shipped base with one claim turned from at least part to all."""
    shipped = Path(next(iter(abluent.ontology.__path__)))
    copy = tmp_path_factory.mktemp("edited") / "ontology"
    shutil.copytree(shipped, copy, ignore=shutil.ignore_patterns("__pycache__"))
    file = copy / "claims" / "practice-silicones.ttl"
    head, mark, tail = file.read_text(encoding="utf-8").partition(
        "claim:fluid-sulfonate\n"
    )
    assert mark
    file.write_text(
        head + mark + tail.replace("abl:takesPart", "abl:takesAll", 1),
        encoding="utf-8",
    )
    return copy


def world(folder: Path | None = None) -> World:
    shelf = demo_shelf()
    base, rules = Base.load(instead=folder), load_rulebook(instead=folder)
    return World(base, rules, products(shelf), [shelf.water])


@pytest.mark.slow
def test_the_edit_that_turned_an_answer_is_named(edited: Path) -> None:
    """One claim's bound is another now, and nothing else is blamed."""
    before, after = world(), world(edited)
    rows = ask(parse_query(QUESTION), before).rows
    (found,) = turned(before, after, rows)
    assert found.lost[0].endswith(": at least partly clears")
    assert found.gained[0].endswith(": clears")
    (edit,) = found.edits
    assert "fluid-sulfonate" in edit
    assert "says: at least all" in edit


@pytest.mark.slow
def test_changed_tells_both_answers_and_the_edit(
    edited: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As a command."""
    assert main(["changed", "--after", str(edited), QUESTION]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert f"Before: {PART}" in told
    assert f"After: {ALL}" in told
    assert "fluid-sulfonate" in told


@pytest.mark.slow
def test_changed_as_data(edited: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One object: both sentences, and for each change its edits."""
    assert main(["changed", "--json", "--after", str(edited), QUESTION]) == 0
    told = json.loads(capsys.readouterr().out)
    assert PART in told["before"]
    assert ALL in told["after"]
    (change,) = told["changes"]
    assert change["lost"] != change["gained"]
    (edit,) = change["edits"]
    assert "fluid-sulfonate" in edit


@pytest.mark.slow
def test_changed_without_an_edit_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    """The installed base against itself."""
    assert main(["changed", QUESTION]) == 0
    assert "No row of the answer changed." in capsys.readouterr().out


def test_changed_names_a_folder_that_is_not_there(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """With what to try."""
    assert main(["changed", "--after", "nowhere", QUESTION]) == 2
    assert 'there is no folder "nowhere"' in capsys.readouterr().err


def sitting(text: str) -> str:
    """What the interactive shell prints for lines from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(Session.open(), reader, out).run()
    return out.getvalue()


def test_the_last_answer_is_compared_in_the_shell(edited: Path) -> None:
    """The folder is the older version, and the installed base the newer."""
    page = " ".join(sitting(f"{QUESTION}\nchanged {edited}\n").split())
    assert f"Before: {ALL}" in page
    assert f"After: {PART}" in page


def test_comparing_needs_an_answer_and_a_folder() -> None:
    assert "there is no answer yet to compare" in sitting("changed old")
    assert "does not say which folder" in sitting("changed")
    assert 'there is no folder "nowhere"' in sitting(f"{QUESTION}\nchanged nowhere\n")


@pytest.mark.long
def test_an_audit_names_works_and_the_answers_that_fail_without_them() -> None:
    """Of a shelf with two products, to be quick."""
    shelf = demo_shelf()
    names = {"Tideline Wash", "Harbour Cream"}
    few = [label for label in shelf.labels if label.product in names]
    session = Session(replace(shelf, labels=tuple(few)), taught=False)
    found = audited(session)
    assert found.unused
    assert found.idle
    assert any("Tideline Wash" in t for told in found.fragile.values() for t in told)
    page = audit_page(found, session.world.base, 80)
    assert page.startswith(
        f"Rules that no answer of this shelf uses: {len(found.unused)}"
    )
    assert all(len(line) <= 80 for line in page.splitlines())
