"""Whether a thing is as a question says: three-valued, with the rows that say so.

A `Judge` looks at many things at once, because the verdicts on twenty washes come
from one case. True and False are concluded; None is where the evidence leaves it
open. Each group of verbs has a module of its own; here is who judges by which.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import Any, TypeAlias

from abluent.engine.questions.verbs.contents import Contents
from abluent.engine.questions.verbs.contrasts import Contrasts
from abluent.engine.questions.verbs.deposits import Deposits
from abluent.engine.questions.verbs.hidden import Hidden
from abluent.engine.questions.verbs.identity import Identity
from abluent.engine.questions.verbs.judgement import (
    Judgements,
    all_of,
    any_of,
    negated,
)
from abluent.engine.questions.verbs.likeness import Likeness
from abluent.engine.questions.verbs.mildness import Mildness
from abluent.engine.questions.verbs.packs import Packs
from abluent.engine.questions.verbs.places import Places
from abluent.engine.questions.verbs.removal import Removal, is_no_wash
from abluent.engine.questions.verbs.strength import Strength
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.verbs.undergoing import Undergoing
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified

_Way: TypeAlias = Callable[[Sequence[Item], Any], Judgements]


class Judge:
    """Judges things of one world by the predicates of the query language.

    Attributes:
        terms: what the terms of the question stand for.
        removal: what washes do.
        mildness: which wash is milder.
        strength: which wash takes more.
        contrasts: which wash, and which film, is set above another.
        packs: what packs say.
    """

    def __init__(self, nouns: Nouns, last: Sequence[Item] = ()) -> None:
        self.nouns = nouns
        self.world = nouns.world
        self.terms = Terms(nouns, last, self.judge)
        self.removal = Removal(self.terms)
        self.mildness = Mildness(self.terms, self.removal)
        self.strength = Strength(self.terms, self.removal)
        self.contrasts = Contrasts(self.terms, self.removal)
        self.packs = Packs(self.terms, self.judge)

    def judge(self, items: Sequence[Item], said: q.Predicate) -> Judgements:
        """Judge each of some things by one predicate."""
        if is_no_wash(said, self.nouns):
            return self.removal.needs_no_wash(items)
        plain = simplified(said)
        return self._ways[type(plain)](items, plain)

    @cached_property
    def _ways(self) -> Mapping[type[q.Node], _Way]:
        identity = Identity(self.terms)
        contrasts = self.contrasts
        return {
            q.Clears: self.removal.clears,
            q.Suffices: self.removal.suffices,
            q.Undergoes: Undergoing(self.terms, self.removal).undergoes,
            q.Needs: self.removal.needs,
            q.Leaves: Deposits(self.terms).leaves,
            q.Contains: Contents(self.terms).contains,
            q.Hides: Hidden(self.terms).hides,
            q.Differs: self._differs,
            q.Stays: self.removal.stays,
            q.Outdoes: contrasts.outdoes,
            q.Resists: contrasts.resists,
            q.Shifts: contrasts.shifts,
            q.Says: self.packs.says,
            q.Resembles: Likeness(self.terms).resembles,
            q.Precedes: Places(self.terms).precedes,
            q.Is: identity.is_a,
            q.Named: identity.named,
            q.Among: identity.among,
            q.Not: self._not,
            q.Both: self._joined,
            q.Either: self._joined,
        }

    def _differs(self, items: Sequence[Item], said: q.Differs) -> Judgements:
        strong = said.strength is q.Strength.STRONGER
        return (self.strength if strong else self.mildness).differs(items, said)

    def _not(self, items: Sequence[Item], said: q.Not) -> Judgements:
        return {i: negated(j) for i, j in self.judge(items, said.part).items()}

    def _joined(self, items: Sequence[Item], said: q.Both | q.Either) -> Judgements:
        parts = [self.judge(items, part) for part in said.parts]
        join = all_of if isinstance(said, q.Both) else any_of
        return {item: join([part[item] for part in parts]) for item in items}
