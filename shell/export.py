"""An answer as a file: Markdown for review, or JSON for the checker."""

from __future__ import annotations

import json

from abluent.engine.answers import Answer
from abluent.engine.explained import united
from abluent.shell.errors import CommandError, Problem
from abluent.shell.trace_markdown import trace_markdown
from abluent.shell.tracing import traces

_FORMS = {
    "markdown": "markdown",
    ".md": "markdown",
    ".markdown": "markdown",
    "json": "json",
    ".json": "json",
    ".jsonl": "json",
}


def exported(answer: Answer, form: str) -> str:
    """Return an answer as text in one of the forms; see `Session.export_trace`."""
    known = _FORMS.get(form.casefold())
    if known is None:
        raise CommandError(
            Problem(
                f'"{form}" is no form of a trace',
                hint="a trace ends in .md for a page or .json to be checked",
            )
        )
    found = traces(answer)
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
    caveats = united(row.caveats for row in answer.rows)
    return "\n".join(
        trace_markdown(trace, [answer.sentence], [*answer.notes, *caveats])
        for trace in found
    )
