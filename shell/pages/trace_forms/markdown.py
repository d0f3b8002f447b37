"""A trace as a page in Markdown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer


FORM = Form("markdown", (".md", ".markdown"), "for a page")


def written(answer: Answer, question: str) -> str:
    """Return every trace of an answer as a page."""
    from abluent.engine.questions.answers.explained import united
    from abluent.engine.trace.answer import reasons
    from abluent.shell.pages.markdown import Summary, trace_markdown

    summary = Summary(
        [answer.sentence],
        united(row.reasons for row in answer.rows),
        [*answer.notes, *united(row.caveats for row in answer.rows)],
        [(each.head, each.items) for each in answer.findings],
    )
    found = reasons(answer, question)
    return "\n".join(trace_markdown(trace, summary) for trace in found)
