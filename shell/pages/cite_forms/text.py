"""A list for people, each work with what it was cited for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from collections.abc import Sequence

    from abluent.engine.questions.answers.answer import Answer


FORM = Form("text", (".txt",), "to be read")


def written(answers: Sequence[Answer]) -> str:
    """Return the works that some answers rest on."""
    from abluent.shell.pages.cited_forms import as_text
    from abluent.shell.pages.cited_works import works_of

    return as_text(works_of(answers))
