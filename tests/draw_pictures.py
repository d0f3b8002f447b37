"""Draw pictures of hard cases into a folder, to be looked at and scored.

    python tests/draw_pictures.py FOLDER [CASES] [--part NAME]

Without `CASES` those of `hard_pictures.py` are drawn. `CASES` is a file of lines
`name | shape | question`, asked of the demo shelf, or of the shelf that a line
`shelf PATH` names; `name | routine | PATH` draws the routine of a file.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from pathlib import Path

from abluent.shell.pictures.sheet import Sheet
from abluent.shell.session.session import Session
from abluent.shell.shelf.by_path import open_shelf
from hard_pictures import HARD, card, week


def main() -> None:
    """Draw them."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("cases", type=Path, nargs="?")
    parser.add_argument("--part", default="")
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    cases = dict(_read(given.cases)) if given.cases else HARD
    for name, draw in cases.items():
        if given.part in name:
            (given.folder / f"{name}.png").write_bytes(draw().png())


def _read(path: Path) -> Iterator[tuple[str, Callable[[], Sheet]]]:
    session = Session.open()
    for line in path.read_text("utf-8").splitlines():
        if line.startswith("shelf "):
            session = Session(open_shelf(Path(line.removeprefix("shelf ").strip())))
        elif line.strip() and not line.startswith("#"):
            name, how, what = (part.strip() for part in line.split("|", 2))
            yield name, _drawing(session, how, what)


def _drawing(session: Session, how: str, what: str) -> Callable[[], Sheet]:
    if how == "routine":
        return lambda: week(Path(what).read_text("utf-8"), session)
    return lambda: card(session.ask(what), what, how, world=session.world)


if __name__ == "__main__":
    main()
