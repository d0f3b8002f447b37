"""A trace as one page of HTML."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer


FORM = Form("html", (".html", ".htm"), "for a page")


def written(answer: Answer, question: str) -> str:
    """Return the page; it has something to say of an answer without reasons, too."""
    from abluent.shell.pages.html import answer_html

    return answer_html(answer, question)
