"""Real answers to forge: their traces, and the base for any forgery of them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from abluent.engine.proof.encode import term_from
from abluent.engine.proof.sentences import Sentences
from abluent.engine.trace.answer import traces
from abluent.shell.session.session import Session

from fuzz.tables import Case

QUESTIONS = (
    'what does "Harbour Cream" leave',
    'what does "Gullwing Silk Wash" leave over repeated washes',
    'what does "Kelp Line Curl Cream" contain',
    'what does "Harbour Cream" contain above 1 %',
    'does "Harbour Cream" contain anything named "*cone"',
    'does "Saltpan Rinse" clear hard-water minerals',
    "does water clear lime soap",
    'does water clear everything from "Headland Gel"',
    'is "Dimethicone" a silicone',
    'suppose "Harbour Cream" had no "Dimethicone": what does "Harbour Cream" leave',
)
ASKED_AGAIN = (
    "the question is another",
    "the question is understood otherwise",
    "a supposition is slipped in",
    "a line is supposed away",
)
"""What changes the question or what it is asked of, so that it is asked again."""


def cases() -> Iterator[Case]:
    """The first trace of each answer."""
    session = Session.open()
    for question in QUESTIONS:
        made = traces(session.ask(question), question)
        for trace in made[:1]:
            yield _Answer(session, as_read(trace)).case(question)


class _Answer:
    def __init__(self, session: Session, true: Any) -> None:
        self._session, self._true = session, true
        self._base = as_read(session.base_for(true))
        self._base["names"] = _Names(session)
        self._again: dict[str, Any] = {}

    def case(self, name: str) -> Case:
        return Case(name, self._true, self._base_for)

    def _base_for(self, forgery: Any, kind: str) -> Any:
        """The base as it is made for a forgery, or the same without the work."""
        if kind not in ASKED_AGAIN:
            return self._base
        parts = [forgery[part] for part in ("question", "canonical", "supposed")]
        key = json.dumps(parts)
        if key not in self._again:
            self._again[key] = as_read(self._session.base_for(forgery))
        return self._again[key]


class _Names(dict[str, str]):
    """How the base writes a term, whichever is asked for."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        world = session.world
        self._words = Sentences(world.program, world.known.phrases)

    def get(self, key: str, default: Any = None) -> Any:
        if key not in self:
            data, how = json.loads(key)
            term = None if data is None else term_from(data)
            self[key] = self._words.term(term, how)
        return self[key]


def as_read(data: Any) -> Any:
    """Data as it is after it was written to a file and read again."""
    return json.loads(json.dumps(data))
