"""What to buy where no wash at hand will do: the least, found by trying.

Tried is a wash of water and one surfactant that washes are built on and that goes by a
common name, one of each description in the base, the commonest first, but for kinds
that nobody is advised to buy; what is told was judged, and planned with.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import NamedTuple

from abluent.engine.base.contract import COUNTS_STRONG, LINE, PRIMARY_CLEANSER
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.mildness import mildness_ranks
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines import plan_problem as problems
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Film, effects, washed_as, washes_of
from abluent.engine.routines.how_often import never_bought
from abluent.engine.routines.plan import Planned, set_up
from abluent.engine.routines.plan_phrases import named_washes
from abluent.engine.routines.plan_solver import feasible
from abluent.grammar.routine import tree as ast

COMMON_NAME = "commonName"
"""The property of what goes by a common name beside its own, as common things do."""

MOST_TRIED = 60
"""How many descriptions of surfactants are tried."""

MOST_TOGETHER = 3
"""How many washes a purchase has at most."""

MOST_PLANNED = 6
"""How many purchases are planned with, to see whether they do."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """Washes to buy, after which there is a plan.

    Args:
        washes: their names, such as `Decyl Glucoside alone`.
        agents: the surfactant of each, by symbol.
        kinds: what each surfactant is, by the symbol of its narrowest class.
        films: the films they clear that nothing at hand does.
        strong: whether one of them counts as strong.
    """

    washes: tuple[str, ...]
    agents: tuple[str, ...]
    kinds: tuple[str, ...]
    films: tuple[Film, ...]
    strong: bool = False


@dataclass(frozen=True)
class Purchases:
    """What would do.

    Args:
        found: the purchases, of as few washes as possible, the mildest first.
        never: films that none of the washes tried surely clears.
        case: where it follows from.
    """

    found: tuple[Purchase, ...]
    never: tuple[Film, ...]
    case: Case


def purchases(planned: Planned, world: World) -> Purchases | None:
    """The least to buy so that a routine has a plan, some films left alone if need be.

    Nothing where no film lacks a wash.

    Args:
        planned: what came of planning it.
        world: the base and the shelf it was planned with.
    """
    lacking = planned.stuck or planned.clash[0]
    if not lacking:
        return None
    routine = planned.routine
    world = washed_as(routine, world)
    agents, wide = _candidates(world)
    for want in routine.wants:
        if isinstance(want, ast.Only):
            kept = named_washes(routine, wide, want.phrase, want.span)
            # Where a want names products of the shelf, it is no word on new ones.
            agents = {n: key for n, key in agents.items() if n in kept} or agents
    sources = dict.fromkeys(film.source for film in lacking if film.source != WATER)
    tried = effects(wide, sources, agents, routine.counting, used=planned.counted)
    assert tried.case is not None
    able = {
        name: frozenset(film for film in lacking if tried.surely(name, film))
        for name in agents
    }
    reach = frozenset().union(*able.values())
    never = tuple(film for film in lacking if film not in reach)
    sets = _least(able, reach, tried.case)
    good = _planned_with(planned, wide, sets, never)
    found = tuple(
        replace(
            _purchase(world, each, agents, able, lacking),
            strong=any(_strong(tried.case, name) for name in each),
        )
        for each in good
    )
    return Purchases(found, never, tried.case)


class Remedy(NamedTuple):
    """Washes to buy of which each surely takes a part of some films.

    Args:
        agents: the surfactant of each, by symbol, the mildest first.
        films: the films; all that can be taken, the widest covered first.
        strong: the surfactants that count as strong.
    """

    agents: tuple[str, ...]
    films: tuple[Film, ...]
    strong: frozenset[str] = frozenset()


def remedies(
    films: Sequence[Film],
    world: World,
    counting: ast.Counting,
    used: Sequence[str],
    *,
    mild: bool = False,
) -> tuple[list[Remedy], tuple[Film, ...]]:
    """What to buy for films of which no wash at hand surely takes a part.

    Args:
        films: the films.
        world: the base and the shelf, under the conditions of the routine.
        counting: how doubtful verdicts are counted.
        used: products whose films decide which washes count as strong.
        mild: whether no strong one is to be bought.

    Returns:
        The purchases, none of them strong where others do for all; and the films of
        which no surfactant tried surely takes a part.
    """
    agents, wide = _candidates(world)
    sources = dict.fromkeys(film.source for film in films if film.source != WATER)
    tried = effects(wide, sources, agents, counting, used=used)
    assert tried.case is not None
    shares = Shares(tried)
    left, found = list(films), list[Remedy]()
    listed = _listed(world)  # a wash with one of these is at hand, and does not do
    order = _order(tried.case, agents)
    harsh = {name for name in order if _strong(tried.case, name)}
    strong = frozenset(agents[name] for name in harsh)
    some = [name for name in order if name not in harsh]
    reach = [
        {f for f in films if any(shares.of(n, f).least for n in each)}
        for each in (some, order)
    ]
    order = some if mild or reach[0] == reach[1] else order
    while left:
        able = {n: [f for f in left if shares.of(n, f).least] for n in order}
        widest = max(able.values(), key=len, default=[])
        if not widest:
            break
        best = [agents[name] for name, some in able.items() if some == widest]
        best = [agent for agent in best if agent not in listed] or best
        found.append(Remedy(tuple(best), tuple(widest), strong))
        left = [film for film in left if film not in widest]
    return found, tuple(left)


def _listed(world: World) -> set[str]:
    """All that the labels of washes at hand list."""
    facts = (fact for wash in washes_of(world) for fact in world.read(wash).facts)
    return {str(fact.args[2]) for fact in facts if fact.predicate == LINE}


def _order(case: Case, agents: Iterable[str]) -> list[str]:
    """Washes in the order to tell them: those not strong first, then the mildest."""
    agents = list(agents)
    ranks = mildness_ranks(case, [product_symbol(name) for name in agents])

    def key(name: str) -> tuple[bool, int]:
        return _strong(case, name), ranks[product_symbol(name)]

    return sorted(agents, key=key)


def _strong(case: Case, name: str) -> bool:
    """Whether a wash counts as strong for what a routine leaves."""
    return case.model.holds(COUNTS_STRONG, (product_symbol(name),))


def _candidates(world: World) -> tuple[dict[str, str], World]:
    """Washes of one surfactant each, and the world that has them on its shelf."""
    judge = Judge(Nouns(world, {}))
    nouns = judge.nouns
    record = world.base.record
    every = [n for n in nouns.cleansers if not never_bought(n.key, world.base)]
    built_on = [n for n in every if record(n.key).truth(PRIMARY_CLEANSER)]
    common_ones = [n for n in built_on if record(n.key).texts(COMMON_NAME)]
    some = common_ones or built_on
    often = {each.key: len(record(each.key).texts(COMMON_NAME)) for each in some}

    def common(item: Item) -> tuple[int, int]:
        return -nouns.seen[item.key], -often.get(item.key, 0)

    known = sorted(some or every, key=common)
    alike = judge.terms.alike(known)[:MOST_TRIED]
    agents = {judge.removal.as_wash(item): item.key for item in alike}
    return agents, judge.removal.world


def _least(
    able: Mapping[str, frozenset[Film]],
    reach: frozenset[Film],
    case: Case,
) -> list[tuple[str, ...]]:
    """The fewest washes that together clear all that can be.

    Those that do not count as strong come first, then the mildest.
    """
    if not reach:
        return []
    groups: dict[frozenset[Film], list[str]] = {}
    for name in _order(case, able):
        if able[name]:
            groups.setdefault(able[name], []).append(name)
    widest = [each for each in groups if not any(each < other for other in groups)]
    for size in range(1, MOST_TOGETHER + 1):
        sets = [c for c in combinations(widest, size) if frozenset().union(*c) == reach]
        if size == 1 and sets:
            return [(name,) for name in groups[sets[0][0]]]
        if sets:
            return [tuple(groups[part][0] for part in each) for each in sets]
    return []


def _planned_with(
    planned: Planned,
    wide: World,
    sets: Sequence[tuple[str, ...]],
    never: Sequence[Film],
) -> list[tuple[str, ...]]:
    """The sets of washes after whose purchase there is a plan."""
    routine, days = planned.routine, planned.schedule
    some = sets[:MOST_PLANNED]
    bought = dict.fromkeys(name for each in some for name in each)
    hand = planned.problem.washes
    fixed = planned.counted
    done = effects(wide, fixed, [*hand, *bought], routine.counting, used=fixed)
    left = [*never, *(need.film for need in planned.late)]
    made = set_up(routine, wide, days, done, [*hand, *bought]).without(left)
    return [
        each
        for each in some
        if not problems.unclearable(made.with_washes([*hand, *each]))
        and feasible(made.with_washes([*hand, *each]))
    ]


def _purchase(
    world: World,
    washes: tuple[str, ...],
    agents: Mapping[str, str],
    able: Mapping[str, frozenset[Film]],
    lacking: Sequence[Film],
) -> Purchase:
    keys = tuple(agents[name] for name in washes)
    gained = frozenset().union(*(able[name] for name in washes))
    films = tuple(film for film in lacking if film in gained)
    return Purchase(washes, keys, tuple(_narrowest(world, k) for k in keys), films)


def _narrowest(world: World, agent: str) -> str:
    """The narrowest class of an ingredient."""
    base = world.base
    return max(base.classes_of(agent), key=lambda c: (len(base.ancestors(c)), c))
