"""`abluent sweep`, as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from abluent.engine.faults import DataError
from abluent.shell.command.cli import main
from abluent.shell.shelf.by_path import open_shelf

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
    assert "1 name not understood" in said
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


def test_a_folder_of_shelf_files_is_one_shelf(shelf: Path, tmp_path: Path) -> None:
    """JSON Lines, CSV and Parquet together."""
    folder = tmp_path / "many"
    folder.mkdir()
    rows = [json.loads(line) for line in shelf.read_text("utf-8").splitlines()]
    (folder / "a.jsonl").write_text(json.dumps(rows[0]) + "\n", "utf-8")
    (folder / "b.csv").write_text(
        'product,kind,text\nHarbour Cream,leave-in,"Aqua, Dimethicone"\n', "utf-8"
    )
    with duckdb.connect() as database:
        database.execute(
            f"COPY (SELECT 'Mild Wash' AS product, 'wash' AS kind, NULL AS market, "
            f"'Aqua, Decyl Glucoside' AS text) TO '{folder}/c.parquet'"
        )
    found = open_shelf(folder)
    assert [x.product for x in found.labels] == [
        "Tide Wash",
        "Harbour Cream",
        "Mild Wash",
    ]
    assert found.name == "many"
    assert not found.problems


@pytest.mark.parametrize("form", ["parquet", "csv"])
def test_a_table_in_parts_is_one_shelf(tmp_path: Path, form: str) -> None:
    """What its folders are called is a column of it."""
    folder = tmp_path / "parts"
    with duckdb.connect() as database:
        database.execute(
            "COPY (SELECT * FROM (VALUES ('Tide Wash', 'wash', 'Aqua'), "
            "('Harbour Cream', 'leave-in', 'Aqua, Dimethicone')) "
            f"AS t(product, kind, text)) TO '{folder}' "
            f"(FORMAT {form}, PARTITION_BY (kind))"
        )
    found = open_shelf(folder)
    assert not found.problems
    assert [(x.product, x.kind) for x in found.labels] == [
        ("Harbour Cream", "leave-in"),
        ("Tide Wash", "wash"),
    ]


def test_a_broken_parquet_file_is_named(tmp_path: Path) -> None:
    """As any other shelf that cannot be read."""
    path = tmp_path / "broken.parquet"
    path.write_bytes(b"PAR1 no more")
    with pytest.raises(DataError, match="cannot be read as Parquet"):
        open_shelf(path)
