"""Any cell of a catalogue can be asked by itself, and is then proved and checked."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from abluent.engine.checking import checker
from abluent.engine.sweep.written import opened
from abluent.shell.session.session import Session

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
