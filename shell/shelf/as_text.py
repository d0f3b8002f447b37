"""Labels as plain text: one `.txt` file, or a folder of them, one product each.

A file may open with lines such as `kind: wash`, `market: EU` and
`product: Tideline Wash`; all else is the label, word for word. Without a
`product:` line the product is called as the file is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from abluent.engine.disk import read_text
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.shelf.shelf import Shelf, ShelfBuilder, ShelfLabel

_BLANK = re.compile(r"[ \t]*\r?\n")


@lru_cache(maxsize=4)
def _head(aspects: tuple[str, ...]) -> re.Pattern[str]:
    """What a line is like that says something of the product or of the washing."""
    names = "|".join(map(re.escape, ("product", "kind", "market", *aspects)))
    line = rf"[ \t]*({names})[ \t]*:[ \t]*([^\r\n]*)\r?(?:\n|\Z)"
    return re.compile(line, re.IGNORECASE)


def read_label_file(path: Path) -> Shelf:
    """Read one label file as a shelf of one product.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or is not UTF-8.
    """
    return parse_label(read_text(path), product_of(path), str(path))


def parse_label(
    text: str, name: str, place: str, given: Mapping[str, str] | None = None
) -> Shelf:
    """Read one label from text.

    Args:
        text: the label, with or without lines that name the product.
        name: the product, if the text names none.
        place: what messages call the text.
        given: product, kind or market, in place of what the text names.
    """
    builder = ShelfBuilder(name)
    _add_text(builder, text, {"product": name}, place, given)
    return builder.build()


def read_folder(folder: Path) -> Shelf:
    """Read every `.txt` file of a folder; one that cannot be read is a fault.

    Raises:
        CommandError: the folder holds no `.txt` file.
    """
    paths = sorted(p for p in folder.iterdir() if p.suffix.casefold() == ".txt")
    if not paths:
        raise CommandError(
            Problem(
                f'the folder "{folder}" holds no .txt file',
                hint="save each label as a .txt file of its own",
            )
        )
    builder = ShelfBuilder(folder.name)
    for path in paths:
        try:
            text = read_text(path)
        except DataError as error:
            builder.faults(error.problems)
        else:
            _add_text(builder, text, {"product": product_of(path)}, str(path))
    return builder.build()


def product_of(path: Path) -> str:
    """Return the product a file is named for: `Harbour_Cream.txt` is Harbour Cream."""
    return path.stem.replace("_", " ")


def _add_text(
    builder: ShelfBuilder,
    text: str,
    otherwise: Mapping[str, str],
    place: str,
    given: Mapping[str, str] | None = None,
) -> None:
    fields: dict[str, object] = dict(otherwise)
    start = 0
    line = _head(tuple(builder.words.aspects))
    while head := line.match(text, start):
        fields[head[1].casefold()] = head[2].strip()
        start = head.end()
    while blank := _BLANK.match(text, start):
        start = blank.end()
    builder.add({**fields, **(given or {}), "text": text[start:]}, place, start)


def print_label(label: ShelfLabel) -> str:
    """Return one label as the text of a file; blank lines before it are not kept."""
    lines = [f"product: {label.product}", f"kind: {label.kind}"]
    lines += [f"market: {label.market}"] if label.market else []
    return "\n".join(lines) + "\n\n" + label.text
