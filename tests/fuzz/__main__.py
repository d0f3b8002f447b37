"""The command: `python -m tests.fuzz forgeries`, from the top folder.

It prints the table of kinds, tried and accepted as it goes on, and leaves with 1 if
a forgery was accepted; that is written to `tests/cases/forgeries.jsonl`, which the
ordinary tests try again.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

TESTS = Path(__file__).parents[1]
sys.path.insert(0, str(TESTS))

from forgers import ALONE, BY_BASE  # noqa: E402

from fuzz.answers import cases  # noqa: E402
from fuzz.tables import KEPT, Tried, table, tried  # noqa: E402


def main() -> int:
    """Try forgeries of real answers until there are as many as asked for."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz")
    asked.add_argument("what", choices=["forgeries"])
    asked.add_argument("--tried", type=int, default=1000, help="how many")
    asked.add_argument("--seed", type=int, default=0, help="the first seed")
    asked.add_argument("--table", type=Path, help="write the table here as well")
    args = asked.parse_args()
    counted: list[Tried] = []
    print(f"seed {args.seed}")
    for each in _until(args.tried, args.seed):
        counted.append(each._replace(trace=None, base=None))
        if each.accepted:
            _keep(each)
        if len(counted) % 500 == 0:
            print(f"{len(counted)} tried", flush=True)
    text = table(counted)
    print(text, end="")
    if args.table:
        args.table.write_text(text, "utf-8")
    accepted = sum(each.accepted for each in counted)
    print(f"{len(counted)} tried, {accepted} accepted")
    return 1 if accepted else 0


def _until(number: int, seed: int) -> Iterator[Tried]:
    left, true = number, list(cases())
    while left > 0:
        for each in _round(true, seed):
            yield each
            left -= 1
            if not left:
                return
        seed += 1


def _round(true: Iterable[object], seed: int) -> Iterable[Tried]:
    return tried(true, (*ALONE, *BY_BASE), (seed,))  # type: ignore[arg-type]


def _keep(each: Tried) -> None:
    with KEPT.open("a", encoding="utf-8") as file:
        kept = {"kind": each.kind, "question": each.case, "seed": each.seed}
        file.write(json.dumps(kept) + "\n")


if __name__ == "__main__":
    sys.exit(main())
