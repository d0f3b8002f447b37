"""Options that several commands take, each described once."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

from abluent.shell.ground.reports import columns

if TYPE_CHECKING:
    from abluent.engine.base.store import Base

Subparsers: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


class Page(argparse.RawDescriptionHelpFormatter):
    """A page of help, as wide as the terminal."""

    def __init__(self, prog: str) -> None:
        """Start a page; without a width one would be looked for by way of `shutil`."""
        super().__init__(prog, width=columns() - 2)


def command(
    commands: Subparsers, name: str, does: str, example: str
) -> argparse.ArgumentParser:
    """Add a command that does something, with an example."""
    return commands.add_parser(
        name,
        help=does,
        description=f"{does[0].upper()}{does[1:]}.",
        epilog=f"example:\n  {example}",
        formatter_class=Page,
        allow_abbrev=False,
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    """Let a command print JSON."""
    parser.add_argument("--json", action="store_true", help="one JSON object a line")


def add_shelf(parser: argparse.ArgumentParser) -> None:
    """Let a command name shelves, and how hair is washed."""
    parser.add_argument(
        "--shelf",
        action="append",
        default=argparse.SUPPRESS,
        metavar="PATH",
        help=".jsonl, .csv, .txt or a folder of .txt; may be given again",
    )


_HOW = "how:"
"""What the destinations of options begin with that say how hair is washed."""


def add_aspects(
    parsers: Sequence[argparse.ArgumentParser], line: Sequence[str]
) -> None:
    """Let parsers that know shelves know each aspect of washing that the base has.

    Only a line that names an option of another name, or asks for help, has to wait
    until the base is read for it.
    """
    known = {option for each in parsers for option in each._option_string_actions}
    named = {word.partition("=")[0] for word in line if word.startswith("--")}
    if not (named - known - {"--"} or {"-h", "--help"}.intersection(line)):
        return
    from abluent.engine.base.conditions import aspects

    found = aspects(_base_of(line))
    for parser in parsers:
        if "--shelf" in parser._option_string_actions:
            # A command may have an option of its own by that name.
            own = parser._option_string_actions
            for aspect, words in found.items():
                if f"--{aspect}" not in own:
                    _add_aspect(parser, aspect, tuple(words))


def _add_aspect(
    parser: argparse.ArgumentParser, aspect: str, words: Sequence[str]
) -> None:
    parser.add_argument(
        f"--{aspect}",
        dest=f"{_HOW}{aspect}",
        choices=words,
        default=argparse.SUPPRESS,
        help="how it is washed, in place of what the shelf says",
    )


def _base_of(line: Sequence[str]) -> Base:
    """The base that a line is put to, its own knowledge over it."""
    from abluent.shell.session.session import Session
    from abluent.shell.shelf.shelf import Shelf

    own = _given(line, "--knowledge")
    base = next(iter(_given(line, "--base")), None)
    return Session(Shelf("none", ()), own, base=base).words_base()


def _given(line: Sequence[str], option: str) -> list[str]:
    """What an option of a line was given, each time."""
    return [
        word.partition("=")[2] or after
        for word, after in zip(line, [*line[1:], ""], strict=True)
        if word.partition("=")[0] == option
    ]


def conditions_of(args: argparse.Namespace) -> dict[str, str]:
    """Return what the options say of how hair is washed, by aspect."""
    said = vars(args).items()
    return {key.removeprefix(_HOW): word for key, word in said if key.startswith(_HOW)}


def add_practice(parser: argparse.ArgumentParser) -> None:
    """Let a command leave aside what the trade usually puts in."""
    parser.add_argument(
        "--no-practice",
        dest="practice",
        action="store_false",
        default=argparse.SUPPRESS,
        help="bound levels by label and law alone, not by what the trade usually does",
    )


def add_knowledge(parser: argparse.ArgumentParser) -> None:
    """Let a command lay the user's own knowledge over the base."""
    parser.add_argument(
        "--knowledge",
        action="append",
        default=argparse.SUPPRESS,
        metavar="PATH",
        help="your own .ttl or .rules file, or a folder of them, over the base",
    )
    parser.add_argument(
        "--base",
        default=argparse.SUPPRESS,
        metavar="FOLDER",
        help="a base of your own, of another trade, in place of the shipped one",
    )


def grounds(args: argparse.Namespace) -> dict[str, Any]:
    """Return what a session stands on, as the options say."""
    return {"knowledge": args.knowledge, "base": args.base}


def add_out(parser: argparse.ArgumentParser, does: str) -> None:
    """Let a command write a file, and say what for."""
    parser.add_argument("--to", metavar="FILE", help=does)
    parser.add_argument(
        "--overwrite", action="store_true", help="replace the file if it is there"
    )
