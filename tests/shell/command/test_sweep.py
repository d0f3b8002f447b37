"""`abluent sweep`, as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from abluent.shell.command.cli import main

duckdb = pytest.importorskip("duckdb", reason="a sweep needs DuckDB")
pytest.importorskip("numpy", reason="a sweep needs numpy")

LABELS = [
    ("Tide Wash", "wash", "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine"),
    ("Harbour Cream", "leave-in", "Aqua, Dimethicone, Cetearyl Alcohol"),
    ("Mild Wash", "wash", "Aqua, Decyl Glucoside, Ignotum Nemini"),
]


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    path = tmp_path / "catalogue.jsonl"
    rows = [
        {"product": name, "kind": kind, "market": "EU", "text": text}
        for name, kind, text in LABELS
    ]
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), "utf-8")
    return path


@pytest.mark.slow
def test_a_sweep_says_what_it_did(
    shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """How many labels, washes, verdicts and names that were not understood."""
    place = tmp_path / "out.duckdb"
    words = ["sweep", "--shelf", str(shelf), "--to", str(place)]
    assert main(words) == 0
    said = capsys.readouterr().out
    assert "3 labels, 2 of them washes" in said
    assert "1 names not understood" in said
    assert main(words) == 0
    assert "nothing has changed" in capsys.readouterr().out
    with duckdb.connect(str(place), read_only=True) as file:
        unread = file.execute("SELECT name, labels, washes FROM unread").fetchall()
        washes = file.execute("SELECT DISTINCT wash FROM verdicts").fetchall()
    assert unread == [("Ignotum Nemini", 1, 1)]
    assert {"Tide Wash", "Mild Wash"} <= {wash for (wash,) in washes}


def test_a_place_that_cannot_be_is_refused(
    shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before any label is read."""
    place = tmp_path / "nowhere" / "out.duckdb"
    assert main(["sweep", "--shelf", str(shelf), "--to", str(place)]) == 2
    assert "is no folder" in capsys.readouterr().err
