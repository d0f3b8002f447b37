"""Run the second checker over a folder of traces with an index of what is expected.

The folder has `index.json`, a list of objects with `file`, `base` and `true`, and
`bases/common.json`, which every base is joined with.  A trace that is not true may
still hang together; it is to be refused against its base.
"""

import sys
from pathlib import Path
from typing import Any

from .against import joined
from .checker import verdict
from .shape import load


def read(path: Path) -> Any:
    """The data of a file."""
    return load(path.read_text(encoding="utf-8"))


def judged(path: Path, base: Any) -> tuple[str, str]:
    """The verdict on a file, refused too if it cannot be read."""
    try:
        return verdict(read(path), base)
    except (ValueError, RecursionError) as error:
        return "refused", str(error)


def expected(row: Any, alone: bool) -> str:
    """The verdict that an index expects, or nothing if either will do."""
    if row["true"]:
        return "holds"
    return "" if alone and "contradicts itself" not in row["note"] else "refused"


def line_of(row: Any, how: str, found: tuple[str, str]) -> str:
    """One line on a verdict."""
    wanted = expected(row, how == "alone")
    mark = "DISAGREES " if wanted and wanted != found[0] else ""
    return f"{mark}{row['file']} {how}: {found[0]}, {found[1][:160]} ({row['note']})"


def main(folder: Path, only: list[str]) -> int:
    """Check all traces of a folder, or only some; how many disagree."""
    common = read(folder / "bases" / "common.json")
    counts: dict[tuple[bool, str, str], int] = {}
    wrong = 0
    for row in read(folder / "index.json"):
        if only and Path(row["file"]).stem not in only:
            continue
        base = joined(common, read(folder / row["base"]))
        for how, by in (("alone", None), ("base", base)):
            found = judged(folder / row["file"], by)
            key = (row["true"], how, found[0])
            counts[key] = counts.get(key, 0) + 1
            line = line_of(row, how, found)
            wrong += line.startswith("DISAGREES")
            print(line, flush=True)
    for (true, how, word), count in sorted(counts.items()):
        print(f"{'true' if true else 'forged'} {how} {word}: {count}")
    return wrong


if __name__ == "__main__":
    sys.exit(bool(main(Path(sys.argv[1]), sys.argv[2:])))
