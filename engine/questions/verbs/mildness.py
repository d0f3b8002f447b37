"""Which wash is milder to skin: a partial order, and never a score."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple, TypeAlias

from abluent.engine.base.contract import MILDER
from abluent.engine.questions.answers.answer import Member, Row
from abluent.engine.questions.answers.degrees import (
    ALSO_DECIDES,
    alike,
    led_by,
    shared_rung,
)
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judgement import (
    Judged,
    Judgements,
    all_true,
    any_true,
)
from abluent.engine.questions.verbs.removal import Removal
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q


def of_pairs(said: q.Differs, pairs: Sequence[Judged]) -> Judged:
    """How one thing stands to some others: to each, or to some where that is asked."""
    truths = [pair.truth for pair in pairs] or [False]
    of = said.object
    some = isinstance(of, q.Quantified) and of.quantity is q.Quantity.SOME
    truth = any_true(truths) if some else all_true(truths)
    telling = [pair for pair in pairs if pair.truth is truth] if some else pairs
    return Judged(truth, tuple(row for pair in telling for row in pair.rows))


InSteps: TypeAlias = tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]
"""Steps of washes by name, and those that stand apart."""


class Mildness:
    """The order of washes by mildness, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def differs(self, items: Sequence[Item], said: q.Differs) -> Judgements:
        """Whether each is milder than each of some other washes, or harsher."""
        others = self._terms.items(said.object, PRODUCT)
        names = {item: self._removal.as_wash(item) for item in [*items, *others]}
        case = Case.of(self._removal.world, dict.fromkeys(names.values()))
        found = {}
        for item in items:
            pairs = [
                self._judged(case, names, said, item, o) for o in others if o != item
            ]
            found[item] = of_pairs(said, pairs)
        return found

    def _judged(
        self,
        case: Case,
        names: Mapping[Item, str],
        said: q.Differs,
        item: Item,
        other: Item,
    ) -> Judged:
        """Whether one wash is as said to another; false if it is the other way."""
        pair = case.world.symbol(names[item]), case.world.symbol(names[other])
        if said.strength is q.Strength.HARSHER:
            pair = pair[1], pair[0]
        for truth, goal in ((True, (MILDER, pair)), (False, (MILDER, pair[::-1]))):
            if case.model.holds(*goal):
                return Judged(truth, (Member(case, item, goal),))
        return Judged(None)

    def sentence(
        self, said: q.Statement, truth: bool | None, rows: Sequence[Row]
    ) -> str:
        """Whether one wash is milder than another, in a sentence."""
        if rows and truth is not None:
            claim = rows[0].case.world.known.sentences.claim
            told = [claim(*row.goal) for row in rows if row.goal[0] == MILDER]
            return f"{'Yes' if truth else 'No'}: {listed(list(dict.fromkeys(told)))}."
        names = [
            listed([self._terms.nouns.title(i) for i in self._terms.items(t, PRODUCT)])
            for t in (said.subject, getattr(said.predicate, "object", said.subject))
        ]
        if alike_ := self._on_one_rung(said, names):
            return alike_
        pair = " with ".join(names)
        text = f"Cannot tell: nothing compares {pair} by mildness to skin"
        return f"{text}{self._main_cleansers(said)}."

    def _on_one_rung(self, said: q.Statement, names: Sequence[str]) -> str:
        """That the order of the trade sets two washes alike; empty if it does not."""
        terms = (said.subject, getattr(said.predicate, "object", said.subject))
        items = [i for term in terms for i in self._terms.items(term, PRODUCT)]
        if len(items) != len(names):
            return ""
        washes = [self._removal.as_wash(item) for item in items]
        case = Case.of(self._removal.world, washes)
        why = shared_rung(case, *map(case.world.symbol, washes))
        if not why:
            return ""
        led = self._main_cleansers(said).removeprefix(": ")
        head = f"Cannot tell them apart: {alike(names)}"
        told = [head, led and f"{led}.", why, ALSO_DECIDES]
        return " ".join(filter(None, told))

    def _main_cleansers(self, said: q.Statement) -> str:
        """What leads each of two washes, which nothing compares."""
        terms = (said.subject, getattr(said.predicate, "object", said.subject))
        items = [i for term in terms for i in self._terms.items(term, PRODUCT)]
        washes = [item.key for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, washes)
        told = [
            f"{wash} is built on {main}"
            for wash in dict.fromkeys(washes)
            if (main := led_by(case, case.world.symbol(wash)))
        ]
        return f": {'; '.join(told)}" if len(told) > 1 else ""

    def mildest(self, items: Sequence[Item]) -> list[Item]:
        """Washes by steps of mildness, those that it compares with no other last.

        Mildness is a partial order: washes of one step keep their order.
        """
        washes = [item for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, [item.key for item in washes])
        over = {item: case.world.symbol(item.key) for item in washes}
        ranks = mildness_ranks(case, list(over.values()))
        return sorted(items, key=lambda i: ranks[over[i]] if i in over else len(items))

    def in_steps(self, items: Sequence[Item]) -> InSteps:
        """Washes by steps of mildness, and those that nothing compares."""
        washes = [item.key for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, washes)
        return named_steps(case, steps(case, list(map(case.world.symbol, washes))))


