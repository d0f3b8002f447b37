"""What questions cost in CPU: `python questions.py [--against CHECKOUT] [--runs N]`.

Cold is a whole process of `ask --json`, start and exit included: with what earlier runs
kept in the cache, and for one question with an empty one. Warm is thirty different
questions, each asked once of a session that has answered another before; the proof of
an answer is its trace as JSON. With another checkout, such as a worktree of an earlier
commit, each run measures both in turn, and the ratio is this one to that one.

The least of several runs counts, as other work on the machine only adds.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import subprocess
import sys
import tomllib
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

HERE = Path(__file__).resolve()
TOP = HERE.parents[2]
COLD = 3
FIRST = 'is "Dimethicone" a silicone'

Costs = dict[str, list[float]]


class Checkout:
    """A checkout that can be run as it lies, with a cache of its own."""

    def __init__(self, top: Path, room: Path) -> None:
        """Lay out its packages for import in an empty folder."""
        self._room = room
        project = tomllib.loads((top / "pyproject.toml").read_text(encoding="utf-8"))
        module, _, name = project["project"]["scripts"]["abluent"].partition(":")
        self._command = f"from {module} import {name}; {name}()"
        for package, folder in project["tool"]["setuptools"]["package-dir"].items():
            link = room.joinpath("packages", *package.split("."))
            link.parent.mkdir(parents=True, exist_ok=True)
            link.symlink_to(top / folder)

    def cold(self, question: str, cache: str = "cache") -> float:
        """CPU milliseconds of one process that answers one question."""
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        self._run("-c", self._command, "ask", "--json", question, cache=cache)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        spent = after.ru_utime + after.ru_stime
        return (spent - before.ru_utime - before.ru_stime) * 1e3

    def warm(self, questions: Sequence[str]) -> list[list[float]]:
        """CPU milliseconds of each answer and of its proof, in one new process."""
        # A cache of its own, lest it displaces what the cold questions keep.
        shown = self._run(str(HERE), "--ask", *questions, cache="warm")
        found: list[list[float]] = json.loads(shown)
        return found

    def _run(self, *words: str, cache: str = "cache") -> str:
        homes = {"XDG_CACHE_HOME": cache, "XDG_DATA_HOME": "data"}
        places = {name: str(self._room / folder) for name, folder in homes.items()}
        places["PYTHONPATH"] = str(self._room / "packages")
        run = subprocess.run(
            [sys.executable, *words],
            env={**os.environ, **places},
            stdout=subprocess.PIPE,
            check=True,
            text=True,
        )
        return run.stdout


def ask(questions: Sequence[str]) -> Iterator[tuple[float, float]]:
    """CPU milliseconds of each answer and of its proof, in this process."""
    import gc  # noqa: PLC0415 - this one process is what is measured
    from time import process_time  # noqa: PLC0415

    from abluent.engine.faults import CommandError  # noqa: PLC0415 - not for the others
    from abluent.shell.session import Session  # noqa: PLC0415 - not for the others

    gc.set_threshold(200_000)
    session = Session.open()
    session.export_trace(session.ask(FIRST), "json")
    for question in questions:
        start = process_time()
        answer = session.ask(question)
        asked = process_time()
        with suppress(CommandError):
            # Some answers rest on no reasons, and so have no trace.
            session.export_trace(answer, "json")
        yield (asked - start) * 1e3, (process_time() - asked) * 1e3


def measure(checkouts: Sequence[Checkout], runs: int) -> list[dict[str, float]]:
    """The least cost of each thing measured, for each checkout, in milliseconds."""
    questions = bench_questions()
    spent: list[Costs] = [defaultdict(list) for _ in checkouts]
    proofs: list[list[list[list[float]]]] = [[] for _ in checkouts]
    for each in checkouts:
        for question in questions[:COLD]:
            each.cold(question)
        each.warm(questions)
    for run in range(runs):
        for each, costs, warm in zip(checkouts, spent, proofs, strict=True):
            costs["cold, nothing kept"].append(each.cold(questions[0], f"empty-{run}"))
            for number, question in enumerate(questions[:COLD], 1):
                costs[f"cold, question {number}"].append(each.cold(question))
            warm.append(each.warm(questions))
    least = [{name: min(c) for name, c in costs.items()} for costs in spent]
    for found, warm in zip(least, proofs, strict=True):
        for at, name in enumerate(("answers", "proofs")):
            # Each question has its own best run; a slow moment spoils one, not all.
            each_least = [min(run[n][at] for run in warm) for n in range(len(warm[0]))]
            found[f"warm, {len(each_least)} {name}"] = sum(each_least)
    return least


def bench_questions() -> list[str]:
    """The questions asked, one a line of the file beside this one."""
    lines = HERE.with_suffix(".txt").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def main() -> None:
    """Print one row for each thing measured."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--against", type=Path, metavar="CHECKOUT")
    parser.add_argument(
        "--runs", type=int, default=5, metavar="N", help="5 if not said"
    )
    parser.add_argument("--ask", nargs="+", metavar="QUESTION", help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.ask:
        print(json.dumps(list(ask(args.ask))))
        return
    if args.runs < 1:
        parser.error("--runs must be 1 or more")
    tops = [TOP, *([args.against.resolve()] if args.against else [])]
    if missing := [top for top in tops if not (top / "pyproject.toml").is_file()]:
        parser.error(f"{missing[0]} is no checkout: it has no pyproject.toml")
    with ExitStack() as rooms:
        checkouts = [
            Checkout(top, Path(rooms.enter_context(TemporaryDirectory())))
            for top in tops
        ]
        least = measure(checkouts, args.runs)
    for name, here in least[0].items():
        there = [other[name] for other in least[1:]]
        beside = "".join(f" {cost:7.0f} ms  {here / cost:5.2f}" for cost in there)
        print(f"{name:20} {here:7.0f} ms{beside}")


if __name__ == "__main__":
    main()
