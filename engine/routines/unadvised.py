"""What nobody is advised to take or to buy, though it may be at hand."""

from __future__ import annotations

from abluent.engine.base.contract import MAY_ACT, NEVER_ADVISED
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case


def never_bought(agent: str, base: Base) -> bool:
    """Whether nobody is advised to buy a wash that rests on an agent."""
    return any(base.record(c).truth(NEVER_ADVISED) for c in base.classes_of(agent))


def unadvised(case: Case, wash: str) -> bool:
    """Whether a wash at hand rests on nothing but such agents."""
    base, water = case.world.base, case.world.known.water_symbol
    acting = [
        str(agent)
        for _, agent in case.model.match(MAY_ACT, (case.world.symbol(wash), None))
        if agent != water
    ]
    return bool(acting) and all(never_bought(agent, base) for agent in acting)
