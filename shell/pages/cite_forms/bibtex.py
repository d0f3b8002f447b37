"""A list as BibTeX."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from collections.abc import Sequence

    from abluent.engine.questions.answers.answer import Answer


FORM = Form("bibtex", (".bib",), "for a reference manager")


def written(answers: Sequence[Answer]) -> str:
    """Return the works that some answers rest on."""
    from abluent.shell.ground.extras import needing
    from abluent.shell.pages.cited_forms import as_bibtex
    from abluent.shell.pages.cited_works import works_of

    with needing("a list as BibTeX"):
        return as_bibtex(works_of(answers))
