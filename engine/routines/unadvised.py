"""What nobody is advised to take or to buy, though it may be at hand."""

from __future__ import annotations

from abluent.engine.base.contract import MAY_ACT
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case

ADVICE_AGAINST = "adviceAgainst"
"""The property of a class of surfactants that says why nobody is advised to buy it."""


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
