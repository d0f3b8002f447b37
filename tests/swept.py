"""What a judged catalogue comes to, asked by a session without a shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.engine.sweep.over import Count, Over
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck


def over(database: Duck, question: str) -> Count:
    """What the tables of a catalogue answer."""
    session = Session(Shelf("none", ()), taught=False)
    with session.speaking():
        return Over(database, session.world).answer(parse_query(question))
