"""Which plan to follow, found exactly by integer programming (HiGHS, through SciPy).

A plan is chosen by wishes in order: the fewest washes that count as strong, of these
the fewest with lines that nobody understood, then the mildest where plans compare,
then the fewest films that build up or may, then the fewest different washes, then the
fewest that are not what is used now.

Two plans are compared as multisets of washes: one is milder if its washes can be
paired off with those of the other, each the same or known to be milder and one at
least milder. That is a partial order, so several plans may be such that none as good
by the wishes before is known to be milder. Each wash has a rank, the number of washes
known to be milder than it; a milder plan has a smaller sum of ranks, so a plan of the
least sum has none milder.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from itertools import product
from typing import Any, NamedTuple

from abluent.engine.routines.plan_model import (
    Caps,
    PlanModel,
    SolverError,
    is_milder,
)
from abluent.engine.routines.plan_problem import Limit, PlanProblem, Worth

MOST_TRIED = 3_000
"""Choices of washes up to which a result is checked by trying every one."""

MOST_WEIGHED = 60
"""Plans that none is milder than, up to which the best of them is looked for."""


class Mildness(StrEnum):
    """How a plan compares by mildness with all others that keep to everything."""

    SINGLE = "no other"
    """There is no other."""
    MILDEST = "mildest"
    """It is milder than every other."""
    OF_ITS_KIND = "mildest of as few strong washes"
    """It is milder than every other with as few strong washes."""
    NOT_COMPARED = "not compared"
    """None with as few strong washes is known to be milder; some do not compare."""


class Plan(NamedTuple):
    """A wash for every slot.

    Args:
        chosen: the washes, slot by slot.
        worth: what it comes to by the wishes that count something.
        proven: how it is known to be so: `solver`, or `search` where every choice was
            tried as well.
    """

    chosen: tuple[str, ...]
    worth: Worth
    proven: str

    @property
    def counts(self) -> Counter[str]:
        """How often each wash is used."""
        return Counter(self.chosen)


class Plans(NamedTuple):
    """The plan to follow, and others that nothing compares with it.

    Args:
        plans: the one to follow, then others with as few strong washes than which
            none is known to be milder; one for each multiset of washes.
        complete: whether these are all such; if not, more were left out.
        alike: for each wash in them, the washes that could stand in its place with
            nothing else changed.
        mildness: how the first compares with every other.
        weighed: whether every plan that none is milder than was weighed against the
            first by the wishes that come after mildness.
    """

    plans: tuple[Plan, ...]
    complete: bool
    alike: Mapping[str, tuple[str, ...]]
    mildness: Mildness = Mildness.NOT_COMPARED
    weighed: bool = True


def best_plans(problem: PlanProblem, most: int = 5) -> Plans:
    """The plan to follow, and others that nothing compares with it.

    Args:
        problem: what they must keep to, and what they are chosen by.
        most: how many to find.

    Raises:
        SolverError: the solver gave up.
    """
    alike = _interchangeable(_undominated(problem), problem)
    small = problem.with_washes(tuple(alike))
    caps = _caps(small)
    if caps is None:
        return Plans((), True, {})
    first, weighed = _preferred(small, caps)
    first = _soonest(small, first)
    found = [Plan(first, small.worth(first), _proven(small, first))]
    while len(found) < most:
        other = _mildest(small, caps, [plan.counts for plan in found])
        if other is None:
            break
        found.append(Plan(other, small.worth(other), "solver"))
    held = [plan.counts for plan in found]
    complete = len(found) < most or _mildest(small, caps, held) is None
    how = _compared(problem, caps, first)
    return Plans(tuple(found), complete, alike, how, weighed)


def feasible(problem: PlanProblem) -> bool:
    """Whether there is any plan."""
    return bool(problem.washes) and PlanModel(problem).least({}) is not None


def conflict(problem: PlanProblem) -> tuple[list[Any], list[str]]:
    """A smallest part of a problem without a plan that has none by itself.

    Returns the films and the limits, in words, no one of which can be left out.
    """
    films: list[Any] = list(dict.fromkeys(need.film for need in problem.needs))
    limits = list(dict.fromkeys(each.said for each in problem.limits))
    for part in [*limits, *films]:
        less_films = [f for f in films if f != part]
        less_limits = [each for each in limits if each != part]
        if not feasible(_part(problem, less_films, less_limits)):
            films, limits = less_films, less_limits
    return films, limits


def _part(problem: PlanProblem, films: list[Any], limits: list[str]) -> PlanProblem:
    return replace(
        problem,
        needs=tuple(n for n in problem.needs if n.film in films),
        limits=tuple(each for each in problem.limits if each.said in limits),
    )


# --- fewer washes to choose from ---------------------------------------------------


def _undominated(problem: PlanProblem) -> list[str]:
    """The washes but those in whose place a milder one always does."""
    leaves = {need.wash for need in problem.needs if need.wash}
    bound = {w: _limits_on(problem.limits, w) for w in problem.washes}

    def does_for(one: str, other: str) -> bool:
        return (
            (one, other) in problem.milder
            and one not in leaves
            and _marks(problem, one) <= _marks(problem, other)
            and problem.clears[one] >= problem.clears[other]
            and bound[one] <= bound[other]
        )

    return [
        w for w in problem.washes if not any(does_for(o, w) for o in problem.washes)
    ]


def _interchangeable(
    washes: Sequence[str], problem: PlanProblem
) -> dict[str, tuple[str, ...]]:
    """One wash for all that do the same and stand alike in the order."""
    leaves = {need.wash for need in problem.needs if need.wash}
    leaves |= {ill.wash for ill in problem.ills if ill.wash}
    needed = {need.film for need in problem.needs}
    groups: dict[object, list[str]] = {}
    for wash in washes:
        key = (
            wash if wash in leaves else "",
            problem.clears[wash] & needed,
            wash if wash in problem.now else "",
            _marks(problem, wash),
            problem.harsh.get(wash, 0),
            _limits_on(problem.limits, wash),
            frozenset(ill for ill in problem.ills if wash in ill.able),
            frozenset(w for w in washes if (w, wash) in problem.milder),
            frozenset(w for w in washes if (wash, w) in problem.milder),
        )
        groups.setdefault(key, []).append(wash)
    return {first: tuple(rest) for first, *rest in groups.values()}


def _marks(problem: PlanProblem, wash: str) -> frozenset[str]:
    """What counts against a wash before mildness does."""
    marks = (("strong", problem.strong), ("unread", problem.unread))
    return frozenset(name for name, those in marks if wash in those)


def _limits_on(limits: Iterable[Limit], wash: str) -> frozenset[Limit]:
    return frozenset(each for each in limits if wash in each.washes)


# --- choosing ----------------------------------------------------------------------


def fewest_strong(problem: PlanProblem) -> int | None:
    """How many washes of a plan count as strong at least; nothing if there is none."""
    if not problem.washes:
        return None
    model = PlanModel(problem)
    values = model.least(model.costs(lambda w: w in problem.strong))
    return None if values is None else problem.worth(model.chosen(values)).strong


def _caps(problem: PlanProblem) -> Caps | None:
    """The fewest strong washes, and of these plans the fewest unread ones."""
    strong = fewest_strong(problem)
    if strong is None:
        return None
    if not problem.unread:
        return Caps(strong, 0)
    model = PlanModel(problem, Caps(strong, len(problem.slots)))
    values = model.least(model.costs(lambda w: w in problem.unread))
    assert values is not None
    return Caps(strong, problem.worth(model.chosen(values)).unread)


def _preferred(problem: PlanProblem, caps: Caps) -> tuple[tuple[str, ...], bool]:
    """Of the plans that none is milder than, the one of the least worth.

    The least worth of any plan is looked for first. If a milder plan is known, the
    mildest of these is weighed, and all that it is at least as mild as is left out.
    """
    best: tuple[str, ...] | None = None
    left_out: list[Mapping[str, int]] = []
    for _ in range(MOST_WEIGHED):
        chosen = _cheapest(problem, caps, left_out, below=best)
        if chosen is None:
            break
        milder = _mildest(problem, caps, [], than=chosen)
        assert milder is not None
        if _ranks(problem, milder) == _ranks(problem, chosen):
            return chosen, True
        milder = _cheapest(problem, caps, [], Counter(milder))
        assert milder is not None
        if best is None or problem.worth(milder) < problem.worth(best):
            best = milder
        left_out.append(Counter(milder))
    else:
        assert best is not None
        return best, False
    assert best is not None
    return best, True


def _soonest(problem: PlanProblem, chosen: tuple[str, ...]) -> tuple[str, ...]:
    """A plan begun at another of its washes, so that strong ones come the soonest.

    It keeps to everything as well and is worth the same.
    """
    turned = (chosen[n:] + chosen[:n] for n in range(len(chosen)))
    worth = problem.worth(chosen)
    alike = [t for t in turned if problem.worth(t) == worth and problem.holds(t)]
    return min(alike, key=lambda plan: [wash not in problem.strong for wash in plan])


def _ranks(problem: PlanProblem, chosen: Iterable[str]) -> int:
    """The sum of the ranks of some washes; a milder plan has a smaller one."""
    return sum(problem.rank(wash) for wash in chosen)


def _cheapest(
    problem: PlanProblem,
    caps: Caps,
    left_out: Iterable[Mapping[str, int]],
    counts: Mapping[str, int] | None = None,
    below: Sequence[str] | None = None,
) -> tuple[str, ...] | None:
    """The plan of the least worth, some left out, or of those with some counts.

    Where `below` is a plan, only those of less worth than it are looked at.
    """
    model = PlanModel(problem, caps)
    for each in left_out:
        model.exclude(each)
    if counts is not None:
        for w in problem.washes:
            model.row(model.count(w), counts.get(w, 0), counts.get(w, 0))
    every, many = len(problem.slots), len(problem.washes)
    costs: dict[int, float] = {}
    for (slot, wash), column in model.x.items():
        now = problem.now[slot] if slot < len(problem.now) else ""
        costs[column] = float(bool(now) and now != wash)
    used = {w: model.column() for w in problem.washes}
    for w, column in used.items():
        model.row([*model.count(w), (column, -every)], high=0)
        costs[column] = every + 1
    for column, often in model.ills(used):
        costs[column] = often * (every + 1.0) * (many + 1)
    most = (sum(problem.ills.values()) + 1) * (every + 1.0) * (many + 1)
    for (_, wash), column in model.x.items():
        costs[column] += most * problem.harsh.get(wash, 0)
    if below is not None:
        *_, harsh, ill, different, changed = problem.worth(below)
        cost = (ill * (many + 1) + different) * (every + 1) + changed + most * harsh
        model.row(costs.items(), high=cost - 1)
    values = model.least(costs)
    return None if values is None else model.chosen(values)


def _mildest(
    problem: PlanProblem,
    caps: Caps,
    left_out: Iterable[Mapping[str, int]],
    than: Sequence[str] = (),
) -> tuple[str, ...] | None:
    """A plan that none is milder than, some left out, or of those as mild as one."""
    model = PlanModel(problem, caps)
    for each in left_out:
        model.exclude(each)
    if than:
        model.as_mild_as(than)
    values = model.least(model.costs(problem.rank))
    return None if values is None else model.chosen(values)


def _compared(problem: PlanProblem, caps: Caps, chosen: Sequence[str]) -> Mildness:
    """How a plan compares by mildness with every other, alike washes among them."""
    counts = Counter(chosen)
    few = PlanModel(problem, caps)
    few.exclude(counts)
    if few.least({}) is not None:
        return Mildness.NOT_COMPARED
    every = PlanModel(problem)
    every.exclude(counts)
    if every.least({}) is not None:
        return Mildness.OF_ITS_KIND
    other = PlanModel(problem)
    other.differ(counts)
    return Mildness.SINGLE if other.least({}) is None else Mildness.MILDEST


def _proven(problem: PlanProblem, chosen: Sequence[str]) -> str:
    """Try every choice of washes, where these are few; how it was shown.

    Raises:
        SolverError: there is a better plan after all.
    """
    if len(problem.washes) ** len(problem.slots) > MOST_TRIED:
        return "solver"
    worth = problem.worth(chosen)
    for other in product(problem.washes, repeat=len(problem.slots)):
        marks = problem.worth(other)[:2]
        if marks > worth[:2] or not problem.holds(other):
            continue
        if marks < worth[:2] or is_milder(problem, other, chosen):
            raise SolverError("the solver missed a better plan")
    return "search"
