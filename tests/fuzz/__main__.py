"""The command: `python -m tests.fuzz WHAT`, from the top folder.

    forgeries   forge real answers; the table of kinds, tried and accepted
    true        ask questions of all forms of three shelves, and check the answers
    damaged     damaged questions, labels, shelves, traces and routines

It prints the seed, leaves with 1 if anything went wrong, and keeps that as a case in
`tests/cases`, which the tests try again.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

TESTS = Path(__file__).parents[1]
sys.path.insert(0, str(TESTS))

from forgers import ALONE, BY_BASE  # noqa: E402

from fuzz import answers, damaged, programs, true  # noqa: E402
from fuzz.tables import BASE, ITSELF, KEPT, Case, Tried, table, tried  # noqa: E402

KINDS = {ITSELF: (*ALONE,), BASE: (*BY_BASE,), "either": (*ALONE, *BY_BASE)}
OFTEN = 500


def main() -> int:
    """Do what was asked for, until there are as many as asked for."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz")
    asked.add_argument("what", choices=["forgeries", "true", "damaged"])
    asked.add_argument("--tried", type=int, default=1000, help="how many")
    asked.add_argument("--seconds", type=float, default=float("inf"), help="how long")
    asked.add_argument("--seed", type=int, default=0, help="the first seed")
    asked.add_argument("--of", choices=["answers", "programs"], default="answers")
    asked.add_argument("--refused-by", choices=list(KINDS), default="either")
    asked.add_argument("--table", type=Path, help="write the table here as well")
    args = asked.parse_args()
    print(f"seed {args.seed}", flush=True)
    run = {"forgeries": _forgeries, "true": _true, "damaged": _damaged}[args.what]
    return 1 if run(args) else 0


def _going(args: argparse.Namespace) -> Iterator[int]:
    """Count what is tried, as far as was asked for."""
    end = time.monotonic() + args.seconds
    for number in range(args.tried):
        if time.monotonic() > end:
            return
        if number and number % OFTEN == 0:
            print(f"{number} tried", flush=True)
        yield number


def _forgeries(args: argparse.Namespace) -> int:
    counted: list[Tried] = []
    of = {"answers": answers, "programs": programs}[args.of]
    made = _forged(of.cases(), args.seed, KINDS[args.refused_by])
    for _, each in zip(_going(args), made, strict=False):
        counted.append(each._replace(trace=None, base=None))
        if each.accepted:
            kept = {"kind": each.kind, "question": each.case, "seed": each.seed}
            _keep(KEPT, kept)
    text = table(counted)
    print(text, end="")
    if args.table:
        args.table.write_text(text, "utf-8")
    accepted = sum(each.accepted for each in counted)
    print(f"{len(counted)} tried, {accepted} accepted")
    return accepted


def _forged(
    cases: Iterable[Case], seed: int, kinds: tuple[str, ...]
) -> Iterator[Tried]:
    real = list(cases)
    while True:
        yield from tried(real, kinds, (seed,))
        seed += 1


def _true(args: argparse.Namespace) -> int:
    refused = number = 0
    checks = true.checks(true.shelves(), args.seed)
    for _, each in zip(_going(args), checks, strict=False):
        number += 1
        if each.problem:
            refused += 1
            print(f"{each.shelf}: {each.question}: {each.problem}", flush=True)
    print(f"{number} true traces, {refused} refused")
    return refused


def _damaged(args: argparse.Namespace) -> int:
    ready, wrong, number = damaged.tools(), 0, 0
    made = damaged.damages(ready, args.seed)
    for _, each in zip(_going(args), made, strict=False):
        number += 1
        text = damaged.problem(ready, each)
        if text:
            wrong += 1
            _keep(damaged.KEPT, each._asdict())
            print(f"{each.kind} {each.seed}: {text}", flush=True)
    print(f"{number} damaged inputs, {wrong} not read and not refused")
    return wrong


def _keep(path: Path, case: dict[str, object]) -> None:
    with path.open("a", encoding="utf-8") as file:
        file.write(json.dumps(case) + "\n")


if __name__ == "__main__":
    sys.exit(main())
