"""Traces as RDF, in Turtle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer


FORM = Form("turtle", (".ttl",), "for RDF")


def written(answer: Answer, question: str) -> str:
    """Return every trace of an answer as one graph."""
    from abluent.engine.trace.answer import reasons
    from abluent.engine.trace.provenance import turtle
    from abluent.shell.ground.extras import needing

    found = reasons(answer, question)
    with needing("a trace as Turtle"):
        return turtle(found)
