"""Shelves as CSV: a first row of names, then one product a row.

Commas, semicolons and tabs all serve, as spreadsheets write any of them.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

from abluent.engine.disk import read_text
from abluent.engine.faults import DataError, Problem
from abluent.shell.ground.cells import defused, restored
from abluent.shell.shelf.shelf import Shelf, ShelfBuilder, as_fields

_MARKS = (",", ";", "\t")
_WANTED = {"product", "name", "text", "label", "ingredients"}
# A label is long, but not this long: beyond it a quotation mark was left open.
_LONGEST_FIELD = 1_000_000


def read_csv(path: Path) -> Shelf:
    """Read a shelf file.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or its first row names no columns.
    """
    return parse_csv(read_text(path), path.stem, str(path))


def parse_csv(text: str, name: str, place: str) -> Shelf:
    """Read a shelf from text; `place` is what messages call it.

    Raises:
        DataError: the first row does not name a product and a text column.
    """
    builder = ShelfBuilder(name)
    mark = _mark(text, place)
    csv.field_size_limit(_LONGEST_FIELD)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    names = [cell.strip().casefold() for cell in next(rows)]
    started = rows.line_num
    try:
        for row in rows:
            where = f"{place}:{started + 1}"
            started = rows.line_num
            if any(cell.strip() for cell in row):
                _add_row(builder, names, row, where)
    except csv.Error as error:
        builder.fault(
            Problem(
                f"the rows cannot be read from here on: {error}",
                f"{place}:{started + 1}",
                "close the quotation mark; the rows above were read",
            )
        )
    return builder.build()


def _mark(text: str, place: str) -> str:
    """Return the mark between columns, from the row of names."""
    head = text.split("\n", 1)[0].strip("\r")
    for mark in _MARKS:
        names = {cell.strip().strip('"').casefold() for cell in head.split(mark)}
        if len(names & _WANTED) > 1:
            return mark
    raise DataError(
        Problem(
            'the first row names no columns "product" and "text"',
            f"{place}:1",
            "let the first row read product,kind,market,text",
            head,
            (0, len(head)),
        )
    )


def _add_row(
    builder: ShelfBuilder, names: list[str], row: list[str], place: str
) -> None:
    if len(row) > len(names) and any(cell.strip() for cell in row[len(names) :]):
        builder.fault(
            Problem(
                f"{len(row)} cells under {len(names)} names",
                place,
                "put the label between quotation marks, as it holds commas",
            )
        )
        return
    cells = map(restored, row)
    builder.add(dict(zip(names, cells, strict=False)), place)


def print_csv(shelf: Shelf) -> str:
    """Return a shelf as CSV, which reads back to the same labels."""
    extra = list(dict.fromkeys(key for x in shelf.labels for key in x.extra))
    names = ["product", "kind", "market", "text", *extra, *shelf.conditions]
    page = io.StringIO(newline="")
    writer = csv.DictWriter(page, names, restval="", lineterminator="\r\n")
    writer.writeheader()
    for label in shelf.labels:
        row = {**label.extra, **as_fields(label)}
        cells = {name: defused(str(cell)) for name, cell in row.items()}
        writer.writerow({**cells, **shelf.conditions})
    return page.getvalue()
