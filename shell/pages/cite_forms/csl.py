"""A list as CSL-JSON, which reference managers read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from collections.abc import Sequence

    from abluent.engine.questions.answers.answer import Answer


FORM = Form("csl", (".json",), "for a reference manager")


def written(answers: Sequence[Answer]) -> str:
    """Return the works that some answers rest on."""
    from abluent.shell.pages.cited_forms import as_csl
    from abluent.shell.pages.cited_works import works_of

    return as_csl(works_of(answers))
