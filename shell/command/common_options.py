"""Options that several commands take, each described once."""

from __future__ import annotations

import argparse
from typing import TypeAlias

from abluent.shell.ground.reports import columns
from abluent.shell.shelf.shelf import ASPECTS

_ASPECT_HELP = {
    "water": "the water it is washed with",
    "hair": "the state of the hair",
    "temperature": "how warm the water is",
}

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
    for aspect, words in ASPECTS.items():
        parser.add_argument(
            f"--{aspect}",
            choices=words,
            default=argparse.SUPPRESS,
            help=f"{_ASPECT_HELP[aspect]}, in place of what the shelf says",
        )


def conditions_of(args: argparse.Namespace) -> dict[str, str]:
    """Return what the options say of how hair is washed, by aspect."""
    said = {aspect: getattr(args, aspect, None) for aspect in ASPECTS}
    return {aspect: word for aspect, word in said.items() if word}


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


def add_out(parser: argparse.ArgumentParser, does: str) -> None:
    """Let a command write a file, and say what for."""
    parser.add_argument("--to", metavar="FILE", help=does)
    parser.add_argument(
        "--overwrite", action="store_true", help="replace the file if it is there"
    )
