"""Which wash takes more of a family of films: an order for each, and none over all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.base.contract import STRENGTH_FAMILY, STRONGER_ON, TAKES_AS_MUCH
from abluent.engine.questions.answers.answer import Member, Row
from abluent.engine.questions.answers.degrees import widest
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.mildness import (
    InSteps,
    Steps,
    laid_in_steps,
    named_steps,
    of_pairs,
)
from abluent.engine.questions.verbs.removal import Removal
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q


class Strength:
    """The orders of washes by strength, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def differs(self, items: Sequence[Item], said: q.Differs) -> Judgements:
        """Whether each takes at least as much as each of some others of every family.

        It does if it is the stronger on some family and no weaker on any; it does not
        if it is the other way.
        """
        others = self._terms.items(said.object, PRODUCT)
        names = {item: self._removal.as_wash(item) for item in [*items, *others]}
        case = Case.of(self._removal.world, dict.fromkeys(names.values()))
        found = {}
        for item in items:
            pairs = [
                self._judged(case, names, item, each) for each in others if each != item
            ]
            found[item] = of_pairs(said, pairs)
        return found

    def _judged(
        self, case: Case, names: Mapping[Item, str], item: Item, other: Item
    ) -> Judged:
        one, two = (case.world.symbol(names[each]) for each in (item, other))
        every = families(case)
        for truth, pair in ((True, (one, two)), (False, (two, one))):
            goals = [(STRONGER_ON, (*pair, each)) for each in every]
            stronger = [goal for goal in goals if case.model.holds(*goal)]
            as_much = [case.model.holds(TAKES_AS_MUCH, g[1]) for g in goals]
            if stronger and all(as_much):
                rows = tuple(Member(case, item, goal) for goal in stronger)
                return Judged(truth, rows)
        some = [
            (STRONGER_ON, (*pair, each))
            for each in every
            for pair in ((one, two), (two, one))
        ]
        held = [goal for goal in some if case.model.holds(*goal)]
        return Judged(None, tuple(Member(case, item, goal) for goal in held))

    def sentence(
        self, said: q.Statement, truth: bool | None, rows: Sequence[Row]
    ) -> str:
        """Whether one wash is stronger than another, in a sentence."""
        above: dict[tuple[str, str], list[str]] = {}
        for row in rows:
            first, second, family = (str(each) for each in row.goal[1])
            above.setdefault((first, second), []).append(family)
        told = []
        for (first, second), some in above.items():
            name, base = rows[0].case.world.name, rows[0].case.world.base
            films = widest(base, some)
            told.append(f"{name(first)} is set above {name(second)} on {films}")
        if truth is not None and told:
            head = "Yes" if truth else "No: it is the other way"
            return f"{head}: {listed(told)}, at the same strength of the two."
        if told:
            return (
                f"Cannot tell over all films: {listed(told)}, at the same strength; "
                "nothing compares them on the rest."
            )
        names = [
            listed([self._terms.nouns.title(i) for i in self._terms.items(t, PRODUCT)])
            for t in (said.subject, getattr(said.predicate, "object", said.subject))
        ]
        return f"Cannot tell: nothing compares {names[0]} with {names[1]} by strength."

    def strongest(self, items: Sequence[Item], film: q.Term | None) -> list[Item]:
        """Washes by steps of strength on some films, or on all that have an order."""
        washes = [item for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, [item.key for item in washes])
        over = {item: case.world.symbol(item.key) for item in washes}
        wanted = self.families_of(film) if film is not None else families(case)
        laid = strength_steps(case, list(over.values()), wanted)
        told = [*laid.steps, laid.apart]
        rank = {wash: step for step, each in enumerate(told) for wash in each}
        return sorted(items, key=lambda i: rank[over[i]] if i in over else len(items))

    def in_steps(self, items: Sequence[Item], film: q.Term | None) -> InSteps:
        """Washes by steps of strength on some films, and those nothing compares."""
        washes = [item.key for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, washes)
        wanted = self.families_of(film) if film is not None else families(case)
        symbols = list(map(case.world.symbol, washes))
        return named_steps(case, strength_steps(case, symbols, wanted))

    def not_compared(
        self, first: Sequence[Item], rest: Sequence[Item], film: q.Term | None
    ) -> str:
        """A note on washes that may be as strong as those put first; empty if none."""
        washes = [item for item in (*first, *rest) if item.kind == PRODUCT]
        case = Case.of(self._terms.world, [item.key for item in washes])
        over = {item: case.world.symbol(item.key) for item in washes}
        wanted = self.families_of(film) if film is not None else families(case)
        pairs = set(strength_steps(case, list(over.values()), wanted).pairs)
        mine = [item for item in first if item in over]
        others = [
            other.key
            for other in rest
            if other in over
            and any((over[one], over[other]) not in pairs for one in mine)
        ]
        if not others or not mine:
            return ""
        them = "it" if len(mine) == 1 else "one of them"
        told = f"{listed(others)} may be as strong as {them}"
        return f"None is known to be stronger; {told}."

    def families_of(self, term: q.Term) -> list[str]:
        """The families of films that a term means: the narrowest that hold it all.

        Those below it, if none is as wide; none, if no order speaks of it.
        """
        world = self._terms.world
        known = families(Case(world, ()))
        kind = self._kind(term)
        if kind:
            above = [world.base.ancestors(kind)]
        else:
            films = self._terms.items(term, INGREDIENT)
            above = [frozenset(world.base.classes_of(film.key)) for film in films]
        shared = frozenset.intersection(*above) if above else frozenset()
        held = [each for each in known if each in shared]
        if held:
            depth = max(len(world.base.ancestors(each)) for each in held)
            return [e for e in held if len(world.base.ancestors(e)) == depth]
        return [each for each in known if kind in world.base.ancestors(each)]

    def _kind(self, term: q.Term) -> str | None:
        """The class of films that a term names, if it names one class."""
        if isinstance(term, q.Quantified):
            return self._kind(term.term)
        if not isinstance(term, q.Name):
            return None
        kind = self._terms.noun(term, INGREDIENT).kind
        return kind if kind and self._terms.world.base.is_class(kind) else None


def families(case: Case) -> list[str]:
    """The families of films on which there is an order of strength."""
    if STRENGTH_FAMILY not in case.world.known.program.arities:
        return []
    return sorted(str(row[0]) for row in case.model.match(STRENGTH_FAMILY, (None,)))


def strength_steps(case: Case, washes: Sequence[str], wanted: Sequence[str]) -> Steps:
    """Some washes by steps of strength, the strongest first.

    A pair compares if one takes at least as much of every family wanted and is the
    stronger on one.
    """
    place = {wash: number for number, wash in enumerate(washes)}
    as_much = _by_pair(case, TAKES_AS_MUCH, wanted)
    stronger = _by_pair(case, STRONGER_ON, wanted)
    pairs = [
        pair
        for pair in stronger
        if as_much.get(pair) == set(wanted) and place.keys() >= set(pair)
    ]
    pairs.sort(key=lambda pair: (place[pair[0]], place[pair[1]]))
    return laid_in_steps(pairs, washes)


def _by_pair(
    case: Case, predicate: str, wanted: Sequence[str]
) -> dict[tuple[str, str], set[str]]:
    found: dict[tuple[str, str], set[str]] = {}
    for family in wanted:
        for one, other, _ in case.model.match(predicate, (None, None, family)):
            found.setdefault((str(one), str(other)), set()).add(family)
    return found
