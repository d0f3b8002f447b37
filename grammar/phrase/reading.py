"""What a line is read as: exact questions, and what each leaves aside."""

from __future__ import annotations

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in
from abluent.grammar.query.printer import print_query

LONGEST = 1_500
"""How many letters are read of one saying."""


class Reading(Record):
    """One exact question that a saying can mean.

    `unread` are the stretches of the text that it leaves aside, `mended` those that
    were read as slips or as something wider; `share` is how much
    of what matters it takes, from 0 to 1; `sure` tells that nothing speaks against it.
    `taken` are words that stand for what a label shows, each with that; `unused` is
    what was said besides, as typed, that bears on nothing asked.
    `premise` tells that it was not asked but said to be so.
    """

    query: q.Query
    question: str
    unread: tuple[Span, ...]
    mended: tuple[Span, ...]
    share: float
    sure: bool
    taken: tuple[tuple[str, str], ...] = ()
    used: frozenset[int] = frozenset()
    doubt: float = 0.0
    unused: tuple[str, ...] = ()
    premise: bool = False


class Heard(Record):
    """What a saying comes to: readings, best first, or why there is none.

    `unsettled` is what is to be said of a matter that nothing here settles. The first
    `parts` of the readings are asked one after the other, and make up the text
    together; there are none where one question is all that is asked. `aside` are
    the names that no reading speaks of; `said` is what the text only says, and no
    reading asks.
    """

    readings: tuple[Reading, ...]
    unsettled: str = ""
    parts: int = 0
    aside: tuple[Span, ...] = ()
    said: tuple[Span, ...] = ()


def printed(query: q.Query) -> str:
    """A question as text; empty if it would not be read as the same again."""
    try:
        text = print_query(query)
    except ValueError:
        return ""
    return text if query_in(text) == query else ""
