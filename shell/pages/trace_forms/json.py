"""Traces as JSON, one a line, for the checker."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from abluent.shell.ground.forms import Form

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer


FORM = Form("json", (".json", ".jsonl"), "to be checked")


def written(answer: Answer, question: str) -> str:
    """Return every trace of an answer."""
    from abluent.engine.trace.answer import reasons

    compact = json.JSONEncoder(separators=(",", ":")).encode
    return "".join(compact(trace) + "\n" for trace in reasons(answer, question))
