"""Questions over a catalogue of six labels, whose answers are worked out by hand.

| label | by hand |
| --- | --- |
| Gannet Wash | a sulfate: strong; takes part of dimethicone |
| Wren Wash | a taurate: mild; takes part of dimethicone, and no wash of it takes all |
| Linnet Wash | a glucoside alone: mild; takes at most part |
| Riddle Wash | a glucoside and a name that nobody knows: it may be anything |
| Silk Cream | leaves dimethicone |
| Bare Cream | leaves nothing that is known |
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from abluent.engine.sweep.sweep import sweep
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from swept import over

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck

pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
pytest.importorskip("numpy", reason="a sweep needs numpy")

LABELS = (
    ("Gannet Wash", "wash", "Aqua, Sodium Laureth Sulfate"),
    ("Wren Wash", "wash", "Aqua, Sodium Methyl Cocoyl Taurate"),
    ("Linnet Wash", "wash", "Aqua, Decyl Glucoside"),
    ("Riddle Wash", "wash", "Aqua, Decyl Glucoside, Ignotum Nemini"),
    ("Silk Cream", "conditioner", "Aqua, Dimethicone"),
    ("Bare Cream", "conditioner", "Aqua, Glycerin"),
)


@pytest.fixture(scope="module")
def asked() -> Session:
    """A session on the six labels."""
    made = tuple(ShelfLabel(n, kind, "EU", text) for n, kind, text in LABELS)
    return Session(Shelf("six", made), taught=False)


@pytest.fixture(scope="module")
def place(asked: Session, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The six labels, judged into a DuckDB file."""
    found = tmp_path_factory.mktemp("six") / "six.duckdb"
    sweep(asked.world, asked.world.products.values(), found)
    return found


def told(capsys: pytest.CaptureFixture[str], place: Path, question: str) -> Any:
    assert main(["ask", "--json", "--over", str(place), question]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.slow
def test_sorts_of_wash_are_a_table(database: Duck) -> None:
    """A wash is mild, strong, or without a row where nobody can tell."""
    text = "SELECT wash, name FROM sorts WHERE is_so ORDER BY ALL"
    assert database.connection.execute(text).fetchall() == [
        ("Gannet Wash", "strong wash"),
        ("Linnet Wash", "mild wash"),
        ("Wren Wash", "mild wash"),
    ]


@pytest.mark.slow
def test_which_products_no_mild_wash_clears(database: Duck) -> None:
    """Open, as the riddle may be mild and may clear it; of the known washes none does.

    Without the riddle nothing is open.
    """
    count = over(database, "which products does no mild wash clear")
    assert (count.so, count.open, count.of) == ([], ["Silk Cream"], 1)
    count = over(
        database, "which products does no mild wash without decyl glucoside clear"
    )
    assert (count.so, count.open, count.of) == (["Silk Cream"], [], 1)
    count = over(database, "which products does no mild wash at least partly clear")
    assert (count.so, count.open, count.of) == ([], [], 1)


@pytest.mark.slow
def test_a_share_has_two_ends(database: Duck) -> None:
    """Two are surely without sulfates, one surely clears it, and one more may belong.

    At least one in three, if the riddle belongs and clears none; at most all three.
    """
    question = "what share of sulfate-free washes clears dimethicone at least partly"
    count = over(database, question)
    assert (count.so, count.open) == (["Wren Wash"], ["Linnet Wash"])
    assert count.doubtful == ["Riddle Wash"]
    assert (count.share.so, count.share.open, count.share.may_open) == (1, 1, 1)
    assert str(count.share) == "33.3 to 100.0 %"
    assert str(over(database, "what share of washes leave silicones").share) == (
        "0.0 to 25.0 %"
    )


@pytest.mark.slow
def test_sorts_may_be_denied_and_named_otherwise(database: Duck) -> None:
    """What is not mild, what is strong, and what is gentle."""
    (gannet,) = over(
        database, "how many washes that are not mild at least partly clear Dimethicone"
    ).so
    strong = over(database, "how many strong washes at least partly clear Dimethicone")
    gentle = over(database, "how many gentle washes at least partly clear Dimethicone")
    assert [gannet] == strong.so == ["Gannet Wash"]
    assert gentle.so == ["Wren Wash"]
    assert gentle.doubtful == strong.doubtful == ["Riddle Wash"]


@pytest.mark.slow
def test_the_shelf_itself_answers_alike(asked: Session, database: Duck) -> None:
    """Each question over the tables is one of the language, and comes to the same."""
    assert sorted(x.key for x in asked.ask("which washes are mild").members) == [
        "Linnet Wash",
        "Wren Wash",
    ]
    for question in (
        "what share of sulfate-free washes clears dimethicone at least partly",
        "what share of washes leave silicones",
        "what share of washes without betaines leave silicones",
    ):
        assert asked.ask(question).share == over(database, question).share, question
    assert "2 of" not in asked.ask("which names were not understood").sentence
    found = asked.ask("which unread names matter most")
    (line,) = found.findings[0].items
    assert line == "Ignotum Nemini, on Riddle Wash: 1 verdict is not settled."
    assert [x.key for x in found.members] == ["Riddle Wash"]


@pytest.mark.slow
def test_the_command_takes_words(
    capsys: pytest.CaptureFixture[str], place: Path
) -> None:
    """Counts, shares and both ends as JSON; names by what they leave open."""
    found = told(capsys, place, "which unread names matter most")
    (name,) = found["names"]
    assert (name["name"], name["labels"], name["washes"]) == ("Ignotum Nemini", 1, 1)
    # Of four washes and one film two are not settled: those of Linnet and the riddle.
    assert (name["not_settled"], found["not_settled"]) == (1, 2)
    found = told(
        capsys,
        place,
        "what share of sulfate-free washes clears dimethicone at least partly",
    )
    assert (found["of"], found["perhaps_of"]) == (2, 3)
    assert (found["at_least"], found["at_most"]) == (1, 3)
    assert found["share"] == {"at_least": 0.333333, "at_most": 1.0}
    found = told(capsys, place, "which products does no mild wash clear")
    assert found["one"] == 'which mild wash clears everything from "Silk Cream"'
    found = told(capsys, place, "how many of the shampoos would leave silicone behind")
    assert found["understood"] == "how many washes leave silicones"
