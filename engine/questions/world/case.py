"""A case: one question's facts, and all that follows from them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from abluent.engine.base.contract import TYPE
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.reasoner import Model
from abluent.engine.proof.proofs import Prover

if TYPE_CHECKING:
    from abluent.engine.questions.world.world import World


class Case:
    """One question's facts and all that follows from them.

    Args:
        world: the world it is asked in.
        facts: what it asks, and what the labels in question say.
        like: a case that this one differs from in few facts. What was worked out
            there is used again where it still holds; the answers are the same.
    """

    def __init__(
        self, world: World, facts: Sequence[Fact], like: Case | None = None
    ) -> None:
        self.world = world
        self.own = tuple(self._with(facts))
        self.model: Model = (
            world.shared.extended(self.own)
            if like is None or like.world.shared is not world.shared
            else self._revised(like)
        )

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All that is asserted in it: what every question needs, and its own."""
        return (*self.world.common, *self.own)

    def _revised(self, like: Case) -> Model:
        """The model of another case, changed to the facts of this one."""
        old, new = dict.fromkeys(like.own), dict.fromkeys(self.own)
        added = [fact for fact in new if fact not in old]
        return like.model.revise(added, [fact for fact in old if fact not in new])

    @cached_property
    def prover(self) -> Prover:
        """Finds the best proofs of this case, and keeps what it finds."""
        return Prover(self.model)

    def _with(self, facts: Sequence[Fact]) -> Iterator[Fact]:
        """The facts given, and those of the base about every ingredient in them."""
        yield from facts
        known = self.world.ingredients
        named = dict.fromkeys([self.world.water_symbol, *self.world.unlisted_films])
        named |= dict.fromkeys(str(t) for f in facts for t in f.args if t in known)
        base = self.world.base
        grades = [g for s in named for g in base.record(s).links("coversGrade")]
        retyped = self.world.retyped
        for fact in base.facts_about([*named, *grades]):
            if not (fact.predicate == TYPE and fact.args[0] in retyped):
                yield fact
        yield from (fact for symbol, fact in retyped.items() if symbol in named)
