"""The command `abluent`: with words it does one thing and leaves.

It leaves with 0 (answered), 1 (the data is wrong) or 2 (the command is wrong);
`check` leaves with 3 if what it checked holds under suppositions.
Everything heavy is imported by the command that needs it.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from io import TextIOWrapper

from abluent.shell.command.common_options import (
    Page,
    Subparsers,
    add_aspects,
    add_json,
    add_knowledge,
    add_out,
    add_practice,
    add_shelf,
    command,
)
from abluent.shell.command.publish_options import OUTPUTS
from abluent.shell.command.teach_options import TEACHING

EPILOG = """\
examples:
  abluent                                          open the interactive shell
  abluent ask 'which washes clear "Dimethicone"'   ask one question
  abluent name Dimethicone "Cetrimonium Chloride"  say what a name means
  abluent read label.txt                           read a label
  abluent demo                                     see what it can do

`abluent COMMAND --help` says more about each.
Without --shelf, questions are asked of your own shelf, or of a built-in one.
"""

_OBJECTS = 200_000
"""How many objects more than before may be there until Python looks for garbage."""

Command = Callable[[argparse.Namespace], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command, or the interactive shell; return the exit code."""
    from abluent.shell.ground.reports import reported

    words = sys.argv[1:] if argv is None else list(argv)
    args = _parser(words).parse_args(words)
    often = gc.get_threshold()
    # A fifth of a short run was spent looking for garbage that is not there.
    gc.set_threshold(_OBJECTS)
    try:
        return reported(lambda: _run(args))
    finally:
        gc.set_threshold(*often)


def _run(args: argparse.Namespace) -> int:
    if args.version:
        return _print_version()
    if args.command is None:
        from abluent.shell.command.shell import run_shell

        return run_shell(args)
    from importlib import import_module

    place = import_module(f"abluent.shell.command.{args.module}")
    run: Command = getattr(place, f"run_{args.command}")
    return run(args)


def _print_version() -> int:
    from abluent.engine.trace.edition import edition
    from abluent.shell.session.session import Session

    which = edition(Session.open(taught=False).world)
    print(f"{which['name']}, base {which['digest']}")
    return 0


def _parser(line: Sequence[str]) -> argparse.ArgumentParser:
    """The parser; if the first word is a command, it knows that command alone."""
    first = line[0] if line else ""
    parser = argparse.ArgumentParser(
        "abluent",
        description="Reads hair-care labels: what products leave on hair, which "
        "washes take it off, and why.",
        epilog=EPILOG,
        formatter_class=Page,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="store_true", help="print the version")
    parser.set_defaults(shelf=[], knowledge=[], base=None, practice=True, module="runs")
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    # Without its name given it would be worked out, by way of a page of help.
    commands = parser.add_subparsers(
        dest="command", metavar="COMMAND", prog=parser.prog
    )
    adders = _adders()
    # Twenty commands take longer to describe than a question to be answered.
    for add in [adders[first]] if first in adders else adders.values():
        add(commands)
    add_aspects([parser, *commands.choices.values()], line)
    return parser


def parser_of() -> argparse.ArgumentParser:
    """Return the parser of every command, for what is made from its help."""
    return _parser([])


def _adders() -> dict[str, Callable[[Subparsers], None]]:
    """What describes each command, by its name."""
    every = (
        _ask,
        _name,
        _read,
        _shelf,
        _routine,
        _plan,
        _trace,
        _check,
        _sign,
        _audit,
        _changed,
        *OUTPUTS,
        *TEACHING,
        _desk,
        _completion,
        _man,
        _demo,
    )
    return {add.__name__.lstrip("_"): add for add in every}


def _ask(commands: Subparsers) -> None:
    does = "ask a question of a shelf"
    example = "abluent ask --shelf salon.csv 'what does \"Harbour Cream\" leave'"
    parser = command(commands, "ask", does, example)
    add_json(parser)
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    parser.add_argument("--queries", metavar="FILE", help="one question a line (- too)")
    parser.add_argument(
        "--rows", action="store_true", help="list every row, however many there are"
    )
    parser.add_argument(
        "--over", metavar="PLACE", help="count over what a sweep wrote there"
    )
    parser.add_argument("query", nargs="*", metavar="QUERY", help="the question")


