"""Captions for a picture or a post, one an answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from collections.abc import Sequence

    from abluent.engine.questions.answers.answer import Answer


FORM = Form("caption")


def written(answers: Sequence[Answer]) -> str:
    """Return what each answer says, how it stands, and what to mind."""
    from abluent.shell.pages.caption import caption
    from abluent.shell.pages.html import today

    return "\n".join(caption(answer, today()) for answer in answers)
