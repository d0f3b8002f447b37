"""A caption for a picture or a post: the answer, how it stands, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import united
from abluent.engine.questions.answers.rows import all_rows, standing
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import without_head
from abluent.grammar.common.text import one_line
from abluent.shell.pages.cited_works import cited_works

MOST_CAVEATS = 4


def caption(answer: Answer, day: str) -> str:
    """Return a caption in plain language, with its cautions and sources.

    Args:
        answer: the answer.
        day: the day to print, as `2026-01-31`.
    """
    return "\n\n".join(map(one_line, _paragraphs(answer, day))) + "\n"


def _paragraphs(answer: Answer, day: str) -> Iterator[str]:
    rows = list(all_rows(answer))
    yield without_head(answer.sentence)  # Under a picture nobody asked.
    stands = list(dict.fromkeys(filter(None, map(standing, rows))))
    if stands:
        yield f"How sure is that? It stands as {' or '.join(stands)}."
    if any(isinstance(row, Verdict) and row.disputed for row in rows):
        yield "Sources of equal rank disagree on it."
    caveats = united(row.caveats for row in rows)
    if caveats:
        yield f"What limits it: {' '.join(caveats[:MOST_CAVEATS])}"
    minded = cautions(rows)
    if minded:
        yield f"Mind: {' '.join(minded)}"
    works = cited_works(rows)
    if works:
        cited = " ".join(f"{work.citation.rstrip('.')}." for work in works)
        yield f"Sources: {cited}"
    yield f"Worked out by Abluent from the names on the label, {day}."