def _name(commands: Subparsers) -> None:
    does = "say what ingredient names mean"
    parser = command(commands, "name", does, 'abluent name "Sodium Laureth Sulfate"')
    add_json(parser)
    add_knowledge(parser)
    parser.add_argument(
        "names", nargs="+", metavar="NAME", help="a name as printed, or - for stdin"
    )


def _read(commands: Subparsers) -> None:
    does = "read labels, line by line"
    parser = command(commands, "read", does, "abluent read --kind wash label.txt")
    add_json(parser)
    add_knowledge(parser)
    parser.add_argument("--product", help="the product's name, for a bare label")
    parser.add_argument("--kind", help="wash, co-wash, conditioner, leave-in, …")
    parser.add_argument("--market", help="EU, US, …, whose law the label follows")
    parser.add_argument(
        "--on",
        type=_day,
        metavar="DAY",
        help="the day it was on sale, as 2026-01-31, whose law binds; else today",
    )
    parser.add_argument(
        "--practice",
        action="store_true",
        help="narrow the levels by what the trade usually puts in",
    )
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="a label, a shelf, or - for stdin"
    )


def _day(text: str) -> str:
    from datetime import date

    try:
        return date.fromisoformat(text).isoformat()
    except ValueError as error:
        what = f'"{text}" is no day; write it as 2026-01-31'
        raise argparse.ArgumentTypeError(what) from error


def _shelf(commands: Subparsers) -> None:
    does = "list the products of a shelf, or save it in another form"
    parser = command(commands, "shelf", does, "abluent shelf --shelf labels/")
    add_json(parser)
    add_shelf(parser)
    add_out(parser, "save as .jsonl, .csv, or a folder of .txt files")


def _routine(commands: Subparsers) -> None:
    does = "account for what builds up under a routine"
    parser = command(commands, "routine", does, "abluent routine week.txt")
    _add_routines(parser)
    parser.add_argument(
        "--steps", action="store_true", help="show every use of every film"
    )
    parser.add_argument(
        "--rows", action="store_true", help="list every film, not the families alone"
    )


def _plan(commands: Subparsers) -> None:
    does = "plan the washes that keep films off under a routine"
    example = "abluent plan --also 'clear silicones every 3 washes' week.txt"
    parser = command(commands, "plan", does, example)
    _add_routines(parser)
    parser.add_argument(
        "--most",
        type=_at_least_one,
        default=5,
        metavar="N",
        help="how many plans to show; 5 if not said",
    )


def _add_routines(parser: argparse.ArgumentParser) -> None:
    parser.set_defaults(module="routine")
    add_json(parser)
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    add_out(
        parser,
        "write a table (.csv, .jsonl), a calendar (.ics) or a picture (.svg, .png)",
    )
    parser.add_argument("--trace", metavar="FILE", help="write every reason, to check")
    parser.add_argument("--why", action="store_true", help="show the reasons")
    parser.add_argument(
        "--also",
        action="append",
        default=[],
        metavar="LINE",
        help="a line to add to each routine; may be given again",
    )
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="lines, .csv, .ics, or - for stdin"
    )


def _at_least_one(text: str) -> int:
    if not text.isdecimal() or not int(text):
        raise argparse.ArgumentTypeError(f'"{text}" is no number from 1 up')
    return int(text)


def _trace(commands: Subparsers) -> None:
    from abluent.shell.pages.export import trace_forms

    forms = trace_forms()
    does = "answer a question with every reason, as a page or as JSON to check"
    example = "abluent trace --to why.md 'does \"Tideline Wash\" clear Dimethicone'"
    parser = command(commands, "trace", does, example)
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    add_out(parser, f"the file to write; {forms.hint}; else it is printed")
    parser.add_argument(
        "--format",
        choices=forms.names,
        help="else by the file's ending; printed as Markdown",
    )
    parser.add_argument("query", nargs="+", metavar="QUERY", help="the question")


