"""Facts that only say what is asked, such as what is used when."""

from __future__ import annotations

from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.origins import QUESTION

_ASKED = Basis(origin=QUESTION)


def fact(predicate: str, *args: Term) -> Fact:
    """One such fact."""
    return Fact(predicate, args, _ASKED)
