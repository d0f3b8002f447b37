"""A case: one question's facts, and all that follows from them.

A question does not evaluate the whole world. `Case.of` takes the products and films in
question, gathers the facts about them and everything they consist of, and hands these
to the reasoner. Of very many washes the facts come without their grounds at first:
what follows is the same, and the grounds are there once a proof is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import Any, cast

from abluent.engine.base.contract import ASKS_FILM, ASKS_FROM, ASKS_WASH, TYPE
from abluent.engine.base.phrases import NAME, product_symbol
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.reasoner import Model
from abluent.engine.proof.proofs import Prover
from abluent.engine.questions.world.known import ASKED, WATER
from abluent.engine.questions.world.world import World

_BASIS = frozenset({"source", "standing", "fromMemory"})
"""What a statement of the base says of itself and not of what it is about."""

MANY = 100
"""Of how many washes a question is asked before labels are seen at a glance.

What is listed or left alone is shown with its grounds, so every label is read."""


class Case:
    """One question's facts and all that follows from them.

    Args:
        world: the world it is asked in.
        facts: what it asks, and what the labels in question say; `given` keeps them.
        like: a case that this one differs from in few facts. What was worked out
            there is used again where it still holds; the answers are the same.
    """

    at_a_glance = False
    """Whether its labels were seen without their grounds, so that a proof has to read
    every one of them first."""

    def __init__(
        self, world: World, facts: Sequence[Fact], like: Case | None = None
    ) -> None:
        self.world = world
        self.given = tuple(facts)
        self.own = tuple(self._with(facts))
        shared = world.known.shared
        self.model: Model = (
            shared.extended(self.own)
            if like is None or like.world.known.shared is not shared
            else self._revised(like)
        )

    @classmethod
    def of(  # noqa: PLR0913 - each is a part of one question
        cls,
        world: World,
        washes: Iterable[str] = (),
        films: Iterable[str] = (),
        sources: Iterable[str] = (),
        *,
        stated: Iterable[str] = (),
        more: Iterable[Fact] = (),
    ) -> Case:
        """Bring together all that bears on some washes and films.

        Args:
            world: the world it is asked in.
            washes: names of products used to wash; `water` is water alone.
            films: symbols of film-formers, whatever left them.
            sources: names of products whose films are in question.
            stated: under what conditions, in words of the base; they stand above
                those of the shelf.
            more: further facts, such as those of a supposition.

        Raises:
            KeyError: no product of the shelf is called that.
            ConditionError: a word states no condition, or two exclude one another.
        """
        washes, films, sources = list(washes), list(films), list(sources)
        asked = (
            *(Fact(ASKS_WASH, (world.symbol(name),), ASKED) for name in washes),
            *(Fact(ASKS_FILM, (film,), ASKED) for film in films),
            *(Fact(ASKS_FROM, (product_symbol(name),), ASKED) for name in sources),
            *world.circumstances(stated),
            *more,
        )
        said = [*asked, *facts_named(world, films)]

        def whole() -> Case:
            return cls(world, [*said, *_on_labels(world, washes, films, sources)])

        if world.cases is None:
            if len(washes) > MANY and world.can_glance:
                return Glanced(world, said, washes, sources, whole)
            return whole()
        facts = [*said, *_on_labels(world, washes, films, sources)]
        case = cls(world, facts, world.cases.get(asked))
        world.cases.setdefault(asked, case)
        return case

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All that is asserted in it: what every question needs, and its own."""
        return (*self.world.known.common, *self.own)

    def _revised(self, like: Case) -> Model:
        """The model of another case, changed to the facts of this one."""
        old, new = dict.fromkeys(like.own), dict.fromkeys(self.own)
        added = [fact for fact in new if fact not in old]
        return like.model.revise(added, [fact for fact in old if fact not in new])

    @cached_property
    def prover(self) -> Prover:
        """Finds the best proofs of this case, and keeps what it finds."""
        return Prover(self.model, self.world.known.shared.prover)

    def _with(self, facts: Sequence[Fact]) -> Iterator[Fact]:
        """The facts given, and those of the base about every ingredient in them."""
        yield from facts
        known = self.world.known
        named = dict.fromkeys([known.water_symbol, *known.unlisted_films])
        inside = known.ingredients
        named |= dict.fromkeys(str(t) for f in facts for t in f.args if t in inside)
        grades = [g for s in named for g in known.base.record(s).links("coversGrade")]
        retyped = self.world.labels.retyped
        for fact in known.base.facts_about([*named, *grades]):
            if fact.predicate in _BASIS:
                continue
            if not (fact.predicate == TYPE and fact.args[0] in retyped):
                yield fact
        yield from (fact for symbol, fact in retyped.items() if symbol in named)


class Glanced(Case):
    """A case of very many products, whose facts have no grounds until they need them.

    Args:
        world: the world it is asked in.
        said: what is asked, and under what conditions.
        washes: names of products used to wash.
        sources: names of products whose films are in question.
        whole: makes the same case with the grounds of its facts.
    """

    at_a_glance = True

    def __init__(
        self,
        world: World,
        said: Sequence[Fact],
        washes: Sequence[str],
        sources: Sequence[str],
        whole: Callable[[], Case],
    ) -> None:
        self.world = world
        self._whole = whole

        def model() -> Model:
            facts = self._with([*said, *_seen(world, washes, sources)])
            return world.known.shared.extended(tuple(facts))

        # Few questions are about so many washes.
        from abluent.engine.questions.world import outcomes  # noqa: PLC0415

        names = [*washes, "", *sources]
        found = outcomes.outcome(world, said, names, model)
        self.model = model() if found is None else cast("Model", found)

    def __getattr__(self, name: str) -> Any:
        """What needs grounds, and is not there before these are."""
        if name not in {"given", "own"}:
            raise AttributeError(name)
        case = self._whole()
        self.given, self.own, self.model = case.given, case.own, case.model
        return self.__dict__[name]

    @cached_property
    def prover(self) -> Prover:
        """Finds the best proofs of this case, and keeps what it finds."""
        assert self.own is not None, "the model has its grounds from here on"
        return Prover(self.model, self.world.known.shared.prover)


def _seen(
    world: World, washes: Sequence[str], sources: Sequence[str]
) -> Iterator[Fact]:
    """What the labels in question say, and the balances of washes, at a glance."""
    washed = [name for name in dict.fromkeys(washes) if name != WATER]
    others = [name for name in dict.fromkeys(sources) if name not in {*washed, WATER}]
    for names, balance in ((washed, world.weighs), (others, False)):
        yield from world.glance(names, balance=balance)


def _on_labels(
    world: World, washes: Sequence[str], films: Sequence[str], sources: Sequence[str]
) -> Iterator[Fact]:
    """What the labels in question say, and how much of it there can be."""
    for name in dict.fromkeys([*washes, *sources]):
        if name != WATER:
            yield from world.read(name).facts
    weighed = [name for name in washes if name != WATER] if world.weighs else []
    for name in weighed:
        yield from world.amounts.balance(name)
    yield from world.amounts.bearing(weighed, films)


def facts_named(world: World, symbols: Iterable[str]) -> Iterator[Fact]:
    """What is known of things that are asked about by a name a label prints."""
    for each in symbols:
        read = world.labels.printed(each) if each.startswith(NAME) else None
        if read is not None:
            yield from (fact for fact in read.facts if fact.args[0] == each)
