"""Free speech in the session, the command and the interactive shell."""

from __future__ import annotations

import json
import random
from io import StringIO
from pathlib import Path

import pytest
from abluent.engine.faults import CommandError
from abluent.engine.questions.forms.heard import resolves
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.grammar.query.errors import QueryError
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.session.unexact import Choices, Unexact
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell

CASES = Path(__file__).parents[2] / "cases"


@pytest.fixture(scope="module")
def session() -> Session:
    """The demo shelf."""
    return Session.open()


SURE = [
    ("Tideline Wash takes off everything Harbour Cream leaves", "everything from"),
    ("does fog bank wash get jetty oil outta a beard", '"Jetty Oil"'),
    ("Sulfate free shampoo never can clean silicones", "no washes without"),
]


@pytest.mark.parametrize(("text", "part"), SURE)
def test_one_full_reading_is_answered(session: Session, text: str, part: str) -> None:
    """And the answer says as what it was read."""
    answer = session.ask(text)
    assert answer.heard == text
    assert part in answer.query
    assert f"Read as: {answer.query}" in str(answer).replace("\n", " ")


def test_what_is_not_sure_is_asked(session: Session) -> None:
    """A slip, or a word that was left aside, is no reason to guess."""
    with pytest.raises(Unexact) as caught:
        session.ask("what mild wash takes amodimethcone off")
    assert 1 <= len(caught.value.heard.readings) <= 3
    assert "left aside" in str(caught.value)


def test_every_offer_is_answered(session: Session) -> None:
    """A question that is offered has names that stand for something."""
    sayings = [
        "harbor cream leave anything on ??",
        "lamp room vs breakwater for pvp",
        "beeswax is worse than silcone no question",
        "wich is worst to get out: pq-10, pq-11 or vp/va",
        "is it proven that polyquats build up, or is that salon talk",
    ]
    for saying in sayings:
        readings = session.hear(saying).readings
        assert readings, saying
        for reading in readings:
            assert session.ask(reading.question).sentence


def test_a_choice_is_remembered(session: Session, tmp_path: Path) -> None:
    """The same wording is answered at once, in this sitting and the next."""
    text = "harbor cream leave anything on ??"
    (reading, *_) = session.hear(text).readings
    session.take(text, reading.question)
    assert session.ask("Harbor cream  leave anything on").query == reading.question
    kept = Choices(tmp_path / "taken.json")
    kept.take("a b?", "what is water")
    assert Choices(tmp_path / "taken.json").of("A  b") == "what is water"


@pytest.mark.parametrize("content", ["", "[]", '{"a": 1', '{"a": 1}'])
def test_a_broken_memory_is_none(tmp_path: Path, content: str) -> None:
    """Whatever stands in the file, the session goes on."""
    (tmp_path / "taken.json").write_text(content)
    assert Choices(tmp_path / "taken.json").of("b") == ""


@pytest.mark.parametrize(
    ("question", "told"),
    [
        ('does "Quuxly Wash" clear "Dimethicone"', "lists the products"),
        ('which washes clear "Zorbexium Quux"', "reads a name as a label prints it"),
        ("which wshes clear pvp", "no word of the language"),
        ('which washes clear "dime"', 'did you mean "Dimethicone"'),
    ],
)
def test_product_ingredient_and_word_have_helps_of_their_own(
    session: Session, question: str, told: str
) -> None:
    """Each is told what it is that is not known, and the beginning of a name wins."""
    with pytest.raises(CommandError, match=told):
        session.ask(question)


def test_a_line_that_looks_exact_is_told_what_settles_nothing(
    session: Session,
) -> None:
    """`is X Y` is a form of the language, and `worth the money` no name."""
    with pytest.raises(Unexact, match="costs"):
        session.ask("is tideline worth the money")
    with pytest.raises(CommandError, match="called"):
        session.ask('why not "Breakwater Quux"')


def test_a_line_that_looks_exact_is_read_as_a_saying(session: Session) -> None:
    """Where it has a wide word, or a small word before a short name."""
    with pytest.raises(Unexact, match="which washes leave fixative polymers"):
        session.ask("which washes leave a polymer")
    answer = session.ask("why cant shallows take off beeswax")
    assert answer.query == 'why not does "Shallows Wash" clear "Cera Alba"'


def test_nothing_is_offered_for_a_senseless_line(session: Session) -> None:
    """It is an error of the language, as before."""
    assert not session.hear("purple the under of because gravel").readings


def test_the_shell_takes_a_number_or_enter(session: Session) -> None:
    """A number takes one reading, Enter the first, anything else is a new line."""
    out = StringIO()
    lines = "what takes amodimethcone off\n\nwhat takes amodimethcone off!\n1\n9\n"
    InteractiveShell(
        session, PlainReader(StringIO(lines), out, spoken=False), out
    ).run()
    said = out.getvalue()
    assert said.count("Read as: which washes") == 3 - said.count("Is this meant?")
    assert "Enter takes" in said


BOTH = "Is beeswax a wax? Is Breakwater Wash mild?"


