"""The command: `python -m tests.kept`, from the top folder.

It leaves with 0 (no cell changed without a reason), 1 (some did) or 2 (it could not
compare).
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

from . import computed
from .changes import (
    REASONS,
    TOLD,
    BadReason,
    Change,
    Reason,
    changes,
    given,
    load_reasons,
    unkept,
)
from .tables import STATE, Table, Unreadable, keep, kept, on_disk
from .tool import TOP, Misunderstood, alone, started

VERDICTS = ("verdicts", "guard_verdicts")


def main(argv: Sequence[str] | None = None) -> int:
    """Compare, show, and keep if that is asked for; return the exit code."""
    args = _arguments(argv)
    try:
        return _compare(args)
    except (BadReason, Misunderstood, Unreadable) as error:
        print(error, file=sys.stderr)
        return 2


def _arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser("python -m tests.kept", description=__doc__)
    parser.add_argument(
        "--keep", action="store_true", help="keep what is now, if all has its reason"
    )
    parser.add_argument(
        "--summary", action="store_true", help="show counts, and no cell with a reason"
    )
    parser.add_argument(
        "--since", metavar="COMMIT", help="compare with what was kept in that commit"
    )
    parser.add_argument(
        "--reasons",
        type=Path,
        action="append",
        metavar="FILE",
        help="in place of those in reasons/; may be given again",
    )
    parser.add_argument(
        "--only",
        choices=computed.TABLES,
        action="append",
        metavar="TABLE",
        help=f"one of {', '.join(computed.TABLES)}; may be given again",
    )
    args = parser.parse_args(argv)
    if args.keep and args.since:
        parser.error("--keep goes with what is kept here, not with --since")
    return args


def _compare(args: argparse.Namespace) -> int:
    names = args.only or list(computed.TABLES)
    reasons = load_reasons(args.reasons or reason_files(told=bool(args.since)))
    old = kept(names, in_commit(args.since) if args.since else on_disk)
    new = compute(names)
    why = [(change, given(change, reasons)) for change in changes(old, new)]
    show(why, summary=args.summary)
    print(counted(old, new, why))
    if bare := sum(reason is None for _, reason in why):
        print(f"{bare} changed without a reason: give it in {REASONS.relative_to(TOP)}")
        return 1
    if args.keep:
        keep(new)
        tell(list({reason.file: None for _, reason in why if reason}))
        print(f"kept in {STATE.relative_to(TOP)}")
        return 0
    # What is not kept at all cannot have stayed as it was.
    return int(not all(table.rows for table in old))


def compute(names: Sequence[str]) -> list[Table]:
    """What the tables hold now."""
    with started() as start:
        return [_computed(name, start) for name in names]


def _computed(name: str, start: Path) -> Table:
    with alone(start) as room:
        return computed.TABLES[name](room)


def reason_files(*, told: bool) -> list[Path]:
    """The reason files; with those of changes that are kept, if that is asked."""
    files = sorted(REASONS.glob("*.toml"))
    return files + sorted((REASONS / TOLD).glob("*.toml")) if told else files


def tell(files: Sequence[Path]) -> None:
    """Lay aside the reasons whose changes are kept, lest they explain later ones."""
    for file in files:
        if file.parent == REASONS:
            (REASONS / TOLD).mkdir(exist_ok=True)
            aside, number = REASONS / TOLD / file.name, 1
            while aside.exists():
                number += 1
                aside = aside.with_name(f"{file.stem}-{number}.toml")
            file.rename(aside)


def in_commit(commit: str) -> Callable[[Path], str]:
    """Return what reads a file of this checkout as it was in a commit."""

    def read(path: Path) -> str:
        name = f"{commit}:{path.relative_to(TOP).as_posix()}"
        shown = subprocess.run(
            ["git", "show", name], cwd=TOP, capture_output=True, check=False
        )
        if shown.returncode:
            raise FileNotFoundError(name)
        return shown.stdout.decode()

    known = ["git", "cat-file", "-e", f"{commit}^{{commit}}"]
    if subprocess.run(known, cwd=TOP, capture_output=True, check=False).returncode:
        raise Unreadable(f'there is no commit "{commit}" here')
    return read


Explained = Sequence[tuple[Change, Reason | None]]


def show(why: Explained, *, summary: bool) -> None:
    """Print each changed cell, old and new, and why."""
    for change, reason in why:
        if summary and reason:
            continue
        column = f" [{change.column}]" if change.column else ""
        print(f"{change.cell}{column}")
        print(f"    {change.old or '(not there)'} -> {change.new or '(not there)'}")
        print(f"    because {reason.why}" if reason else "    NO REASON")


def counted(old: Sequence[Table], new: Sequence[Table], why: Explained) -> str:
    """Say in lines how much changed, how, and for which reasons."""
    lines = [f"{len(why)} cells changed, of {sum(len(t.rows) for t in new)} rows"]
    lines += [f"  not kept before: {name}" for name in unkept(old, new)]
    for before, after in zip(old, new, strict=True):
        if after.name in VERDICTS and before.rows:
            lines += _words(before, after)
    flips = Counter((c.old, c.new) for c, _ in why if c.column == "verdict")
    lines += [f"  {n:5}  {was} -> {now}" for (was, now), n in flips.most_common()]
    causes = Counter(reason.why for _, reason in why if reason)
    lines += [f"  {n:5}  because {cause}" for cause, n in causes.most_common()]
    return "\n".join(lines)


def _words(before: Table, after: Table) -> list[str]:
    was, now = (
        Counter(row.get("verdict", "") for row in table.rows.values())
        for table in (before, after)
    )
    lines = [f"  {word:28} {was[word]:5} -> {now[word]:5}" for word in {**was, **now}]
    return [f"{after.name}, by their word:", *sorted(lines)]


if __name__ == "__main__":
    sys.exit(main())
