"""Commands that make something to show, to cite or to hand on."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from abluent.engine.faults import CommandError, Problem
from abluent.shell.command import runs
from abluent.shell.command.common_options import grounds
from abluent.shell.ground import reports
from abluent.shell.session.session import Session


def run_cite(args: argparse.Namespace) -> int:
    """List the works that answers rest on, or write a caption for one."""
    from abluent.shell.pages.export import cited

    form = args.format or Path(args.to or "").suffix or "text"
    session = runs.opened(args)
    answers = [session.ask(query) for query in _queries(args)]
    _put(args, cited(answers, form))
    return runs.code_of(session)


def run_review(args: argparse.Namespace) -> int:
    """Say what reviewers contest in a trace, and which conclusions fall with it."""
    from abluent.engine.trace.review import without
    from abluent.shell.command.check import traces_in
    from abluent.shell.pages.review import WRONG, read_remarks, review, review_page

    remarks = read_remarks(Path(args.remarks))
    session = Session.open(**grounds(args))
    found = [(trace, review(trace, remarks)) for _, trace in traces_in(args.trace)]
    falls = False
    for number, (trace, each) in enumerate(found):
        still = list(without(trace, each.marked(WRONG), session.world))
        falls |= any(fallen for _, fallen in each.conclusions)
        if number:
            print()
        print(review_page(trace, each, still))
    return reports.DATA_IS_WRONG if falls else reports.ANSWERED


def run_batch(args: argparse.Namespace) -> int:
    """Answer a file of questions into a folder."""
    from abluent.shell.session.batch_folder import answer_into
    from abluent.shell.shelf.label_files import lines_in
    from tqdm import tqdm

    session = runs.opened(args)
    questions = lines_in(args.questions)
    if not questions:
        what = "there is no question in the file"
        raise CommandError(Problem(what, args.questions, "write one question a line"))
    with tqdm(total=len(questions), unit="", leave=False, disable=None) as bar:
        made = answer_into(
            session,
            questions,
            Path(args.to).expanduser(),
            overwrite=args.overwrite,
            check=args.check,
            watch=bar.update,
        )
    session.keep()
    answers = sum(not entry.problem for entry in made)
    print(f"{args.to}: {answers} of {len(questions)} answered")
    code = reports.DATA_IS_WRONG if answers < len(questions) else reports.ANSWERED
    return max(code, runs.code_of(session))


def _queries(args: argparse.Namespace) -> Sequence[str]:
    if args.queries is not None:
        from abluent.shell.shelf.label_files import lines_in

        return lines_in(args.queries)
    query = runs.question_of(args.query)
    if not query:
        hint = "abluent cite 'which washes clear \"Dimethicone\"'"
        raise CommandError(Problem("there is no question to cite for", hint=hint))
    return [query]


def _put(args: argparse.Namespace, text: str) -> None:
    """Print a text, or write it where the command says."""
    if args.to is None:
        sys.stdout.write(text)
        return
    from abluent.engine.disk import write_file

    write_file(Path(args.to), text, overwrite=args.overwrite, hint=runs.OVERWRITE)
