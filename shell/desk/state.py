"""What the desk keeps while it is open: the session, answers, texts begun."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from collections.abc import Mapping
from threading import RLock
from typing import TYPE_CHECKING

from abluent.shell.shelf.drafts import Drafts

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from abluent.engine.questions.world.world import World
    from abluent.shell.session.session import Session

ANSWERS_KEPT = 24


class Desk:
    """One desk; requests take turns, as a session answers one thing at a time."""

    def __init__(self, session: Session, token: str = "") -> None:
        """Set up a desk.

        Args:
            session: what answers.
            token: what a browser must show; a random one if empty.
        """
        self.session = session
        self.token = token or secrets.token_urlsafe(24)
        self.turn = RLock()
        self.drafts = Drafts()
        self._answers: OrderedDict[tuple[object, ...], tuple[World, Answer]]
        self._answers = OrderedDict()

    def fresh(self) -> Session:
        """Return the session, on the shelf as its file is now."""
        self.session.refresh()
        return self.session

    def answer(self, question: str, under: Mapping[str, str] | None = None) -> Answer:
        """Answer a question, or return what was answered on the same shelf before.

        Args:
            question: in any words.
            under: how hair is washed, in place of what the shelf says.

        Raises:
            Unexact: it can be read in more than one way.
            GrammarError: it cannot be read.
            CommandError: a name in it stands for nothing here.
        """
        session = self.fresh()
        said = {**session.shelf.conditions, **(under or {})}
        key = (question, tuple(sorted(said.items())))
        world, answer = self._answers.get(key, (None, None))
        if answer is None or world is not session.world:
            asked = session.under(under) if under else session
            answer = asked.ask(question)
            # Kept with its world: after a change of the shelf there is another one.
            self._answers[key] = (session.world, answer)
        self._answers.move_to_end(key)
        while len(self._answers) > ANSWERS_KEPT:
            self._answers.popitem(last=False)
        return answer
