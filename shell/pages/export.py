"""An answer as a file: a page for people, or data for another program."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.explained import united
from abluent.engine.trace.answer import traces
from abluent.shell.ground.extras import needing

Traces = Sequence[Mapping[str, Any]]


def exported(answer: Answer, form: str, question: str) -> str:
    """Return an answer as text in one of the forms; see `Session.export_trace`."""
    known = _ENDINGS.get(form.casefold(), form.casefold())
    if known == "html":
        from abluent.shell.pages.html import answer_html

        # A page has something to say of an answer without reasons, too.
        return answer_html(answer, question)
    if known not in _FORMS:
        raise CommandError(
            Problem(
                f'"{form}" is no form of a trace',
                hint="a trace ends in .md or .html for a page, .json to be checked, "
                ".ttl or .jsonld for RDF",
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
    return _FORMS[known](answer, found)


def _markdown(answer: Answer, found: Traces) -> str:
    from abluent.shell.pages.markdown import Summary, trace_markdown

    summary = Summary(
        [answer.sentence],
        united(row.reasons for row in answer.rows),
        [*answer.notes, *united(row.caveats for row in answer.rows)],
        [(each.head, each.items) for each in answer.findings],
    )
    return "\n".join(trace_markdown(trace, summary) for trace in found)


def _json(answer: Answer, found: Traces) -> str:
    return "".join(json.dumps(trace) + "\n" for trace in found)


def _turtle(answer: Answer, found: Traces) -> str:
    from abluent.engine.trace.provenance import turtle

    with needing("a trace as Turtle"):
        return turtle(found)


def _json_ld(answer: Answer, found: Traces) -> str:
    from abluent.engine.trace.provenance import json_ld

    with needing("a trace as JSON-LD"):
        return json_ld(found)


_FORMS: dict[str, Callable[[Answer, Traces], str]] = {
    "markdown": _markdown,
    "json": _json,
    "turtle": _turtle,
    "json-ld": _json_ld,
}
FORMS = (*_FORMS, "html")
"""The names of the forms, as `--format` takes them."""

_ENDINGS = {
    ".md": "markdown",
    ".markdown": "markdown",
    ".json": "json",
    ".jsonl": "json",
    ".html": "html",
    ".htm": "html",
    ".ttl": "turtle",
    ".jsonld": "json-ld",
}
