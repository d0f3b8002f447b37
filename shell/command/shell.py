"""What `abluent` alone does: open the interactive shell on a shelf."""

from __future__ import annotations

import argparse

from abluent.shell.command.common_options import conditions_of, grounds
from abluent.shell.desk.serve import serve
from abluent.shell.ground import reports
from abluent.shell.session.session import Session
from abluent.shell.talk.loop import open_shell


def run_shell(args: argparse.Namespace) -> int:
    """Open the shell on the terminal, or read lines from a pipe; return the code."""
    session = Session.open(args.shelf, conditions_of(args), own=True, **grounds(args))
    session.practice = args.practice
    reports.complain_of(session.shelf.problems)
    reports.mention(session.shelf.notes)
    return open_shell(session, serve)
