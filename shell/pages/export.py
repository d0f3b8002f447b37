"""An answer as a file: a page for people, or data for another program."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Forms, forms_in, writer_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from abluent.engine.questions.answers.answer import Answer

_TRACES = "abluent.shell.pages.trace_forms"
_CITED = "abluent.shell.pages.cite_forms"


def trace_forms() -> Forms:
    """Return the forms of a trace."""
    return forms_in(_TRACES, "a trace")


def cite_forms() -> Forms:
    """Return the forms of a list of works."""
    return forms_in(_CITED, "a list of works")


def exported(answer: Answer, form: str, question: str) -> str:
    """Return an answer as text in one of the forms; see `Session.export_trace`."""
    text: str = writer_of(trace_forms().find(form), _TRACES).written(answer, question)
    return text


def cited(answers: Sequence[Answer], form: str) -> str:
    """Return the works that answers rest on, in one of the forms.

    Raises:
        CommandError: there is no such form.
    """
    text: str = writer_of(cite_forms().find(form), _CITED).written(answers)
    return text
