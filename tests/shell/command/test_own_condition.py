"""A condition of the user's own is said in a question, on a shelf, in a routine and as
an option, and turns what it should; no code knows it."""

from pathlib import Path

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session

pytestmark = pytest.mark.slow

OWN = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix claim: <https://abluent.example/claim/> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix src: <https://abluent.example/source/> .

abl:afterSwimming
  a abl:Condition, owl:NamedIndividual ;
  rdfs:label "right after swimming" ;
  rdfs:comment "The hair is still wet from a pool." ;
  abl:aspect "pool" ;
  abl:word "swum" .

claim:swum-water-takes-beeswax
  a abl:RemovalClaim ;
  rdfs:label "water takes beeswax right after swimming" ;
  abl:agent ing:water ;
  abl:film ing:hydrogenated-microcrystalline-wax ;
  abl:atLeast abl:takesAll ;
  abl:atMost abl:takesAll ;
  abl:when abl:afterSwimming ;
  abl:statement "Right after swimming, water takes beeswax." ;
  abl:source src:common-practice ;
  abl:standing abl:handbook .
"""
ASKED = 'does water clear "Hydrogenated Microcrystalline Wax"'


@pytest.fixture
def own(tmp_path: Path) -> list[str]:
    path = tmp_path / "own.ttl"
    path.write_text(OWN, encoding="utf-8")
    return ["--knowledge", str(path)]


def told(capsys: pytest.CaptureFixture[str], *line: str) -> str:
    assert main(line) == 0
    return capsys.readouterr().out


def test_it_can_be_said_everywhere(
    own: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In a question and on a shelf it turns the verdict; a routine is under it."""
    asked = told(capsys, "ask", *own, f"{ASKED} right after swimming")
    assert "needs no wash" in asked
    shelf = tmp_path / "pool.jsonl"
    shelf.write_text('{"shelf": "pool", "pool": "swum"}\n', encoding="utf-8")
    on_shelf = told(capsys, "ask", *own, "--shelf", str(shelf), ASKED)
    assert "needs no wash" in on_shelf
    week = tmp_path / "week.txt"
    week.write_text('pool is swum\nuse "Harbour Cream" daily\n', encoding="utf-8")
    account = told(capsys, "routine", *own, str(week))
    assert "right after swimming" in " ".join(account.split())


@pytest.mark.long
def test_as_an_option_it_turns_the_verdict_and_unsaid_it_does_not(
    own: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """The option is there because the base has the aspect."""
    assert "takes none" in told(capsys, "ask", *own, ASKED)
    assert "needs no wash" in told(capsys, "ask", *own, "--pool", "swum", ASKED)


def test_a_session_takes_its_word(own: list[str]) -> None:
    """The Python face reads and sets shelves in the words of its own base."""
    session = Session.open(knowledge=own[1:])
    session.set_condition("pool", "swum")
    assert session.shelf.conditions["pool"] == "swum"
    with pytest.raises(CommandError, match="pool is"):
        Session.open().set_condition("pool", "swum")


def test_without_it_the_words_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """The base as it is knows no pool."""
    with pytest.raises(SystemExit):
        main(["ask", "--pool", "swum", ASKED])
    assert "--pool" in capsys.readouterr().err
