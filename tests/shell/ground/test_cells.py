"""Cells that a spreadsheet would run come back as they were, and are not run."""

from __future__ import annotations

import csv
import io

import pytest
from abluent.shell.ground.cells import defused, restored
from abluent.shell.shelf.as_csv import parse_csv, print_csv
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from hypothesis import given
from hypothesis import strategies as st


@pytest.mark.parametrize(
    "cell",
    [*("=1+1", "+1", "-1", "@SUM(A1)", "\tx", "'=1"), *("|x", "%", "  =1", "\n-1")],
)
def test_a_formula_is_led_by_an_apostrophe(cell: str) -> None:
    assert defused(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["Aqua", "", "'t Zand", "1,2-Hexanediol"])
def test_other_cells_are_left_alone(cell: str) -> None:
    assert defused(cell) == restored(cell) == cell


@given(st.text(alphabet="'=+-@|%\t\r\nab ", max_size=6))
def test_a_cell_comes_back_as_it_was(cell: str) -> None:
    assert restored(defused(cell)) == cell


def test_a_shelf_as_csv_holds_no_formula_and_reads_back() -> None:
    label = ShelfLabel("=Fen Wash", "wash", "EU", "@Aqua, Parfum", {"remark": "-2"})
    text = print_csv(Shelf("fen", (label,)))
    cells = [cell for row in csv.reader(io.StringIO(text)) for cell in row]
    assert not [cell for cell in cells if cell[:1] in set("=+-@")]
    assert parse_csv(text, "fen", "fen.csv").labels == (label,)
