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
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.wording import at_place

SUPPOSED = Basis(origin=SUPPOSITION)


def supposed(
    judge: Judge, changes: Iterable[q.Change], told: list[str] | None = None
) -> World:
    """The world with changes made to it, one after the other.

    Args:
        judge: judges in the world as it is.
        changes: the changes.
        told: takes what a reader should know of how they were made.

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
                world = _with(now, change, [] if told is None else told)
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
        left = {place for place, symbol in lines(facts) if symbol in gone}
        left -= {place for place, _ in lines(kept)}
        # The places close up, as on a label that never held it.
        closed = [place for place in places(facts) if place not in left]
        numbers = {place: n for n, place in enumerate(closed, 1)}
        world = world.with_facts(name, renumbered(kept, numbers))
    return world


def _with(judge: Judge, change: q.With, told: list[str]) -> World:
    world = judge.world
    added = [item.key for item in judge.terms.items(change.ingredient, INGREDIENT)]
    if len(added) != 1:
        raise Unanswerable("one ingredient at a time can be added", change.span)
    for name in _products(judge, change.product):
        facts = world.read(name).facts
        made = _placed(product_symbol(name), facts, added[0], change)
        if change.level is not None and _cannot_stand(judge, facts, made):
            made, place = _moved(judge, name, facts, added[0], change)
            title = judge.world.base.label(added[0])
            told.append(
                f"So much {title} cannot stand where the label of {name} has it, so "
                f"it is supposed to be number {place}."
            )
        world = world.with_facts(name, made)
    return world


def _cannot_stand(judge: Judge, before: Sequence[Fact], facts: Sequence[Fact]) -> bool:
    """Whether what a label says cannot all be so, and could before."""
    # Levels are solved for few questions.
    from abluent.engine.amounts.label_levels import LabelFacts  # noqa: PLC0415

    base = judge.world.base
    bent = len(LabelFacts(before, base).levels().set_aside)
    return len(LabelFacts(facts, base).levels().set_aside) > bent


def _moved(
    judge: Judge, name: str, facts: Sequence[Fact], symbol: str, change: q.With
) -> tuple[list[Fact], int]:
    """The label with the line at the place nearest its own where its level can stand.

    Raises:
        Unanswerable: a place was named, or the level can stand at none.
    """
    product, old = product_symbol(name), [n for n, s in lines(facts) if s == symbol]
    told = f"{judge.world.base.label(symbol)} cannot make so much of {name}"
    if change.place is not None:
        where = at_place(change.place)
        what = f"{told} {where}: the lines around it leave less or more"
        raise Unanswerable(what, change.span)
    start = old[0] if old else len(places(facts)) + 1
    for place in sorted(range(1, len(places(facts)) + 2), key=lambda n: abs(n - start)):
        made = _placed(product, facts, symbol, replace(change, place=place))
        if not _cannot_stand(judge, facts, made):
            return made, place
    raise Unanswerable(f"{told} at any place of its label", change.span)


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
        last = change.place in (None, q.LAST_PLACE)
        order.insert(len(order) if last else (change.place or 1) - 1, None)
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
