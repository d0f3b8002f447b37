"""The options of the commands by which the base is added to."""

from __future__ import annotations

from abluent.shell.command.common_options import (
    Subparsers,
    add_json,
    add_knowledge,
    add_out,
    add_shelf,
    command,
)


def _teach(commands: Subparsers) -> None:
    does = "show what a file of knowledge would change, and keep it"
    parser = command(commands, "teach", does, "abluent teach kelp.ttl")
    parser.set_defaults(module="teach")
    add_shelf(parser)
    add_knowledge(parser)
    parser.add_argument("--keep", action="store_true", help="keep it unasked")
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="a .ttl, .rules or .zip of them"
    )


def _taught(commands: Subparsers) -> None:
    does = "list what you taught, or export it as one file"
    parser = command(commands, "taught", does, "abluent taught --to mine.ttl")
    parser.set_defaults(module="teach")
    add_out(parser, "a .ttl, .rules or .zip to write")


def _untaught(commands: Subparsers) -> None:
    does = "take back what you taught"
    parser = command(commands, "untaught", does, "abluent untaught kelp-foam")
    parser.set_defaults(module="teach")
    parser.add_argument(
        "name", nargs="?", default="", metavar="NAME", help="else the last"
    )


def _owl(commands: Subparsers) -> None:
    does = "write the whole base as one OWL 2 file, or say what an edited copy changes"
    parser = command(commands, "owl", does, "abluent owl --to base.owl")
    parser.set_defaults(module="ontology")
    add_json(parser)
    add_shelf(parser)
    add_knowledge(parser)
    add_out(parser, "the file to write, as RDF/XML, such as base.owl")
    parser.add_argument(
        "edited", nargs="?", metavar="EDITED", help="a copy that was edited"
    )


TEACHING = (_teach, _taught, _untaught, _owl)
