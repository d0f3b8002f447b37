"""What a line that is no question of the language is taken for.

It is read for what it contains; where little of it was read, the question next to it
by its spelling comes first, and where nothing was, what can be asked of what it names.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from abluent.engine.questions.forms.heard import heard, nearest, resolves
from abluent.grammar.common.record import replace
from abluent.grammar.query.errors import QueryError
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.unexact import (
    LITTLE,
    Unexact,
    keeps_error,
    nearest_reading,
    sole,
)

if TYPE_CHECKING:
    from abluent.engine.questions.world.vocabulary import Vocabulary
    from abluent.grammar.phrase.reading import Heard, Reading
    from abluent.shell.routine.heard import HeardWeek


def sole_reading(text: str, error: Exception, known: Vocabulary) -> Reading:
    """Return what a line is read as, where it can mean one question only.

    Args:
        text: the line, as typed.
        error: why the language does not accept it.
        known: the names that it can mean.

    Raises:
        Unexact: it can be read, and not in one way only.
        GrammarError: the one given, where it cannot be read at all.
    """
    told = _told(error, known)
    found = _with_nearest(heard(text, known), error, told)
    week = _week(text, known)
    if not found.readings and not found.unsettled and week is None:
        if keeps_error(text, told):
            raise told
        found = nearest(text, known)
    if week is not None and _POINTS in found.unsettled:
        found = replace(found, unsettled="")  # what it points to is at hand
    one = sole(found.readings)
    if one is None or found.unsettled or _says_more(week, one):
        raise Unexact(text, found, week) from error
    return one


def _says_more(week: HeardWeek | None, one: Reading) -> bool:
    """Return whether a week says more of a line than the question that it means."""
    if week is None:
        return False
    return week.whole or bool(week.leads and (one.unused or week.timed))


def _week(text: str, known: Vocabulary) -> HeardWeek | None:
    """Return the week that a line tells, if it may tell one."""
    if not _OFTEN.search(text):
        return None
    from abluent.shell.routine.heard import hear_week

    return hear_week(text, known)


_POINTS = "`routine`"
"""What a sentence names that points to the account of a week."""

_OFTEN = re.compile(
    r"\b(?:\w*days?|\w*dai?ly|week\w*|\d*x|wks?|fortnight\w*|month\w*|times?|wash\w*|"
    r"night\w*|morning|evening|years?|mon|tue|wed|thu|fri|sat|sun)\b",
    re.IGNORECASE,
)
"""Words one of which is in every week that is told."""


def _with_nearest(found: Heard, error: Exception, told: Exception) -> Heard:
    """Return what was read, led by the nearest question if little was read."""
    near = told.nearest if isinstance(told, QueryError) else ""
    share = found.readings[0].share if found.readings else 1.0
    if not near or share >= LITTLE or found.unsettled or found.parts:
        return found
    read = (each for each in found.readings if each.question == near)
    # What was read of it tells what it leaves aside.
    first = next(read, None) or nearest_reading(near, error)
    others = [each for each in found.readings if each.question != near]
    return replace(found, readings=(first, *others[:2]))


def _told(error: Exception, known: Vocabulary) -> Exception:
    """Return an error whose offer, if it has one, can be asked here.

    What else could have stood there is kept in `could`, for who asks.
    """
    if not isinstance(error, QueryError):
        return error
    near = error.nearest
    if near and not resolves(parse_query(near), known.nouns):
        near = ""
    told = QueryError(error.message, error.text, error.span, nearest=near)
    told.could = error.expected
    return told
