"""Pages as HTML: one file that opens from disk and asks for nothing else.

Every text is escaped, and what cannot be seen in it is written out, so that a label
can neither add markup nor turn a line around.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from abluent.grammar.common.text import visible

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from jinja2 import Environment


def answer_html(
    answer: Answer,
    question: str,
    day: str = "",
    *,
    by_base: bool = True,
    steps: bool = True,
) -> str:
    """Return an answer as one HTML page.

    Args:
        answer: the answer.
        question: as it was typed.
        day: the day to print on the page, as `2026-01-31`; today if empty.
        by_base: whether the checker also holds it against the base.
        steps: whether every step stands on it, and the check of them.
    """
    from abluent.shell.ground.typeface import page_font_css
    from abluent.shell.pages.view import page_view
    from markupsafe import Markup

    day = day or today()
    shown = page_view(answer, question, day, by_base=by_base, steps=steps)
    cited = {work.symbol for work in shown.works}
    # A page with every step is handed on by itself, so it carries its typeface.
    face = Markup(page_font_css()) if steps else ""
    return rendered("answer.html", page=shown, cited=cited, day=shown.day, face=face)


def rendered(template: str, **values: Any) -> str:
    """Return a template of this package, filled in."""
    return _environment().get_template(template).render(values)


def today() -> str:
    """Return the day it is, as `2026-01-31`."""
    from datetime import date

    return date.today().isoformat()


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("abluent.shell.pages"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=shown,
        trim_blocks=True,
    )
    environment.filters["anchor"] = anchor
    return environment


def shown(value: Any) -> Any:
    """Return a value as it is shown: markup as it is, text with all of it in sight."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return visible(value, keep="\n\t")
    return value


def anchor(text: str) -> str:
    """Return a name by which a link can point to `text`, and no other text has."""
    return "".join(c if c.isascii() and c.isalnum() else f"-{ord(c):x}-" for c in text)
