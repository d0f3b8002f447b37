"""The picture: as it will be posted, with the reasons, colours and words chosen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from abluent.engine.faults import CommandError, Problem, ShellError
from abluent.grammar.common.errors import GrammarError
from abluent.shell.desk.page import desk, filled
from abluent.shell.ground.extras import needing
from abluent.shell.ground.settings import set_setting, settings
from abluent.shell.pictures.sheet import INK, PAPER
from flask import Blueprint, Response, redirect, request, send_file, url_for

if TYPE_CHECKING:
    from abluent.shell.pictures.card import Wish
    from abluent.shell.pictures.sheet import Sheet
    from werkzeug.wrappers import Response as AnyResponse

ROOM = Blueprint("picture", __name__)
SHAPES = {"9:16": "tall, for a phone", "1:1": "square", "16:9": "wide", "A4": "a sheet"}
_KEY = "0picture00"
_KEPT = ("handle", "ink", "paper")


@ROOM.get("/picture")
def picture() -> str:
    """Show a picture as it is chosen so far; without a choice, as it was left."""
    args: dict[str, str] = {key: request.args[key] for key in request.args}
    reasons = request.args.getlist("reason")
    drafts = desk().drafts
    if not args:
        args = dict(drafts.get(_KEY).fields)
        reasons = args.pop("reasons", "").split()
    elif args.get("q"):
        kept = {**args, "reasons": " ".join(reasons)}
        drafts.save(_KEY, drafts.get(_KEY).number, kept)
    return _page(args, reasons)


def _page(args: Mapping[str, str], reasons: list[str]) -> str:
    kept = settings()
    chosen = {key: args.get(key) or kept.get(key, "") for key in _KEPT}
    asked = args.get("q", "").strip()
    shape = args.get("shape", "9:16")
    picked = reasons if "picked" in args or reasons else None
    told: dict[str, object] = {
        "q": asked,
        "shape": shape if shape in SHAPES else "9:16",
        "shapes": SHAPES,
        "kept": {**chosen, "ink": chosen["ink"] or INK}
        | {"paper": chosen["paper"] or PAPER},
        "fault": "",
        "source": "",
        "reasons": (),
        "picked": (),
        "alt": "",
        "warning": "",
    }
    if asked:
        told |= _drawn(asked, shape, chosen, picked)
    return filled("picture.html", here="picture", **told)


def _drawn(
    asked: str, shape: str, look: Mapping[str, str], picked: list[str] | None
) -> dict[str, object]:
    from abluent.shell.ground.reports import said
    from abluent.shell.told.telling import told_of

    try:
        with needing("a picture"):
            told = told_of(desk().answer(asked), asked, desk().session.world)
            wish = _wish(shape, look, picked)
            sheet = _sheet(asked, wish)
            from abluent.shell.pictures.glyphs import warning
    except (ShellError, GrammarError) as error:
        return {"fault": said(error)}
    numbers = told.chosen if wish.chosen is None else wish.chosen
    values = {"q": asked, "shape": wish.shape, **look}
    query = [*values.items(), ("picked", "1"), *(("reason", str(n)) for n in numbers)]
    return {
        "source": urlencode(query),
        "reasons": list(enumerate(told.reasons)),
        "picked": numbers,
        "alt": told.aloud(wish.chosen),
        "warning": warning([sheet.texts()]),
    }


def _wish(shape: str, look: Mapping[str, str], picked: list[str] | None) -> Wish:
    from abluent.shell.pages.html import today
    from abluent.shell.pictures.card import Wish
    from abluent.shell.pictures.sheet import look_of

    if shape not in SHAPES:
        what = f'"{shape}" is no shape of a picture'
        raise CommandError(Problem(what, hint=f"there are: {', '.join(SHAPES)}"))
    chosen = None
    if picked is not None:
        chosen = tuple(int(each) for each in picked if each.isdecimal())
    colours = look_of(
        look.get("ink", ""), look.get("paper", ""), look.get("handle", "")
    )
    return Wish(shape, today(), colours, chosen, desk().session.world)


def _sheet(asked: str, wish: Wish) -> Sheet:
    from abluent.shell.pictures.card import answer_card

    return answer_card(desk().answer(asked), asked, wish)


@ROOM.get("/picture/file.<form>")
def file(form: str) -> Response:
    """Return the picture itself, to show or to save."""
    args = request.args
    picked = args.getlist("reason") if "picked" in args else None
    look = {key: args.get(key, "") for key in _KEPT}
    with needing("a picture"):
        sheet = _sheet(
            args.get("q", ""), _wish(args.get("shape", "9:16"), look, picked)
        )
        if form == "png":
            data, kind = sheet.png(), "image/png"
        elif form == "svg":
            data, kind = sheet.svg().encode(), "image/svg+xml"
        else:
            raise CommandError(Problem(f'"{form}" is no form of a picture'))
    from io import BytesIO

    save = args.get("save") == "1"
    shown = send_file(
        BytesIO(data), kind, as_attachment=save, download_name=f"picture.{form}"
    )
    shown.headers["Content-Security-Policy"] = (
        "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
    )
    return shown


@ROOM.post("/picture/keep")
def keep() -> AnyResponse:
    """Keep handle and colours for later pictures, in the settings."""
    for key in _KEPT:
        set_setting(key, request.form.get(key, "").strip())
    return redirect(url_for("picture.picture"))
