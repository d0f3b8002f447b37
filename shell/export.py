"""An answer as a file: Markdown for review, or JSON for the checker."""

from __future__ import annotations

import json

from abluent.engine.answers import Answer
from abluent.engine.explained import united
from abluent.shell.errors import CommandError, Problem
from abluent.shell.trace_markdown import Summary, trace_markdown
from abluent.shell.tracing import traces

_FORMS = {
    "markdown": "markdown",
    ".md": "markdown",
    ".markdown": "markdown",
    "json": "json",
    ".json": "json",
    ".jsonl": "json",
}


def exported(answer: Answer, form: str, question: str) -> str:
    """Return an answer as text in one of the forms; see `Session.export_trace`."""
    known = _FORMS.get(form.casefold())
    if known is None:
        raise CommandError(
            Problem(
                f'"{form}" is no form of a trace',
                hint="a trace ends in .md for a page or .json to be checked",
            )
        )
    found = traces(answer, question)
    if not found:
        raise CommandError(
            Problem(
                "this answer rests on no reasons that could be traced",
                excerpt=answer.query,
                caret=(0, len(answer.query)),
                hint="ask what a product leaves or what a wash clears",
            )
        )
    if known == "json":
        return "".join(json.dumps(trace) + "\n" for trace in found)
    summary = Summary(
        [answer.sentence],
        united(row.reasons for row in answer.rows),
        [*answer.notes, *united(row.caveats for row in answer.rows)],
    )
    return "\n".join(trace_markdown(trace, summary) for trace in found)
