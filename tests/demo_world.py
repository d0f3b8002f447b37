"""The demo shelf as a world, asked without a session.

The shelf is invented; what holds on it follows from the claims of the base.
"""

from __future__ import annotations

from functools import cache

from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    """The demo shelf in its water, loaded once."""
    shelf = demo_shelf()
    return World(Base.load(), load_rulebook(), products(shelf), shelf.water)


def answer(text: str, last: Answer | None = None) -> Answer:
    """The answer to a question; `last` is the one that it points back to."""
    return ask(parse_query(text), world(), last=last)


def names(found: Answer) -> list[str]:
    """The members of an answer by name."""
    base = world().base
    return [
        item.key if item.kind == "product" else base.label(item.key)
        for item in found.members
    ]
