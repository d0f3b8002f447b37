"""Whatever is printed as an example of a routine is accepted as it was printed.

Gathered are the examples of the orders and of `--help`, the lines that errors and
pages offer, and the routines that the documents show, all of the shelf at hand.
"""

from __future__ import annotations

import re
import shlex
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.faults import DataError, ShellError
from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import account_of
from abluent.engine.routines.plan_outcome import plan_of
from abluent.shell.command.cli import main
from abluent.shell.routine.examples import account_lines, plan_lines
from abluent.shell.routine.page import account_page
from abluent.shell.routine.read import routines_of
from abluent.shell.session.session import Session

LONG = pytest.mark.long
ROOT = Path(__file__).parents[3]
DOCUMENTS = ("README.md", "grammar/routine/ROUTINES.md")
BLOCK = re.compile(r"^```routine\n(.*?)^```$", re.MULTILINE | re.DOTALL)
OFFERED = re.compile(r"(?:such as|write|try): (.+?)(?:; or .*)?$", re.MULTILINE)
CREAM = "product,kind,text\nMy Cream,conditioner,Aqua; Cetearyl Alcohol\n"
USES = """\
wash with "Plover Mild Wash" on Sunday
use "Harbour Cream" after every wash
"""
OWN_SHELVES = {
    "cream alone": CREAM,
    "wash alone": "product,kind,text\nMy Wash,wash,Aqua; Decyl Glucoside\n",
    'a "quoted" name': CREAM + 'The ""Best"" Wash,wash,Aqua; Decyl Glucoside\n',
}


@cache
def demo() -> Session:
    return Session.open()


def accepted(text: str, session: Session, *, plan: bool) -> None:
    """Read a routine and work it out; raises where it is refused."""
    for found in routines_of(text, "an example", session.shelf):
        if found.error is not None:
            raise found.error
        assert found.routine is not None
        (plan_of if plan else account_of)(found.routine, session.world)


def either_way(text: str, session: Session) -> None:
    """A routine that an account or a plan can be made of."""
    try:
        accepted(text, session, plan=False)
    except DataError:
        accepted(text, session, plan=True)


@pytest.mark.parametrize(
    "name", [DOCUMENTS[0], pytest.param(DOCUMENTS[1], marks=pytest.mark.long)]
)
def test_routines_of_the_documents_are_accepted(name: str) -> None:
    blocks = BLOCK.findall((ROOT / name).read_text("utf-8"))
    assert blocks
    for block in blocks:
        either_way(block, demo())


def examples(world: World) -> list[tuple[list[str], bool]]:
    return [(account_lines(world), False), (plan_lines(world), True)]


def test_examples_of_the_orders_are_accepted_on_the_demo_shelf() -> None:
    for lines, plan in examples(demo().world):
        accepted("\n".join(lines), demo(), plan=plan)


@pytest.mark.parametrize(
    "name", [pytest.param(each, marks=pytest.mark.long) for each in OWN_SHELVES]
)
def test_examples_of_the_orders_are_of_her_own_shelf(name: str, tmp_path: Path) -> None:
    shelf = tmp_path / "own.csv"
    shelf.write_text(OWN_SHELVES[name].replace('""', '"'), "utf-8")
    session = Session.open([str(shelf)])
    own = set(session.world.products)
    for lines, plan in examples(session.world):
        named = re.findall(r'"((?:[^"]|"")*)"', "\n".join(lines))
        assert {each.replace('""', '"') for each in named} <= own
        if not (plan and name == "cream alone"):  # there is no wash to choose
            accepted("\n".join(lines), session, plan=plan)


@pytest.mark.long
def test_examples_of_help_are_commands_that_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    text = (
        'wash with "Plover Mild Wash" on Sunday\nuse "Harbour Cream" after every wash'
    )
    Path("week.txt").write_text(text, "utf-8")
    for command in ("routine", "plan"):
        with pytest.raises(SystemExit):
            main([command, "--help"])
        (example,) = re.findall(r"^  (abluent .*)$", capsys.readouterr().out, re.M)
        assert main(shlex.split(example)[1:]) == 0
        assert capsys.readouterr().out


WRONG = [
    ("", "add"),
    ("water is hard", "add"),
    ('use "Harbour Cream" after every wash', "add"),
    ("wash twice a week", "instead"),
    ('use Harbour Cream daily\nwash with "Plover Mild Wash" daily', "first"),
    ("wash with Plover Mild Wash on Sunday", "first"),
    ('wash with "Plover Mild Wash" on 2026-03-01', "add"),
    ('wash with "Plover Mild Wash" on Sunday\ncycle of 3 days', "last"),
]


@pytest.mark.parametrize(("text", "how"), WRONG)
def test_what_an_error_offers_is_accepted(text: str, how: str) -> None:
    """Added, or in the place of the line that is wrong, as the error says."""
    with pytest.raises(ShellError) as caught:
        accepted(text, demo(), plan=False)
    (offered,) = OFFERED.findall(str(caught.value))
    lines = text.splitlines()
    if how == "add":
        lines = [*lines, offered]
    elif how == "instead":
        lines = [offered]
    else:
        lines[0 if how == "first" else -1] = offered
    either_way("\n".join(lines), demo())


@pytest.mark.long
def test_a_plan_without_wishes_is_offered_one() -> None:
    text = 'wash twice a week\nuse "Harbour Cream" after every wash'
    with pytest.raises(ShellError) as caught:
        accepted(text, demo(), plan=True)
    (offered,) = OFFERED.findall(str(caught.value))
    accepted(f"{text}\n{offered}", demo(), plan=True)


@pytest.mark.parametrize(
    "length",
    ["for 4 weeks", *(pytest.param(e, marks=LONG) for e in ("", "cycle of 2 weeks"))],
)
def test_a_page_offers_the_other_way_to_count_days(length: str) -> None:
    """`for 4 weeks` and `cycle of N days` offer each other."""
    session = demo()
    (found,) = routines_of(f"{length}\n{USES}", "", session.shelf)
    assert found.routine is not None
    account = account_of(found.routine, session.world)
    page = " ".join(account_page(account, session.world, 80).split())
    (offered,) = re.findall(r"the line `([^`]*)`", page)
    assert offered.startswith("cycle" if length.startswith("for") else "for")
    accepted(f"{offered}\n{USES}", session, plan=False)