def _check(commands: Subparsers) -> None:
    does = "check traces without the reasoner that made them"
    parser = command(commands, "check", does, "abluent check why.json")
    add_json(parser)
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    parser.add_argument(
        "--alone",
        action="store_true",
        help="by its own rules and facts only, not compared with those installed here",
    )
    parser.add_argument(
        "--statement", action="store_true", help="print what `holds` means, and leave"
    )
    parser.add_argument(
        "--signed-by",
        metavar="KEY",
        help="refuse what the owner of this public key has not signed (TRACE.sig)",
    )
    parser.add_argument(
        "traces", nargs="*", metavar="TRACE", help="a trace as JSON, or - for stdin"
    )


def _sign(commands: Subparsers) -> None:
    does = "sign traces with a key of your own, or make one"
    parser = command(commands, "sign", does, "abluent sign --key my.key why.json")
    parser.set_defaults(module="sign")
    parser.add_argument("--new-key", metavar="FILE", help="make a key, and FILE.pub")
    parser.add_argument("--key", metavar="FILE", help="the key to sign with")
    parser.add_argument(
        "--overwrite", action="store_true", help="replace TRACE.sig if it is there"
    )
    parser.add_argument(
        "traces", nargs="*", metavar="TRACE", help="a trace as JSON, signed beside it"
    )


def _audit(commands: Subparsers) -> None:
    does = "prove the base, and say what in it no answer or many answers rest on"
    parser = command(commands, "audit", does, "abluent audit --shelf labels/")
    parser.set_defaults(module="upkeep")
    add_json(parser)
    add_shelf(parser)
    add_knowledge(parser)


def _changed(commands: Subparsers) -> None:
    does = "say what an edit of the base changed in an answer, and which edit did it"
    example = "abluent changed --before old/ontology 'which washes clear Dimethicone'"
    parser = command(commands, "changed", does, example)
    parser.set_defaults(module="upkeep")
    add_json(parser)
    add_shelf(parser)
    for name, which in (("--before", "older"), ("--after", "newer")):
        parser.add_argument(
            name,
            metavar="FOLDER",
            help=f"the {which} version of the ontology folder; else the installed one",
        )
    parser.add_argument("query", nargs="+", metavar="QUERY", help="the question")


def _desk(commands: Subparsers) -> None:
    does = "open the desk: labels, shelf, questions and pictures in the browser"
    parser = command(commands, "desk", does, "abluent desk")
    parser.set_defaults(module="desk")
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    parser.add_argument(
        "--port", type=int, default=0, metavar="N", help="else any that is free"
    )
    parser.add_argument(
        "--no-browser",
        dest="browser",
        action="store_false",
        help="print the address only",
    )


def _completion(commands: Subparsers) -> None:
    does = "print the script by which bash, zsh or fish completes the command"
    example = "source <(abluent completion bash)"
    parser = command(commands, "completion", does, example)
    parser.set_defaults(module="scripts")
    parser.add_argument("of", choices=["bash", "zsh", "fish"], help="the shell")


def _man(commands: Subparsers) -> None:
    does = "print the page for `man`"
    parser = command(commands, "man", does, "abluent man > abluent.1")
    parser.set_defaults(module="scripts")


def _demo(commands: Subparsers) -> None:
    does = "ask some questions of the built-in shelf"
    command(commands, "demo", does, "abluent demo")


def script() -> None:
    """Run as the installed command, in a process that ends with it."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A label may hold half a character, which JSON can write but UTF-8 not.
            stream.reconfigure(errors="backslashreplace")
    code = main()
    # To free the base at the end, piece by piece, would take as long as a question.
    with suppress(OSError, ValueError):
        sys.stdout.flush()
        sys.stderr.flush()
    os._exit(code)
