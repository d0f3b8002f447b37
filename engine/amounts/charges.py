"""Whether charges may meet on a label; asked of every wash, and most have one only."""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.base import contract as c
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact


def has_both_charges(facts: Iterable[Fact], base: Base) -> bool:
    """Whether a label lists something of either charge, so that they may meet."""
    facts = tuple(facts)
    listed = [str(f.args[2]) for f in facts if f.predicate == c.LINE]
    opposed = {*base.terms(Role.NEGATIVE), *base.terms(Role.POSITIVE)}
    charge = "".join(base.terms(Role.CHARGE))
    signs = {base.record(each).link(charge) for each in listed if each in base}
    signs |= {str(f.args[1]) for f in facts if f.predicate == charge}
    return len(opposed) > 1 and signs >= opposed
