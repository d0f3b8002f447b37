"""Questions over a judged catalogue come to what the reasoner says of each label."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from abluent.engine.checking import checker
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.sweep.over import Over, about_one
from abluent.engine.sweep.written import opened, write
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.shell.command.cli import main
from abluent.shell.pages.catalogue import catalogue_page
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf
from swept import over

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck

pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
pytest.importorskip("numpy", reason="a sweep needs numpy")


def members(demo: Session, question: str) -> list[str]:
    """What the reasoner lists."""
    return sorted(item.key for item in demo.ask(question).members)


@pytest.mark.slow
@pytest.mark.parametrize(
    "asked",
    [
        "washes leave silicones",
        "washes without sulfates leave surfactants",
        "washes with betaines leave Dimethicone",
        "washes that contain betaines and do not contain sulfates leave quats",
        "washes that contain betaines and glucosides leave surfactants",
        'washes at least partly clear Dimethicone from "Harbour Cream"',
        'washes without soaps at least partly clear Dimethicone from "Harbour Cream"',
        'washes at least partly clear everything from "Headland Gel"',
        'co-washes clear everything from "Foreshore Leave-in"',
    ],
)
def test_what_is_so_is_what_the_reasoner_lists(
    asked: str, demo: Session, database: Duck
) -> None:
    count = over(database, f"how many {asked}")
    assert sorted(count.so) == members(demo, f"which {asked}")
    assert count.of >= count.most >= len(count.so)


@pytest.mark.slow
@pytest.mark.parametrize("product", ["Harbour Cream", "Headland Gel", "Saltpan Rinse"])
@pytest.mark.parametrize("extent", ["clear", "at least partly clear"])
def test_a_product_that_no_wash_clears(
    product: str, extent: str, demo: Session, database: Duck
) -> None:
    """It is so where each wash is said not to, and open where one may."""
    count = over(database, f"which products does no wash without sulfates {extent}")
    asked = f'washes without sulfates {extent} everything from "{product}"'
    one = over(database, f"how many {asked}")
    yes = members(demo, f"which {asked}")
    no = members(demo, f"which {asked.replace(extent, f'do not {extent}')}")
    assert sorted(one.so) == yes
    assert one.of - one.most == len(no)
    assert (product in count.so) == (len(no) == one.of > 0)
    assert (product in count.open) == (not yes and len(no) < one.of)


@pytest.mark.slow
@pytest.mark.parametrize(
    "asked",
    [
        "how many washes leave surfactants",
        "how many washes without sulfates at least partly clear Dimethicone",
        pytest.param(
            "which products does no wash without sulfates clear",
            marks=pytest.mark.long,
        ),
    ],
)
def test_what_is_counted_opens_to_a_proof(
    asked: str, demo: Session, database: Duck
) -> None:
    """One label of it is asked about by itself; the checker verifies the answer."""
    count = over(database, asked)
    few = "SELECT product FROM films GROUP BY product ORDER BY COUNT(*), product"
    leave = [name for (name,) in database.connection.execute(few).fetchall()]
    # What leaves least has the fewest proofs.
    first = min(count.so, key=lambda x: leave.index(x) if x in leave else 0)
    with demo.speaking():
        one = about_one(parse_query(asked), first)
    assert one is not None
    answer = demo.ask(print_query(one))
    lines = demo.export_trace(answer, "json").splitlines()
    assert lines
    for line in lines:
        assert checker.check(json.loads(line)).ok
    assert count.so
    # Of the products it asks for a wash, and there is none.
    none = asked.startswith("which products does no")
    assert bool(answer.rows) != none


@pytest.mark.slow
def test_what_no_wash_clears_opens_to_the_question_of_one(
    demo: Session, database: Duck
) -> None:
    """No wash is listed for a product that none clears; `long` holds the proofs."""
    asked = "which products does no wash without sulfates clear"
    with demo.speaking():
        one = about_one(parse_query(asked), over(database, asked).so[0])
    assert one is not None
    answer = demo.ask(print_query(one))
    assert not answer.members
    assert answer.others


@pytest.mark.parametrize(
    ("question", "told"),
    [
        ("what is Dimethicone", "does not answer"),
        ("which washes clear Dimethicone mildest first", "does not answer"),
        ("how many washes clear silicones", "which film"),
        ('how many washes clear everything from "Nonesuch"', 'no "Nonesuch"'),
        ("how many washes leave no silicones", "does not answer"),
        ("how many washes leave silicones and quats", "does not answer"),
        ("how many washes perhaps clear Dimethicone", "counts what clears"),
        ('which products does no "Tideline Wash" clear', "kinds of products"),
    ],
)
@pytest.mark.slow
def test_what_it_cannot_answer_is_refused(
    question: str, told: str, database: Duck
) -> None:
    with pytest.raises(Exception, match=told) as refused:
        over(database, question)
    assert isinstance(refused.value, Unanswerable)


@pytest.mark.slow
@pytest.mark.parametrize("form", ["parquet", "csv"])
def test_every_form_answers_alike(form: str, database: Duck, tmp_path: Path) -> None:
    write(database, tmp_path / form, form)
    read = opened(tmp_path / form)
    question = "how many washes at least partly clear Dimethicone"
    assert over(read, question) == over(database, question)
    world = Session(Shelf("none", ()), taught=False).world
    found = Over(read, world).summary()
    assert found == Over(database, world).summary()
    assert Over(read, world).about() == Over(database, world).about()


@pytest.mark.slow
def test_the_command_counts_and_sums_up(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = "how many washes without sulfates at least partly clear Dimethicone"
    assert main(["ask", "--over", str(place), asked]) == 0
    said = capsys.readouterr().out
    assert said.startswith("3 of 9 washes without sulfates (33.3 %). Besides, 6 ")
    assert main(["ask", "--json", "--over", str(place), asked]) == 0
    assert '"at_most": 9' in capsys.readouterr().out
    assert main(["ask", "--over", str(place)]) == 0
    said = capsys.readouterr().out
    assert "25 labels, 12 of them washes." in said
    assert "Merrowex Tidal Complex" in said
    assert main(["ask", "--over", str(place.with_name("nowhere")), asked]) == 2
    assert "make it first" in capsys.readouterr().err


@pytest.mark.slow
def test_the_page_shows_both_ends(demo: Session, database: Duck) -> None:
    """A film's share is that of the questions about it; names are escaped."""
    asked = Over(database, demo.world)
    found = asked.summary()
    ((_, products, of, sure, most),) = [
        row for row in found["films"] if row[0] == "Dimethicone"
    ]
    count = over(database, "how many washes at least partly clear Dimethicone")
    assert of == products * count.of
    assert 0 < sure <= most <= of
    odd = {**found, "unread": [("<b>Odd</b>", 2, 3)]}
    page = catalogue_page(odd, asked.about())
    assert "A catalogue of 25 labels" in page
    assert "&lt;b&gt;Odd&lt;/b&gt;" in page
    assert "<b>Odd" not in page
    assert f"{100 * sure / of:.1f} to {100 * most / of:.1f} %" in page
    empty = {"labels": [(0, 0)], "verdicts": [], "films": [], "unread": []}
    assert "A catalogue of 0 labels" in catalogue_page(empty, {})
