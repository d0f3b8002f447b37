"""How pages of the desk are filled in: whole, or the part that is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.rows import standing, title
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, strand_of, strand_svg
from abluent.shell.pages.html import shown
from flask import Flask, current_app, render_template, request
from jinja2 import PackageLoader, StrictUndefined
from markupsafe import Markup

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Row
    from abluent.shell.desk.state import Desk

PLACES = (
    ("label", "/label", "The label"),
    ("shelf", "/shelf", "The shelf"),
    ("question", "/question", "The question"),
    ("week", "/week", "The week"),
    ("picture", "/picture", "The picture"),
)
PART = "X-Desk-Part"
"""What the few lines of script say when they ask for a part of a page."""
SMALL, LARGE = 52.0, 120.0


def set_up(app: Flask) -> None:
    """Tell the templates what they may use."""
    jinja = app.jinja_env
    jinja.loader = PackageLoader("abluent.shell.desk")
    jinja.undefined = StrictUndefined
    jinja.autoescape = True
    jinja.finalize = shown
    jinja.trim_blocks = jinja.lstrip_blocks = True
    jinja.globals.update(
        places=PLACES, mark=row_mark, title=title, standing=standing, role_mark=marked
    )


def desk() -> Desk:
    """Return the desk that a request came to."""
    return cast("Desk", current_app.extensions["desk"])


def is_part() -> bool:
    """Whether the request asks for a part of a page only."""
    return request.headers.get(PART) == "1"


def filled(template: str, **values: Any) -> str:
    """Return a page, or its part: the block of that page which changes."""
    if is_part():
        found = current_app.jinja_env.get_template(template)
        context = found.new_context({**values, **_flask_values()})
        return "".join(found.blocks["part"](context))
    return render_template(template, **values)


def _flask_values() -> dict[str, Any]:
    values: dict[str, Any] = {}
    current_app.update_template_context(values)
    return values


def marked(role: Role, wide: float = SMALL) -> Markup:
    """Return the mark of a verdict; words stand beside it."""
    return Markup(strand_svg(strand_of(role), wide))


def row_mark(row: Row, wide: float = SMALL) -> Markup:
    """Return the mark of a row; nothing for one that has none."""
    if isinstance(row, Verdict):
        return marked(row.role, wide)
    if isinstance(row, Left):
        return Markup(strand_svg(LEFT if row.sure else MAY_BE_LEFT, wide))
    return Markup("")
