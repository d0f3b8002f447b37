"""The desk as a web application: rooms, errors, and how pages are filled in."""

from __future__ import annotations

from contextlib import ExitStack
from typing import TYPE_CHECKING, Any

from abluent.engine.errors import EngineError
from abluent.engine.faults import ShellError
from abluent.grammar.common.errors import GrammarError
from abluent.shell.desk import (
    label_room,
    picture_room,
    question_room,
    shelf_room,
    week_room,
)
from abluent.shell.desk.guard import guard
from abluent.shell.desk.page import filled, set_up
from abluent.shell.shelf.words import knowing
from flask import Flask, Response, abort, redirect, request, send_file, url_for
from werkzeug.exceptions import HTTPException

if TYPE_CHECKING:
    from abluent.shell.desk.state import Desk
    from werkzeug.wrappers import Response as AnyResponse

ROOMS = (label_room, shelf_room, question_room, week_room, picture_room)
LONGEST = 4 * 1024 * 1024
"""The most that a request may bring, in bytes: a large shelf."""


def desk_app(desk: Desk) -> Flask:
    """Return the application of a desk."""
    app = Flask("abluent.shell.desk", static_url_path="/static")
    app.config["MAX_CONTENT_LENGTH"] = LONGEST
    set_up(app)
    guard(app, desk.token)
    app.extensions["desk"] = desk
    for room in ROOMS:
        app.register_blueprint(room.ROOM)
    _errors(app)

    @app.before_request
    def _wait() -> None:
        if request.endpoint in {"static", "font"}:
            return
        turn = ExitStack()
        turn.enter_context(desk.turn)
        turn.enter_context(knowing(desk.session.words_base))
        request.environ["desk.turn"] = turn

    @app.teardown_request
    def _next(_: BaseException | None) -> None:
        turn: ExitStack | None = request.environ.pop("desk.turn", None)
        if turn is not None:
            turn.close()

    @app.get("/font/<weight>")
    def font(weight: str) -> AnyResponse:
        return _font(bold=weight == "bold")

    @app.get("/")
    def home() -> AnyResponse:
        return redirect(url_for("label.last"))

    return app


def _font(*, bold: bool) -> AnyResponse:
    """Return the typeface that pages and pictures share, where it is installed."""
    try:
        from abluent.shell.ground.typeface import font_file

        path = font_file(bold)
    except ModuleNotFoundError:
        abort(404, "The typeface comes with the extra `export`.")
    found = send_file(path, mimetype="font/ttf", max_age=86400)
    found.headers["Cache-Control"] = "private, max-age=86400"
    return found


def _errors(app: Flask) -> None:
    """Show what goes wrong on a page of the desk."""

    def told(error: Exception) -> tuple[str | Response, int]:
        from abluent.shell.ground.reports import said

        return filled("fault.html", text=said(error)), 422

    for kind in (ShellError, GrammarError, EngineError):
        app.register_error_handler(kind, told)

    @app.errorhandler(HTTPException)
    def _refused(error: HTTPException) -> tuple[Any, int]:
        code = error.code or 500
        if code == 403:
            return Response(f"{error.description}\n", 403, mimetype="text/plain"), 403
        return filled("fault.html", text=error.description or error.name), code
