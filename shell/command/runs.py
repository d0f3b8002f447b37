"""What each one-shot command does: read the arguments, ask the session, print."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from abluent.engine.disk import STDIN
from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.text import unmoving
from abluent.shell.command.common_options import conditions_of, grounds
from abluent.shell.ground import reports
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from abluent.shell.shelf.words import knowing

if TYPE_CHECKING:
    from abluent.grammar.phrase.reading import Reading
    from abluent.shell.routine.heard import HeardWeek

    pass

OVERWRITE = "name another file, or add --overwrite to replace it"


def run_ask(args: argparse.Namespace) -> int:
    """Answer one question, or every question of a file."""
    from abluent.shell.ground.progress import reading_bar

    query = question_of(args.query)
    if args.over is not None:
        from abluent.shell.command.over import run_over

        return run_over(args, query)
    session = opened(args)
    if args.queries is not None or query == STDIN:
        from abluent.shell.shelf.label_files import lines_in

        queries = lines_in(args.queries or STDIN)
    elif query:
        queries = [query]
    else:
        raise CommandError(
            Problem(
                "there is no question to answer",
                hint="abluent ask 'which washes clear \"Dimethicone\"'",
            )
        )
    with reading_bar(len(session.shelf.labels)) as session.watch:
        if queries == [query]:
            code = _ask(session, query, args)
        else:
            code = _ask_each(session, queries, args)
    session.keep()
    return max(code, code_of(session))


def _ask_each(
    session: Session, queries: Iterable[str], args: argparse.Namespace
) -> int:
    """Answer each question; one that cannot be answered stops no other."""
    worst = reports.ANSWERED
    for number, query in enumerate(queries):
        if number and not args.json:
            print()
        if _ask(session, query, args) != reports.ANSWERED:
            # The file is data: a question in it that is wrong is wrong data.
            worst = reports.DATA_IS_WRONG
    return worst


def _ask(session: Session, query: str, args: argparse.Namespace) -> int:
    from abluent.shell.session.unexact import Unexact, readings_json

    try:
        answer = session.ask(query)
    except Unexact as error:
        if error.together and not args.json:
            return _ask_in_turn(session, error.together, args)
        week = error.week
        if args.json:
            print_json(readings_json(query, error.heard, week))
            return error.exit_code
        if week is not None and week.whole:
            return _work_out(session, week)
        sys.stdout.flush()
        reports.complain(reports.said(error))
        if week is not None:
            from abluent.shell.routine.heard import run_by

            shelves = getattr(args, "shelf", ())
            reports.complain(f"The week is worked out by:\n  {run_by(week, shelves)}")
        return error.exit_code
    except Exception as error:
        code = reports.exit_code(error)
        if args.json:
            print_json({"query": query, "error": reports.said(error)})
        sys.stdout.flush()
        reports.complain(reports.said(error))
        return code
    if args.json:
        from abluent.shell.pages.answer_data import answer_json

        print_json(answer_json(answer, query))
    else:
        width, styled = reports.page_of(sys.stdout)
        if sys.stdout.isatty():
            from abluent.shell.pages.signs import signed_page

            print(signed_page(answer, width, coloured=styled, whole=args.rows))
        else:
            from abluent.shell.pages.answer import answer_page

            print(answer_page(answer, width, styled, whole=args.rows))
    return reports.ANSWERED


def _work_out(session: Session, week: HeardWeek) -> int:
    """Print what comes of a week that was read to its end."""
    from abluent.shell.routine.heard import pages, told

    print("\n".join(["Read as", *told(week)]))
    width = reports.page_of(sys.stdout)[0]
    try:
        for page in pages(week, session.world, session.shelf, width):
            print(f"\n{page}")
    except Exception as error:
        sys.stdout.flush()
        reports.complain(reports.said(error))
        return reports.exit_code(error)
    return reports.ANSWERED


def _ask_in_turn(
    session: Session, readings: Sequence[Reading], args: argparse.Namespace
) -> int:
    """Answer the questions that one line asks, each under its own wording."""
    from abluent.grammar.common.text import not_used

    worst = reports.ANSWERED
    unused = [text for each in readings for text in each.unused]
    if unused:
        print(not_used(unused))
    for number, reading in enumerate(readings):
        print(f"{chr(10) * bool(number)}{reading.question}")
        worst = max(worst, _ask(session, reading.question, args))
    return worst


def run_name(args: argparse.Namespace) -> int:
    """Say what each name means; a name that nobody knows is an answer too."""
    session = Session.open(**grounds(args))
    names = args.names
    if names == [STDIN]:
        from abluent.shell.shelf.label_files import lines_in

        names = lines_in(STDIN)
    for name in names:
        reading = session.name(name)
        if args.json:
            from abluent.shell.pages.label_data import reading_json

            print_json(reading_json(reading, session.world.base))
        else:
            from abluent.shell.pages.label import reading_page

            width, _ = reports.page_of(sys.stdout)
            print(reading_page(reading, session.world.base, width))
    return reports.ANSWERED


def run_read(args: argparse.Namespace) -> int:
    """Read the labels of files, line by line."""
    from abluent.shell.ground.progress import reading_bar
    from abluent.shell.shelf.label_files import labels_in
    from abluent.shell.shelf.shelf import joined

    said = {"product": args.product, "kind": args.kind, "market": args.market}
    given = {key: value for key, value in said.items() if value is not None}
    session = Session(Shelf("none", ()), **grounds(args))
    with knowing(session.words_base):
        shelf = joined([labels_in(word, given) for word in args.files])
    session = session.on(shelf)
    _report(session)
    with reading_bar(len(session.shelf.labels)) as session.watch:
        for number, label in enumerate(session.shelf.labels):
            if number and not args.json:
                print()
            _print_label(session, label, args)
    return code_of(session)


def _print_label(session: Session, label: ShelfLabel, args: argparse.Namespace) -> None:
    _, read = session.read_product(label.product)
    levels = session.levels(read, on=args.on or "", practice=args.practice)
    law = session.lawful(read, on=args.on or "")
    base = session.world.base
    if args.json:
        from abluent.shell.pages.label_data import label_json
        from abluent.shell.pages.law import law_json

        told = label_json(label, read, levels, base)
        if args.practice:
            told["by_custom"] = levels.by_custom
        print_json({**told, "law": law_json(law, base)})
    else:
        from abluent.grammar.common.text import wrapped
        from abluent.shell.pages.label import NO_CUSTOM, label_page
        from abluent.shell.pages.law import law_page

        width, _ = reports.page_of(sys.stdout)
        silent = args.practice and not levels.by_custom
        pages = (
            label_page(label, read, levels, base, width),
            wrapped(NO_CUSTOM, width, "  ") if silent else "",
            law_page(law, base, width),
        )
        print("\n".join(filter(None, pages)))


def run_shelf(args: argparse.Namespace) -> int:
    """List the products of a shelf, or save it in another form."""
    session = opened(args)
    if args.to is not None:
        from pathlib import Path

        from abluent.shell.shelf.save import save_shelf

        save_shelf(session.shelf, Path(args.to), overwrite=args.overwrite)
    elif args.json:
        from abluent.shell.shelf.shelf import as_fields

        for label in session.shelf.labels:
            print_json({**as_fields(label), "place": label.place})
    else:
        from abluent.shell.pages.shelf import shelf_page

        print(shelf_page(session.shelf, reports.page_of(sys.stdout)[0]))
    return code_of(session)


def run_trace(args: argparse.Namespace) -> int:
    """Answer a question with every reason, as a page or as JSON to check."""
    from pathlib import Path

    from abluent.shell.ground.progress import waiting

    session = opened(args)
    path = Path(args.to) if args.to is not None else None
    form = args.format or (path.suffix if path else "markdown")
    with waiting("judging", "writing every reason, and checking it") as on:
        answer = session.ask(question_of(args.query))
        on()
        text = session.export_trace(answer, form)
    if path is None:
        sys.stdout.write(text)
    else:
        from abluent.engine.disk import write_file

        write_file(path, text, overwrite=args.overwrite, hint=OVERWRITE)
    return code_of(session)


_OF_A_SHELF = (
    "  If it was asked of a shelf of your own, check it beside that shelf: "
    "`abluent check --shelf SHELF TRACE`."
)


def run_check(args: argparse.Namespace) -> int:
    """Check traces without the reasoner that made them."""
    from abluent.shell.command.check import check_word

    if args.statement:
        from abluent.engine.checking.checker import HOLDS

        print(HOLDS)
        return reports.ANSWERED
    if not args.traces:
        hint = "abluent check why.json"
        raise CommandError(Problem("there is no trace to check", hint=hint))
    worst = reports.ANSWERED
    session = opened(args)
    # Nobody said of which shelf it is, if none is named.
    own = not args.shelf
    base_for = None if args.alone else partial(session.base_for, own=own)
    for word in args.traces:
        unsigned = None
        if args.signed_by:
            from abluent.shell.command.sign import Signatures

            unsigned = Signatures(args.signed_by, word).problem
        for found in check_word(word, base_for, unsigned):
            if args.json:
                print_json(found.as_data())
            else:
                print(found)
            if not found.ok:
                worst = reports.DATA_IS_WRONG
                if own and base_for:
                    print(_OF_A_SHELF, file=sys.stderr)
            elif found.supposed and worst == reports.ANSWERED:
                worst = reports.SUPPOSED
    return worst


def run_demo(args: argparse.Namespace) -> int:
    """Ask some questions of the built-in shelf."""
    from abluent.shell.pages.answer import answer_page
    from abluent.shell.pages.shelf import shelf_page
    from abluent.shell.talk.help import TOUR

    session = Session.open()
    width, styled = reports.page_of(sys.stdout)
    print(shelf_page(session.shelf, width))
    for query in TOUR:
        print(f"\n> {query}")
        print(answer_page(session.ask(query), width, styled))
    return reports.ANSWERED


def question_of(words: list[str]) -> str:
    """Return the words of a command line as one question.

    A word that the shell took out of its quotes gets them back, so that
    `ask does "Tideline Wash" clear Dimethicone` needs no second pair.
    """
    if len(words) == 1:
        return words[0].strip()
    return " ".join(
        f'"{word}"' if " " in word and '"' not in word else word for word in words
    )


def print_json(data: dict[str, Any]) -> None:
    """Print one JSON object on a line of its own."""
    print(unmoving(json.dumps(data, ensure_ascii=False)))


def opened(args: argparse.Namespace) -> Session:
    """Return a session on the shelves that a command names; report their faults."""
    session = Session.open(args.shelf, conditions_of(args), own=True, **grounds(args))
    session.practice = args.practice
    _report(session)
    return session


def _report(session: Session) -> None:
    """Say what was wrong with a shelf, and what was assumed, on standard error."""
    reports.complain_of(session.shelf.problems)
    reports.mention(session.shelf.notes)


def code_of(session: Session) -> int:
    """Return the exit code that the faults of a shelf call for, if it has any."""
    return reports.DATA_IS_WRONG if session.shelf.problems else reports.ANSWERED
