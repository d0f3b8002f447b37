"""Any cell of a catalogue can be asked by itself, and is then proved and checked."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from abluent.engine.checking import checker
from abluent.engine.sweep.written import opened
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from conftest import Judged

pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
pytest.importorskip("numpy", reason="a sweep needs numpy")


@pytest.mark.slow
def test_a_cell_has_the_same_verdict_by_itself_and_a_proof(
    demo: Session, place: Path
) -> None:
    """One of each verdict, asked of that wash, film and product alone."""
    world = demo.world
    database = opened(place)
    text = "SELECT verdict, wash, film, product FROM verdicts "
    found = database.connection.execute(f"{text} WHERE wash <> 'water' ORDER BY ALL")
    rows = found.fetchall()
    database.close()
    random.Random(5).shuffle(rows)
    cells = {row[0]: row for row in rows}
    assert len(cells) > 4
    for verdict, wash, film, product in cells.values():
        name = world.base.label(film)
        asked = f'does "{wash}" clear "{name}" from "{product}"'
        answer = demo.ask(asked)
        (trace,) = map(json.loads, demo.export_trace(answer, "json").splitlines())
        result = checker.check(trace)
        assert result.ok, (asked, result.problems)
        told = {
            goal["atom"][4]
            for goal in trace["goals"]
            if goal["atom"][0] == "verdict" and goal["holds"]
        }
        assert {world.base.label(each) for each in told} == {verdict}, asked


@pytest.mark.parametrize(
    "places",
    [
        pytest.param(slice(2), id="two", marks=pytest.mark.slow),
        pytest.param(slice(2, 6), id="the rest", marks=pytest.mark.long),
    ],
)
def test_a_cell_of_an_invented_catalogue_opens_to_a_proof(
    invented: Judged, places: slice
) -> None:
    """Judged in portions, put together, and still the verdict of one question."""
    session = invented.session
    database = opened(invented.place)
    found = database.connection.execute(
        "SELECT verdict, at_least, at_most, wash, film, product FROM verdicts "
        "WHERE wash <> 'water' ORDER BY ALL"
    )
    rows = found.fetchall()
    database.close()
    random.Random(9).shuffle(rows)
    cells = {row[:3]: row for row in rows}
    assert len(cells) > 3
    label = session.world.base.label
    for verdict, least, most, wash, film, product in [*cells.values()][places]:
        asked = f'does "{wash}" clear "{label(film)}" from "{product}"'
        answer = session.ask(asked)
        (trace,) = map(json.loads, session.export_trace(answer, "json").splitlines())
        result = checker.check(trace)
        assert result.ok, (asked, result.problems)
        told = {
            (goal["atom"][0], label(goal["atom"][4]))
            for goal in trace["goals"]
            if goal["atom"][0] in {"verdict", "lower", "upper"} and goal["holds"]
        }
        assert ("verdict", verdict) in told, asked
        ends = {("lower", least), ("upper", most)}
        shown = {each for each in told if each[0] != "verdict"}
        assert shown == {each for each in ends if each[1]}, asked
