"""Whether films build up with washing: `builds up`, by water and the washes at hand.

What water takes some of hardly gathers. What it leaves does, unless a wash takes some
each time: then as much comes as goes, and it levels off.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.engine.questions.verbs.as_meant import Sides, sides
from abluent.engine.questions.verbs.bearing import takes_part
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_NAMED, _FILMS, _MOST = 3, 2, 60
"""So many washes and films are named; of more films the first are judged by washes."""
_HARDLY, _SLIGHTLY, _CAN = "Hardly", "Slightly at most", "It can"
_AS_CLAIM = {
    (_HARDLY, False): "Mostly false",
    (_SLIGHTLY, False): "Mostly false",
    (_CAN, False): "Partly true",
    (_HARDLY, True): "Mostly true",
    (_SLIGHTLY, True): "Mostly true",
    (_CAN, True): "False as a rule",
}
"""How a claim is judged so far, that something builds up and that it does not."""


class Gathering(NamedTuple):
    """Whether films build up, in a sentence or two, and what washes take of them."""

    text: str
    shown: tuple[Verdict, ...]


def gathering(
    judge: Judge,
    rows: Sequence[Verdict],
    *,
    count: int,
    claimed: bool,
    denied: bool = False,
) -> Gathering | None:
    """Whether the films that water leaves build up with washing.

    Args:
        judge: of the washes at hand.
        rows: what water takes of the first of the films.
        count: how many things were looked at.
        claimed: whether it is said to be true, and not asked.
        denied: whether it is said not to build up.

    Returns:
        None where a film needs no wash, or there is no wash to judge by.
    """
    staying = [row for row in rows if not row.gone][:_MOST]
    washes = [each for each in judge.nouns.washes if each.key != WATER]
    if not staying or any(row.gone for row in rows) or not washes:
        return None
    films = [Item(INGREDIENT, film) for film in dict.fromkeys(r.film for r in staying)]
    judged = judge.removal.on_films(washes, films, q.Clears(q.Thing()))
    found = tuple(row for film in films for row in judged[film])
    if any(row.case.at_a_glance for row in found):
        return None
    told = sides(found, [wash.key for wash in washes])
    if told is None:
        return None
    head, text = _told(judge, staying, max(count, len(staying)), told)
    if claimed or denied:
        head = _AS_CLAIM[head, denied]
    return Gathering(f"{head}: {text}", found if len(films) <= _FILMS else ())


def _told(
    judge: Judge, rows: Sequence[Verdict], count: int, told: Sides
) -> tuple[str, str]:
    """Whether films build up, in a word or two, and why."""
    base = judge.world.base
    names = [base.label(row.film) for row in rows]
    films = f"all {count} looked at, such as {names[0]}" if count > _FILMS else ""
    films = films or listed(names)
    if all(map(takes_part, rows)):
        more = ""
        if told.so:
            take = "takes" if len(told.so) == 1 else "take"
            more = f", and {listed(told.so, _NAMED)} {take} some too"
        return _HARDLY, f"water alone takes some of {films}{more}, so little gathers."
    water = _by_water(rows, films)
    if told.so and not told.rest:
        each = "each of the washes here" if len(told.so) > 1 else told.so[0]
        return _SLIGHTLY, f"{water}, but {each} takes some, so it levels off."
    if not told.so:
        return _CAN, f"{water}, and no wash here is shown to take any."
    take = "takes" if len(told.so) == 1 else "take"
    level = f"{listed(told.so, _NAMED)} {take} some at each wash, so with"
    level += f" {'those' if len(told.so) > 1 else 'that one'} it levels off"
    return _CAN, f"{water}. {level}; {_others(told, count)}."


def _others(told: Sides, count: int) -> str:
    """What the washes that may leave some film whole come to."""
    take = "takes" if len(told.rest) == 1 else "take"
    them = "it alone" if len(told.rest) == 1 else "them alone"
    of = f" of {listed(told.stay, _FILMS)}" if count > 1 and told.stay else ""
    who = listed(told.rest, _NAMED)
    return f"{who} {take} at most part{of}, if any, and under {them} it can gather"


def _by_water(rows: Sequence[Verdict], films: str) -> str:
    """What water alone takes of films."""
    roles = {row.role for row in rows}
    if len(roles) > 1 or roles & {Role.OPEN, Role.AT_MOST_PARTLY}:
        return f"water alone may leave {films}"
    return f"water alone takes {TAKES[next(iter(roles))]} of {films}"
