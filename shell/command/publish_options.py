"""The commands that make something to show, to cite or to hand on: their options."""

from __future__ import annotations

from abluent.shell.command.common_options import (
    Subparsers,
    add_knowledge,
    add_out,
    add_practice,
    add_shelf,
    command,
)


def _picture(commands: Subparsers) -> None:
    does = "draw an answer, its proof, a grid, the levels of a label, or classes"
    example = "abluent picture card --to card.png 'which washes clear Dimethicone'"
    parser = command(commands, "picture", does, example)
    parser.set_defaults(module="picture")
    add_shelf(parser)
    add_knowledge(parser)
    add_out(parser, "the file to write, .svg or .png; else SVG is printed")
    parser.add_argument(
        "--shape",
        choices=["16:9", "9:16", "1:1", "A4"],
        default="16:9",
        help="of a card, A4 to print; grid and levels know 9:16, and are else as "
        "large as what they show",
    )
    parser.add_argument(
        "--reason",
        action="append",
        type=int,
        default=[],
        metavar="N",
        help="of a card, the n-th of its reasons; may be given again",
    )
    parser.add_argument("--handle", help="what stands on a card, such as @quay.class")
    parser.add_argument("--ink", default="", metavar="COLOUR", help="such as #12263a")
    parser.add_argument(
        "--paper", default="", metavar="COLOUR", help="the other colour"
    )
    parser.add_argument(
        "what",
        choices=["card", "reasons", "proof", "grid", "levels", "classes"],
        help="card, reasons, proof and grid take a question, levels a product, classes "
        "the name of one",
    )
    parser.add_argument("about", nargs="+", metavar="ABOUT", help="what it is about")


def _cite(commands: Subparsers) -> None:
    from abluent.shell.pages.export import cite_forms

    forms = cite_forms()
    does = "list the works that answers rest on, or write a caption"
    example = "abluent cite --to works.bib 'which washes clear Dimethicone'"
    parser = command(commands, "cite", does, example)
    parser.set_defaults(module="publish")
    add_shelf(parser)
    add_knowledge(parser)
    add_out(parser, f"the file to write; {forms.hint}; else it is printed")
    parser.add_argument(
        "--format",
        choices=forms.names,
        help="else by the file's ending",
    )
    parser.add_argument("--queries", metavar="FILE", help="one question a line (- too)")
    parser.add_argument("query", nargs="*", metavar="QUERY", help="the question")


def _review(commands: Subparsers) -> None:
    does = "say what reviewers contest in a trace, and what falls with it"
    parser = command(commands, "review", does, "abluent review why.json remarks.toml")
    parser.set_defaults(module="publish")
    add_knowledge(parser)
    parser.add_argument("trace", metavar="TRACE", help="a trace as JSON")
    parser.add_argument(
        "remarks", metavar="REMARKS", help="a .toml or .json of remarks"
    )


def _batch(commands: Subparsers) -> None:
    does = "answer a file of questions into a folder of pages"
    example = "abluent batch --shelf salon.csv --to answers questions.txt"
    parser = command(commands, "batch", does, example)
    parser.set_defaults(module="publish")
    add_shelf(parser)
    add_knowledge(parser)
    parser.add_argument("--to", metavar="FOLDER", required=True, help="made new")
    parser.add_argument(
        "--overwrite", action="store_true", help="replace the pages that are there"
    )
    parser.add_argument(
        "--check", action="store_true", help="put every step on each page, checked"
    )
    parser.add_argument("questions", metavar="FILE", help="one question a line (- too)")


def _sweep(commands: Subparsers) -> None:
    from abluent.engine.sweep import FORMS

    does = "judge every wash of a catalogue against every product, into tables"
    example = "abluent sweep --shelf catalogue.jsonl --to judged.duckdb"
    parser = command(commands, "sweep", does, example)
    parser.set_defaults(module="sweep")
    add_shelf(parser)
    add_knowledge(parser)
    add_practice(parser)
    parser.add_argument(
        "--to",
        metavar="PLACE",
        required=True,
        help="a .duckdb file or a folder of Parquet; what is there is replaced",
    )
    parser.add_argument(
        "--format",
        choices=FORMS,
        default="",
        help="else by name",
    )
    parser.add_argument(
        "--all",
        action="store_true",
        help="write every verdict, and not once for all washes and films alike",
    )
    parser.add_argument(
        "--processes", type=int, default=0, metavar="N", help="that read labels"
    )
    parser.add_argument(
        "--memory", default="", metavar="SIZE", help="of the database, such as 2GB"
    )
    parser.add_argument(
        "--on",
        choices=["duckdb", "spark"],
        default="duckdb",
        help="the engine that judges; Spark needs Java 17",
    )
    parser.add_argument(
        "--page", metavar="FILE", help="write what it comes to as a page, too"
    )
    parser.add_argument(
        "--again", action="store_true", help="though the outcome is there already"
    )


OUTPUTS = (_picture, _cite, _review, _batch, _sweep)
