"""The order and the command by which an addition is shown, and kept if wanted."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import Problem
from abluent.engine.teach.layer import RULES, TURTLE, Part, parts_in
from abluent.engine.teach.trial import Refused
from abluent.grammar.common.text import wrapped
from abluent.shell.ground import reports

if TYPE_CHECKING:
    from abluent.engine.teach.addition import Weighed
    from abluent.engine.teach.layer import Taught
    from abluent.shell.talk.loop import InteractiveShell

_YES = {"", "y", "yes"}


def teach(shell: InteractiveShell, what: str) -> None:
    """Teach a file, or what the answers to questions come to.

    Raises:
        CommandError: there is no such file or thing to teach.
        Refused: it cannot be kept. What was asked for is kept as a draft.
    """
    from abluent.shell.pages.addition import weighed_page
    from abluent.shell.talk.teach_form import KINDS, Form

    if not what:
        ask = f"What ({', '.join(KINDS)}, or a file):"
        what = shell.reader.answer(ask, list(KINDS))
    asked = what.casefold() in KINDS or not _names_file(what)
    if asked:
        parts = [Form(shell).part(what.casefold())]
        shell.say(_shown(parts[0]))
    else:
        parts = parts_in(Path(what).expanduser())
    try:
        weighed = shell.session.weigh(parts)
    except Refused as error:
        if not asked:
            raise
        draft = shell.session.layer.draft(parts[0])
        hint = f"mend the text and `teach {draft}`"
        kept = Problem("nothing was kept; your answers are not lost", hint=hint)
        raise Refused([*error.problems, kept]) from error
    shell.show(weighed_page(weighed, shell.session.shelf, shell.width))
    if shell.reader.answer("Keep it? [yes]:", ("yes", "no")).casefold() in _YES:
        shell.say(wrapped(_kept(shell.session.teach(weighed)), shell.width))
        shell.say(wrapped(_try(weighed), shell.width))
    else:
        shell.say("nothing was kept")


def _names_file(what: str) -> bool:
    path = Path(what).expanduser()
    return path.suffix in {TURTLE, RULES, ".zip"} or path.exists()


def _shown(part: Part) -> str:
    """Return the text of an addition without what every one begins with."""
    lines = [line for line in part.text.split("\n") if not line.startswith("@prefix")]
    return "\n".join(f"  {line}" for line in lines if line.strip())


def _kept(kept: list[Taught]) -> str:
    names = ", ".join(f'"{each.name}"' for each in kept)
    return f"Kept: {names}. `untaught` takes it back, `taught` lists all."


def _try(weighed: Weighed) -> str:
    base = weighed.trial.base
    for symbol in weighed.trial.symbols:
        record = base.record(symbol)
        if record.space == "ing":
            return f'Try: what is "{base.label(symbol)}"'
        film = record.link("film")
        if film:
            plural = base.plural(film)
            return f"Try: which washes clear {plural}"
    return "Try a question that it bears on."


# -- commands ------------------------------------------------------------------


def run_teach(args: argparse.Namespace) -> int:
    """Show what a file would change, and keep it if that is wanted."""
    from abluent.shell.command.runs import opened
    from abluent.shell.pages.addition import weighed_page

    session = opened(args)
    parts = [part for word in args.files for part in parts_in(Path(word))]
    weighed = session.weigh(parts)
    print(weighed_page(weighed, session.shelf, reports.page_of(sys.stdout)[0]))
    if not args.keep and not sys.stdin.isatty():
        print("Nothing was kept; --keep keeps it.")
        return reports.ANSWERED
    if args.keep or input("Keep it? [yes]: ").strip().casefold() in _YES:
        print(_kept(session.teach(weighed)))
    else:
        print("nothing was kept")
    return reports.ANSWERED


def run_taught(args: argparse.Namespace) -> int:
    """List what was taught, or export it."""
    from abluent.engine.teach.layer import export
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
