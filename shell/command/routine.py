"""What `abluent routine` and `abluent plan` do: read, work out, print, for each one."""

from __future__ import annotations

import argparse
import csv
import io
import json
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

from abluent.engine.disk import write_file
from abluent.engine.questions.answers.answer import Answer
from abluent.grammar.common.text import unmoving
from abluent.grammar.routine import tree as ast
from abluent.shell.command.runs import OVERWRITE, code_of, opened
from abluent.shell.ground import reports
from abluent.shell.ground.cells import defused
from abluent.shell.routine.read import Found, routines_in, routines_of
from abluent.shell.session.session import Session

FEWEST = 4  # routines; fewer are done before a bar could be seen

Data = Callable[[], dict[str, Any]]
Done = tuple[Data, Callable[[], str], Callable[[], Answer], Any]
"""What came of a routine: as data, as a page, as an answer to be traced, and itself."""

Table = Callable[[dict[str, Any]], Iterable[dict[str, Any]]]
Write = Callable[..., None]
"""Writes all that came of some routines: a path, these, the world, and how."""


def run_routine(args: argparse.Namespace) -> int:
    """Account for what each routine of some files builds up."""
    from abluent.engine.routines.outcome import account_of
    from abluent.shell.routine.data import account_json, account_table
    from abluent.shell.routine.page import account_page
    from abluent.shell.routine.written import write_account

    session, width = opened(args), reports.page_of(sys.stdout)[0]

    def done(routine: ast.Routine) -> Done:
        world = session.world
        found = account_of(routine, world)

        def page() -> str:
            how = {"steps": args.steps, "why": args.why, "rows": args.rows}
            return account_page(found, world, width, **how)

        return lambda: account_json(found, world), page, found.answer, found

    return _each(args, session, done, account_table, write_account)


def run_plan(args: argparse.Namespace) -> int:
    """Plan the washes for each routine of some files."""
    from abluent.engine.routines.plan_outcome import plan_of
    from abluent.shell.routine.data import plan_json, plan_table
    from abluent.shell.routine.page import plan_page
    from abluent.shell.routine.written import write_plan

    session, width = opened(args), reports.page_of(sys.stdout)[0]

    def done(routine: ast.Routine) -> Done:
        world = session.world
        found = plan_of(routine, world, args.most)
        page = plan_page

        return (
            lambda: plan_json(found, world),
            lambda: page(found, world, width, why=args.why),
            found.answer,
            found,
        )

    return _each(args, session, done, plan_table, write_plan)


def _each(
    args: argparse.Namespace,
    session: Session,
    done: Callable[[ast.Routine], Done],
    table: Table,
    write: Write,
) -> int:
    """Do each routine; one that is wrong stops no other."""
    found = [each for word in args.files for each in _routines(word, session, args)]
    code = code_of(session)
    kept: list[dict[str, Any]] = []
    made: list[Any] = []
    traced: list[Answer] = []
    for number, each in enumerate(_with_bar(found)):
        try:
            if each.error is not None:
                raise each.error
            assert each.routine is not None
            data, page, answer, came = done(each.routine)
        except Exception as error:
            code = max(code, reports.exit_code(error))
            sys.stdout.flush()
            reports.complain(reports.said(error))
            continue
        if args.trace is not None:
            traced.append(answer())
        if args.to is not None:
            kept.append(data())
            made.append(came)
        elif args.json:
            print(unmoving(json.dumps(data(), ensure_ascii=False)))
        else:
            print(f"\n{page()}" if number else page())
    _write_traces(args, session, traced)
    if args.to is not None:
        path, how = Path(args.to), {"overwrite": args.overwrite, "hint": OVERWRITE}
        if path.suffix.casefold() in _TABLES:
            write_file(path, _text(path, kept, table), **how)
        elif made:
            write(path, made, session.world, **how)
    return code


def _routines(word: str, session: Session, args: argparse.Namespace) -> list[Found]:
    """The routines of a file, or the one that a week told in its place comes to."""
    week = session.week(word) if " " in word and not Path(word).exists() else None
    if week is None:
        return routines_in(word, session.shelf, args.also)
    if not args.json:
        from abluent.shell.routine.heard import told

        print("\n".join(["Read as", *told(week), ""]))
    return routines_of("\n".join(week.lines), "", session.shelf, args.also)


_TABLES = (".csv", ".jsonl")


def _with_bar(found: list[Found]) -> Iterator[Found]:
    """The routines, with a bar on standard error for people while there are many."""
    if len(found) < FEWEST or not sys.stderr.isatty():
        yield from found
        return
    from tqdm import tqdm

    yield from tqdm(
        found,
        desc="routines",
        unit="",
        leave=False,
        file=sys.stderr,
        dynamic_ncols=True,
    )


def _write_traces(
    args: argparse.Namespace, session: Session, traced: list[Answer]
) -> None:
    if args.trace is not None and traced:
        path = Path(args.trace)
        text = "".join(session.export_trace(each, path.suffix) for each in traced)
        write_file(path, text, overwrite=args.overwrite, hint=OVERWRITE)


def _text(
    path: Path,
    kept: list[dict[str, Any]],
    table: Table,
) -> str:
    if path.suffix.casefold() == ".jsonl":
        return "".join(f"{json.dumps(each, ensure_ascii=False)}\n" for each in kept)
    rows = [row for each in kept for row in table(each)]
    out = io.StringIO()
    if rows:
        writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(
            {k: defused(v) if isinstance(v, str) else v for k, v in row.items()}
            for row in rows
        )
    return out.getvalue()
