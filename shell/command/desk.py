"""What `abluent desk` does: open the desk in the browser of this machine."""

from __future__ import annotations

import argparse

from abluent.shell.command.common_options import conditions_of, grounds
from abluent.shell.desk.serve import serve
from abluent.shell.ground import reports
from abluent.shell.session.session import Session


def run_desk(args: argparse.Namespace) -> int:
    """Serve the desk until Ctrl-C, which is its usual end."""
    session = Session.open(args.shelf, conditions_of(args), own=True, **grounds(args))
    session.practice = args.practice
    reports.complain_of(session.shelf.problems)

    def say(text: str) -> None:
        print(text, flush=True)

    try:
        serve(session, say, port=args.port, browser=args.browser)
    except KeyboardInterrupt:
        return reports.ANSWERED
    return reports.ANSWERED
