"""The commands by which an addition is shown and kept, listed, and taken back."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from abluent.engine.teach.hand_over import parts_in
from abluent.shell.ground import reports

_YES = {"", "y", "yes"}


def run_teach(args: argparse.Namespace) -> int:
    """Show what a file would change, and keep it if that is wanted."""
    from abluent.shell.command.runs import opened
    from abluent.shell.pages.addition import kept_note, weighed_page

    session = opened(args)
    parts = [part for word in args.files for part in parts_in(Path(word))]
    weighed = session.weigh(parts)
    print(weighed_page(weighed, session.shelf, reports.page_of(sys.stdout)[0]))
    if not args.keep and not sys.stdin.isatty():
        print("Nothing was kept; --keep keeps it.")
        return reports.ANSWERED
    if args.keep or input("Keep it? [yes]: ").strip().casefold() in _YES:
        print(kept_note(session.teach(weighed)))
    else:
        print("nothing was kept")
    return reports.ANSWERED


def run_taught(args: argparse.Namespace) -> int:
    """List what was taught, or export it."""
    from abluent.engine.teach.hand_over import export
    from abluent.shell.pages.addition import taught_page
    from abluent.shell.session.session import Session

    session = Session.open()
    if args.to is not None:
        count = export(session.layer, Path(args.to), overwrite=args.overwrite)
        print(f'All that you taught ({count}) is in "{args.to}".')
        return reports.ANSWERED
    width = reports.page_of(sys.stdout)[0]
    print(taught_page(session.layer.additions(), session.world.base, width))
    return reports.ANSWERED


def run_untaught(args: argparse.Namespace) -> int:
    """Take back what was taught."""
    from abluent.shell.session.session import Session

    addition, aside = Session.open().untaught(args.name)
    print(f'"{addition.name}" is taken back; its text is in "{aside}".')
    return reports.ANSWERED
