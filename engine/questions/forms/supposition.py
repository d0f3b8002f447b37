"""What if a label were otherwise: the world with some changes made to it.

A change touches facts only: lines are taken off a label, put on it, or moved. What
is supposed is asserted by the supposition, and a proof that rests on it says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from abluent.engine.base.contract import (
    KIND,
    LINE,
    OUT_OF_ORDER,
    STATED,
    STATED_AT_MOST,
    TYPE,
)
from abluent.engine.base.phrases import product_symbol
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term, interval, number
from abluent.engine.proof.origins import SUPPOSITION
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.engine.reading.label_order import lines, places, renumbered
from abluent.grammar.query import tree as q

SUPPOSED = Basis(origin=SUPPOSITION)


def supposed(judge: Judge, changes: Iterable[q.Change]) -> World:
    """The world with changes made to it, one after the other.

    Raises:
        UnknownName: a name in a change stands for nothing.
        Unanswerable: a change cannot be made to such a thing.
    """
    world = judge.world
    for change in changes:
        now = Judge(Nouns(world, judge.nouns.sets), judge.terms.last)
        match change:
            case q.Without():
                world = _without(now, change)
            case q.With():
                world = _with(now, change)
            case q.Become():
                world = _become(now, change)
    return world


def _products(judge: Judge, term: q.Term) -> list[str]:
    found = judge.terms.items(term, PRODUCT)
    names = [item.key for item in found if item.kind == PRODUCT]
    if not names:
        raise Unanswerable("only the label of a product can be changed", term.span)
    return names


def _without(judge: Judge, change: q.Without) -> World:
    gone = {item.key for item in judge.terms.items(change.ingredient, INGREDIENT)}
    world = judge.world
    for name in _products(judge, change.product):
        facts = world.read(name).facts
        kept = [f for f in facts if not (f.predicate == LINE and f.args[2] in gone)]
        world = world.with_facts(name, kept)
    return world


def _with(judge: Judge, change: q.With) -> World:
    world = judge.world
    added = [item.key for item in judge.terms.items(change.ingredient, INGREDIENT)]
    if len(added) != 1:
        raise Unanswerable("one ingredient at a time can be added", change.span)
    for name in _products(judge, change.product):
        facts = world.read(name).facts
        made = _placed(product_symbol(name), facts, added[0], change)
        world = world.with_facts(name, made)
    return world


def _placed(
    product: str, facts: Sequence[Fact], symbol: str, change: q.With
) -> list[Fact]:
    """The facts of a label with an ingredient put at its place.

    What the label says of the ingredient goes with it where it stays, but for the
    figure that is supposed to be another; where it is moved nothing of this is kept.
    Put on the label without a place, it stands last and proves no order.
    """
    old = sorted(place for place, listed in lines(facts) if listed == symbol)
    every = places(facts)
    if old and change.place is None:
        made, at = list(facts), old[0]
    else:
        order: list[int | None] = [each for each in every if each not in old]
        order.insert((change.place or len(order) + 1) - 1, None)
        numbers = {each: n for n, each in enumerate(order, 1) if each is not None}
        made, at = renumbered(facts, numbers), order.index(None) + 1
        made.append(Fact(LINE, (product, at, symbol), SUPPOSED))
        if change.place is None:
            made.append(Fact(OUT_OF_ORDER, (product, at), SUPPOSED))
    if change.level is not None:
        figures = {STATED, STATED_AT_MOST}
        made = [f for f in made if not (f.predicate in figures and f.args[1] == at)]
        made.append(Fact(STATED, (product, at, _level(change.level)), SUPPOSED))
    return made


def _level(level: q.Level) -> Term:
    low = None if level.low is None else number(Fraction(level.low))
    high = None if level.high is None else number(Fraction(level.high))
    return interval(low, high, level.open_ended, level.open_ended)


def _become(judge: Judge, change: q.Become) -> World:
    world = judge.world
    for item in judge.terms.items(change.subject, PRODUCT):
        if item.kind == PRODUCT:
            world = _sold_as(judge, world, item, change)
        else:
            world = _of_class(judge, world, item, change)
    return world


def _sold_as(judge: Judge, world: World, item: Item, change: q.Become) -> World:
    kind = _named(judge, change, PRODUCT)
    facts = [f for f in world.read(item.key).facts if f.predicate != KIND]
    made = Fact(KIND, (product_symbol(item.key), kind), SUPPOSED)
    return world.with_facts(item.key, [*facts, made])


def _of_class(judge: Judge, world: World, item: Item, change: q.Become) -> World:
    kind = _named(judge, change, INGREDIENT)
    return world.with_type(item.key, Fact(TYPE, (item.key, kind), SUPPOSED))


def _named(judge: Judge, change: q.Become, place: str) -> str:
    if not isinstance(change.kind, q.Name):
        raise Unanswerable("it can become one kind of thing", change.span)
    kind = judge.terms.noun(change.kind, place).kind
    if not kind:
        raise Unanswerable(
            f"`{change.kind.text}` is no kind of thing", change.kind.span
        )
    return kind
