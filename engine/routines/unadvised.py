"""What speaks against a change: a wash that nobody is advised, or that has no like.

Nobody is advised to take or to buy some washes, though they may be at hand; and some
are used for more than cleaning, so that no other takes their place.
"""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.base.contract import LINE, MAY_ACT
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World

ADVICE_AGAINST = "adviceAgainst"
"""The property of a class of surfactants that says why nobody is advised to buy it."""

OWN_PURPOSE = "ownPurpose"
"""The property of a class of ingredients that says what a wash with one is for."""


def never_bought(agent: str, base: Base) -> str:
    """Why nobody is advised to buy a wash that rests on an agent; else empty."""
    told = (base.record(kind).text(ADVICE_AGAINST) for kind in base.classes_of(agent))
    return next(filter(None, told), "")


def unadvised(case: Case, wash: str) -> str:
    """Why nobody is advised to take a wash that rests on nothing but such agents."""
    base, water = case.world.base, case.world.known.water_symbol
    against = [
        never_bought(str(agent), base)
        for _, agent in case.model.match(MAY_ACT, (case.world.symbol(wash), None))
        if agent != water
    ]
    return against[0] if against and all(against) else ""


NO_PURPOSE_BEHIND = "noPurposeBehind"
"""The property of such a class that says as what one may stand there alone.

One that is of that class too, and stands behind another of it, is taken for no more.
"""


class Purpose(NamedTuple):
    """What a wash is for, and what in it is."""

    ingredient: str
    text: str


def purpose(world: World, wash: str) -> Purpose | None:
    """What a wash is for by what its label lists; nothing where it only cleans."""
    base, before = world.base, set[str]()
    lines = [f for f in world.read(wash).facts if f.predicate == LINE]
    for fact in lines:
        symbol = str(fact.args[2])
        kinds = {*base.classes_of(symbol)} if symbol in base else set[str]()
        behind = {
            k for kind in kinds for k in base.record(kind).links(NO_PURPOSE_BEHIND)
        }
        texts = filter(None, (base.record(kind).text(OWN_PURPOSE) for kind in kinds))
        if not behind & kinds & before and (text := next(texts, "")):
            return Purpose(base.label(symbol), text)
        before |= kinds
    return None
