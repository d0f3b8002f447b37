"""What follows from a base and its rules alone, whatever is asked.

It is worked out as far as questions come to need it, and kept beside the base, so that
neither a second question nor a second run works it out again.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import cached_property

from abluent.engine.base import cache
from abluent.engine.base.contract import NAMED_ALONE, SETS, SETTING
from abluent.engine.base.store import Base
from abluent.engine.logic.extended import CommonModel, ExtendedModel
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.kept import KeptProofs
from abluent.engine.proof.proofs import Prover
from abluent.engine.questions.world.settings import named_alone, setting_facts

_MOST_WRITTEN = 20
"""How often one run writes what it worked out; each time is for a new kind of question
or for much larger labels."""


class Common:
    """The model of the facts that every question needs.

    Args:
        base: the base.
        program: its rules.
        apart: the symbols whose facts are not common.
    """

    def __init__(self, base: Base, program: Program, apart: Collection[str]) -> None:
        self._base, self._program, self._apart = base, program, apart
        self.model = CommonModel(program, lambda: self.facts, self._find)
        self._cached: cache.Cached | None = None
        self._kept_proofs: cache.Cached | None = None
        self._written = 0
        if base.cached is not None and program.stamps is not None:
            stamps = [program.stamps, cache.code_stamp("engine/questions")]
            self._cached = base.cached.beside("common", stamps)
            more = [*stamps, cache.code_stamp("engine/proof")]
            self._kept_proofs = base.cached.beside("proofs", more)
            found = self._cached.recall()
            if found is not None:
                model, recipes = found
                self.model.undump(model)
                program.recipes.undump(recipes)

    @cached_property
    def prover(self) -> Prover:
        """Finds the best proofs of what follows from the base alone."""
        return Prover(self.model, kept=self._proofs)

    @cached_property
    def _proofs(self) -> KeptProofs:
        kept = KeptProofs(self.model.program)
        found = self._kept_proofs.recall() if self._kept_proofs else None
        if found is not None:
            kept.undump(found)
        return kept

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """The common facts; made only where what follows from them was not kept."""
        used = self._program.arities
        general = [s for s in self._base.symbols if s not in self._apart]
        return (*self._base.facts_about(general, used), *self._settings)

    @cached_property
    def _settings(self) -> tuple[Fact, ...]:
        """The ways of washing that bounds depend on, and what they name by itself.

        Rules of another base need not know of any.
        """
        used = self._program.arities
        made = (*setting_facts(self._base), *named_alone(self._base))
        return tuple(fact for fact in made if fact.predicate in used)

    def extended(self, facts: Iterable[Fact]) -> ExtendedModel:
        """The model of the common facts and of those of one question."""
        return ExtendedModel(self.model, facts)

    def keep(self) -> None:
        """Keep what questions brought to light, if they did, for the next run."""
        recipes = self._program.recipes
        grown = self.model.has_grown or recipes.grown
        if self._cached is not None and grown and self._written < _MOST_WRITTEN:
            self._written += 1
            recipes.grown = False
            self._cached.remember((self.model.dump(), recipes.dump()))
        proofs = self.__dict__.get("_proofs")
        if self._kept_proofs is not None and proofs is not None and proofs.grown:
            self._kept_proofs.remember(proofs.dump())

    def _find(self, predicate: str, args: tuple[Term, ...]) -> tuple[Fact, ...]:
        """The assertions of a common fact, whose first term is what it is about."""
        subject = args[0] if args else None
        if predicate in (SETTING, SETS, NAMED_ALONE):
            return tuple(
                f for f in self._settings if f.predicate == predicate and f.args == args
            )
        if not isinstance(subject, str) or subject in self._apart:
            return ()
        about = self._base.facts_about([subject], {predicate})
        return tuple(fact for fact in about if fact.args == args)