def named_steps(case: Case, laid: Steps) -> InSteps:
    """The steps of an order and what stands apart, by the names of the washes."""
    name = case.world.name
    steps = tuple(tuple(map(name, step)) for step in laid.steps if step)
    return steps, tuple(map(name, laid.apart))


def mildness_ranks(case: Case, washes: Sequence[str]) -> dict[str, int]:
    """By which step of mildness each wash is told, what compares with none last."""
    laid = steps(case, washes)
    told = [*laid.steps, laid.apart]
    return {wash: step for step, each in enumerate(told) for wash in each}


def milder_pairs(case: Case, washes: Sequence[str]) -> list[tuple[str, str]]:
    """The pairs of washes of which the first is known to be the milder."""
    place = {wash: number for number, wash in enumerate(washes)}
    rows = case.model.match(MILDER, (None, None))
    found = [(str(a), str(b)) for a, b in rows if a in place and b in place]
    return sorted(found, key=lambda pair: (place[pair[0]], place[pair[1]]))


class Steps(NamedTuple):
    """Washes by steps of an order that does not compare them all.

    Args:
        steps: the first first; each wash stands as late as what compares allows.
        apart: those that nothing compares with any other.
        pairs: the pairs that compare, the one that comes first before the other.
    """

    steps: list[list[str]]
    apart: list[str]
    pairs: list[tuple[str, str]]


def steps(case: Case, washes: Sequence[str]) -> Steps:
    """Some washes by steps of mildness, each step in the order given."""
    return laid_in_steps(milder_pairs(case, washes), washes)


def laid_in_steps(pairs: list[tuple[str, str]], washes: Sequence[str]) -> Steps:
    """Some washes by steps of an order, each as late as its pairs allow."""
    compared = {wash for pair in pairs for wash in pair}
    left = [wash for wash in washes if wash in compared]
    laid: list[list[str]] = []
    while left:
        before = {one for one, other in pairs if other in left}
        step = [wash for wash in left if wash not in before]
        if not step:  # what was taught goes round in a circle
            step = left
        laid.append(step)
        left = [wash for wash in left if wash not in step]
    return Steps(laid[::-1], [wash for wash in washes if wash not in compared], pairs)


def not_compared(world: World, first: Sequence[Item], rest: Sequence[Item]) -> str:
    """A note on washes that nothing compares with those put first; empty if none."""
    named = {i: i.key for i in (*first, *rest) if i.kind == PRODUCT}
    case = Case.of(world, dict.fromkeys(named.values()))
    symbol = case.world.symbol
    unlike: dict[tuple[str, ...], list[str]] = {}
    for other in rest:
        apart = tuple(
            one.key
            for one in first
            if one in named
            and not case.model.holds(MILDER, (symbol(one.key), symbol(other.key)))
        )
        if other in named and apart:
            unlike.setdefault(apart, []).append(other.key)
    if not unlike or not first:
        return ""
    told = [
        f"{listed(others)} may be as mild as {'it' if len(first) == 1 else listed(one)}"
        for one, others in unlike.items()
    ]
    return f"None is known to be milder; {'; '.join(told)}."


def milder_than(
    world: World, first: Sequence[Item], others: Sequence[Item]
) -> list[Item]:
    """Those of some other washes that are known to be milder than all put first."""
    washes = [item for item in (*first, *others) if item.kind == PRODUCT]
    case = Case.of(world, dict.fromkeys(item.key for item in washes))
    symbol = case.world.symbol
    return [
        other
        for other in others
        if other in washes
        and all(
            case.model.holds(MILDER, (symbol(other.key), symbol(one.key)))
            for one in first
        )
    ]
