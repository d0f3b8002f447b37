"""The command that draws: what is asked for is found, drawn and written."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.shell.command import runs
from abluent.shell.ground.extras import needing
from abluent.shell.ground.forms import Form, Forms
from abluent.shell.pages.html import today
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from abluent.shell.pictures.sheet import Look, Sheet

FORMS = Forms("a picture", (Form("svg", (".svg",)), Form("png", (".png",))))
TALL = "9:16"
_SHARPER = 2
"""How many pixels of a PNG stand for one of the drawing, but for a card."""


def run_picture(args: argparse.Namespace) -> int:
    """Draw an answer, its proof, a grid, the levels of a label, or classes."""
    path = Path(args.to) if args.to is not None else None
    form = FORMS.find(path.suffix or path.name) if path is not None else None
    session = runs.opened(args)
    with needing("a picture"):
        sheet = _DRAWN[args.what](session, args)
        _warn(sheet)
        _put(sheet, path, form, args)
    return runs.code_of(session)


def _warn(sheet: Sheet) -> None:
    """Say which letters nothing here can draw."""
    from abluent.shell.ground.reports import complain
    from abluent.shell.pictures.glyphs import warning

    told = warning([sheet.texts()])
    if told:
        complain(told)


def _put(
    sheet: Sheet, path: Path | None, form: Form | None, args: argparse.Namespace
) -> None:
    from abluent.engine.disk import write_bytes, write_file

    how = {"overwrite": args.overwrite, "hint": runs.OVERWRITE}
    if path is None or form is None:
        sys.stdout.write(sheet.svg())
    elif form.name == "svg":
        write_file(path, sheet.svg(), **how)
    else:
        posted = args.what == "card" or args.shape == TALL
        wide = 0 if posted else round(sheet.wide * _SHARPER)
        write_bytes(path, sheet.png(wide), **how)


def _card(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.shell.pictures.card import Wish, answer_card

    question = _about(args, "card", "'which washes clear \"Dimethicone\"'")
    chosen = tuple(number - 1 for number in args.reason) if args.reason else None
    wish = Wish(args.shape, today(), _look(args), chosen, session.world)
    return answer_card(session.ask(question), question, wish)


def _look(args: argparse.Namespace) -> Look:
    """The colours and the handle: as asked, else as the settings say."""
    from abluent.shell.ground.settings import settings
    from abluent.shell.pictures.sheet import look_of

    kept = settings()
    handle = kept.get("handle", "") if args.handle is None else args.handle
    ink, paper = args.ink or kept.get("ink", ""), args.paper or kept.get("paper", "")
    return look_of(ink, paper, handle)


def _grid(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.shell.pictures.card import Wish, answer_card
    from abluent.shell.pictures.grid import verdict_grid, verdicts_of

    question = _about(args, "grid", "'which washes clear silicones'")
    answer = session.ask(question)
    if args.shape == TALL:
        # Upright a grid is a list by verdict, or a table of a few washes.
        verdicts_of(answer)
        return answer_card(answer, question, Wish(TALL, today(), _look(args)))
    return verdict_grid(answer, question, today())


def _reasons(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.shell.pictures.short_proof import short_proof

    question = _about(args, "reasons", "'does \"Tideline Wash\" clear Dimethicone'")
    return short_proof(session.ask(question), question, today(), _look(args))


def _proof(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.engine.trace.answer import traces
    from abluent.shell.pictures.proof import proof_drawing

    question = _about(args, "proof", "'what does \"Harbour Cream\" leave'")
    found = traces(session.ask(question), question)
    if len(found) != 1:
        what = f"this answer has {len(found)} proofs to draw, not one"
        raise CommandError(Problem(what, hint="ask whether one wash clears one film"))
    return proof_drawing(found[0], today())


def _levels(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.shell.pictures.levels import level_chart, level_list

    product = _about(args, "levels", '"Harbour Cream"').strip('"')
    label, read = session.read_product(product)
    levels = session.levels(read)
    if args.shape == TALL:
        look, market = _look(args), label.market
        return level_list(label.product, read, levels, today(), look, market=market)
    return level_chart(label.product, read, levels, today())


def _classes(session: Session, args: argparse.Namespace) -> Sheet:
    from abluent.shell.pictures.classes import class_tree

    phrase = _about(args, "classes", "surfactants").strip('"')
    base = session.world.base
    found = base.find_class(phrase)
    if found is None:
        hint = "try `surfactants`, `silicones` or `film-formers`"
        raise CommandError(Problem(f'there is no class called "{phrase}"', hint=hint))
    return class_tree(base, found, today())


def _about(args: argparse.Namespace, what: str, example: str) -> str:
    text = runs.question_of(args.about)
    if not text:
        hint = f"abluent picture {what} {example}"
        raise CommandError(Problem(f"the {what} is about nothing yet", hint=hint))
    return text


_DRAWN: dict[str, Callable[[Session, argparse.Namespace], Sheet]] = {
    "card": _card,
    "grid": _grid,
    "proof": _proof,
    "reasons": _reasons,
    "levels": _levels,
    "classes": _classes,
}