def test_all_that_a_line_asks_is_answered(
    session: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each question under its own wording, in the shell and at once."""
    out = StringIO()
    lines = PlainReader(StringIO(f"{BOTH}\n"), out, spoken=False)
    InteractiveShell(session, lines, out).run()
    assert main(["ask", BOTH]) == 0
    for said in (out.getvalue(), capsys.readouterr().out):
        first, _, second = said.partition('is "Breakwater Wash" mild\n')
        assert first.startswith("is beeswax a wax\n")
        assert "Yes" in first
        assert "Breakwater Wash is" in second


def test_json_has_the_readings(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """With the stretches that each leaves unread, and exit code 2."""
    text = "what takes amodimethcone off, gently"
    code = main(["ask", "--json", text])
    shown = json.loads(capsys.readouterr().out)
    assert code == 2
    assert shown["query"] == text
    for reading in shown["readings"]:
        assert all(0 <= a < b <= len(text) for a, b in reading["unread"])


def test_a_name_that_runs_into_plain_words_is_read(session: Session) -> None:
    """`both petrolatum` and `silicone behind` are no names, and no error."""
    both = session.ask("Which wash takes off both petrolatum and dimethicone?")
    behind = session.ask("How many of my washes leave a silicone behind?")
    assert both.query == 'which washes clear "Petrolatum" and "Dimethicone"'
    assert behind.query == "how many washes leave silicones"
    with pytest.raises(CommandError, match="no product"):
        session.ask("does Tidelin Wash clear dimethicone")


def test_a_short_name_of_a_product_is_found() -> None:
    """By its first words, if no other product and no ingredient has them."""
    session = Session.open()
    lexicon = Vocabulary(Nouns(session.world, {}))
    found = lexicon.find(("lamp", "room"))
    assert found is not None
    assert found.text == "Lamp Room Clarifying Wash"
    assert lexicon.find(("clarifying", "wash")) is None
    assert lexicon.repair("amodimethcone") == "amodimethicone"


def _damaged(question: str, rng: random.Random) -> str:
    """A question with words lost, doubled, moved, and letters lost or put in."""
    words = question.split(" ")
    for _ in range(rng.randint(1, 4)):
        at, other = rng.randrange(len(words)), rng.randrange(len(words))
        match rng.randrange(5):
            case 0:
                del words[at]
                words = words or ["x"]
            case 1:
                words.insert(at, words[other])
            case 2:
                cut = rng.randrange(len(words[at]) + 1)
                words[at] = words[at][:cut] + words[at][cut + 1 :]
            case 3:
                cut = rng.randrange(len(words[at]) + 1)
                words[at] = words[at][:cut] + rng.choice('ae"?,') + words[at][cut:]
            case _:
                words[at], words[other] = words[other], words[at]
    return " ".join(words)


def test_whatever_is_offered_for_damage_can_be_asked(session: Session) -> None:
    """It parses, prints as it is, and every name in it stands for something."""
    lines = (CASES / "queries.txt").read_text("utf-8").splitlines()
    rng = random.Random(7)
    nouns = Vocabulary(Nouns(session.world, {})).nouns
    offers = 0
    for _ in range(150):
        text = _damaged(rng.choice([line for line in lines if line.strip()]), rng)
        for reading in session.hear(text).readings:
            offers += 1
            with session.speaking():
                query = parse_query(reading.question)
            assert print_query(query) == reading.question
            assert resolves(query, nouns)
    assert offers > 50


OWN = """@prefix abl: <https://abluent.example/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .

abl:afterSwimming
  a abl:Condition, owl:NamedIndividual ;
  rdfs:label "after a swim" ;
  rdfs:comment "The hair was in a pool before." ;
  abl:alias "after swimming" ;
  abl:aspect "swimming" ;
  abl:word "pool" .
"""


def test_a_condition_of_ones_own_is_read(tmp_path: Path) -> None:
    """As an exact question and in free speech; another session knows none of it."""
    (tmp_path / "own.ttl").write_text(OWN)
    mine = Session.open(knowledge=[str(tmp_path)])
    exact = 'does "Tideline Wash" clear "Dimethicone" after a swim'
    assert mine.ask(exact).query == exact
    heard = mine.ask("Tideline gets dimethicone off after swimming")
    assert heard.query.endswith("after a swim")
    with pytest.raises(CommandError):
        Session.open().ask(exact)


def test_what_could_stand_is_told_when_asked() -> None:
    """An error is a sentence with its place; `?` lists the rest."""
    out = StringIO()
    reader = PlainReader(StringIO("does of of\n?\n"), out, spoken=False)
    InteractiveShell(Session.open(), reader, out).run()
    said = out.getvalue()
    assert "expected:" not in said
    assert "There could have stood: " in said


def test_speech_gets_no_bare_error(session: Session) -> None:
    """It is told that nothing settles it, or asked about what it names."""
    with pytest.raises(Unexact) as none:
        session.ask("do gardeners whistle at dawn in the greenhouse")
    assert "Nothing here can settle this" in str(none.value)
    with pytest.raises(Unexact) as some:
        session.ask("no parabens, but why is hair greasy then. lamp room")
    assert any("Lamp Room" in r.question for r in some.value.heard.readings)
    with pytest.raises(QueryError, match="is lacking"):
        session.ask('does "Lamp Room Clarifying Wash" of of the quokka')
