"""The mildest plans, found exactly by integer programming (HiGHS, through SciPy).

Two plans are compared as multisets of washes: one is milder if its washes can be
paired off with those of the other, each the same or known to be milder and one at
least milder. That is a partial order, so there may be several mildest plans. That
none is milder than a plan is shown by a second problem, whose best value is the
greatest number of its washes that could be paired with milder ones: it is 0.

A plan is none of those at least as mild as a plan P exactly if some set of washes,
closed under going to harsher ones, has fewer members in it than in P (Strassen 1965,
for finite orders); so each plan found is excluded by one choice of such a set.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import product
from typing import Any, NamedTuple

from abluent.engine.errors import EngineError
from abluent.engine.routines.plan_problem import Limit, PlanProblem

INFEASIBLE = 2
"""The status by which SciPy says that nothing keeps to all constraints."""

MOST_TRIED = 20_000
"""Choices of washes up to which a result is checked by trying every one."""


class SolverError(EngineError):
    """The solver gave up; the message is its own."""


class Plan(NamedTuple):
    """A wash for every slot.

    Args:
        chosen: the washes, slot by slot.
        proven: how it is known that none is milder: `solver`, or `search` where
            every choice was tried as well.
    """

    chosen: tuple[str, ...]
    proven: str

    @property
    def counts(self) -> Counter[str]:
        """How often each wash is used."""
        return Counter(self.chosen)


class Plans(NamedTuple):
    """The mildest plans.

    Args:
        plans: one for each multiset of washes.
        complete: whether these are all; if not, more were left out.
        alike: for each wash in them, the washes that could stand in its place with
            nothing else changed.
    """

    plans: tuple[Plan, ...]
    complete: bool
    alike: Mapping[str, tuple[str, ...]]


def mildest_plans(problem: PlanProblem, most: int = 5) -> Plans:
    """The mildest plans, the first of them that fewest washes are milder than.

    Args:
        problem: what they must keep to.
        most: how many to find.

    Raises:
        SolverError: the solver gave up.
    """
    alike = _interchangeable(_undominated(problem), problem)
    small = problem.with_washes(tuple(alike))
    found: list[Plan] = []
    while len(found) <= most:
        chosen = _solve(small, [plan.counts for plan in found])
        if chosen is None:
            return Plans(tuple(found), True, alike)
        if len(found) < most:
            found.append(Plan(chosen, _proven(small, chosen)))
        else:
            break
    return Plans(tuple(found), False, alike)


def feasible(problem: PlanProblem) -> bool:
    """Whether there is any plan."""
    return _solve(problem, []) is not None


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
    return PlanProblem(
        problem.slots,
        problem.washes,
        problem.clears,
        tuple(n for n in problem.needs if n.film in films),
        tuple(each for each in problem.limits if each.said in limits),
        problem.milder,
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
    needed = {need.film for need in problem.needs}
    groups: dict[object, list[str]] = {}
    for wash in washes:
        key = (
            wash if wash in leaves else "",
            problem.clears[wash] & needed,
            _limits_on(problem.limits, wash),
            frozenset(w for w in washes if (w, wash) in problem.milder),
            frozenset(w for w in washes if (wash, w) in problem.milder),
        )
        groups.setdefault(key, []).append(wash)
    return {first: tuple(rest) for first, *rest in groups.values()}


def _limits_on(limits: Iterable[Limit], wash: str) -> frozenset[Limit]:
    return frozenset(each for each in limits if wash in each.washes)


# --- integer programs --------------------------------------------------------------


class _Model:
    """Columns with bounds, rows with limits; every column is a whole number."""

    def __init__(self) -> None:
        self.most: list[float] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def column(self, most: float = 1) -> int:
        self.most.append(most)
        return len(self.most) - 1

    def row(
        self,
        terms: Iterable[tuple[int, float]],
        low: float = float("-inf"),
        high: float = float("inf"),
    ) -> None:
        sums: dict[int, float] = {}
        for column, factor in terms:
            sums[column] = sums.get(column, 0) + factor
        self.rows.append((sums, low, high))

    def least(self, costs: Mapping[int, float]) -> list[int] | None:
        """The values of all columns at the least cost, if there are any."""
        import numpy as np  # noqa: PLC0415 - only where something is planned
        from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415
        from scipy.sparse import coo_array  # noqa: PLC0415

        cost = np.zeros(len(self.most))
        for column, each in costs.items():
            cost[column] = each
        entries = [
            (r, c, v) for r, row in enumerate(self.rows) for c, v in row[0].items()
        ]
        rows, columns, values = zip(*entries, strict=True)
        shape = (len(self.rows), len(self.most))
        matrix = coo_array((values, (rows, columns)), shape=shape).tocsr()
        lows, highs = [r[1] for r in self.rows], [r[2] for r in self.rows]
        found = milp(
            cost,
            integrality=np.ones(len(self.most), dtype=np.int64),
            bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(matrix, lows, highs),
            options={"mip_rel_gap": 0},
        )
        if found.status == INFEASIBLE:
            return None
        if found.x is None or found.status:
            raise SolverError(f"no plan was found or ruled out: {found.message}")
        return [round(value) for value in found.x]


class _PlanModel(_Model):
    """The plans of a problem: `x[slot, wash]` is 1 where the wash is chosen."""

    def __init__(self, problem: PlanProblem) -> None:
        super().__init__()
        self.problem = problem
        slots = range(len(problem.slots))
        self.x = {(s, w): self.column() for s in slots for w in problem.washes}
        for s in slots:
            self.row(((self.x[s, w], 1) for w in problem.washes), 1, 1)
        for at, wash, ours, able in problem.demands:
            terms = [(self.x[s, w], 1.0) for s in ours for w in able]
            if wash:
                terms.append((self.x[at, wash], -1.0))
            self.row(terms, 0 if wash else 1)
        for limit in problem.limits:
            some = [w for w in problem.washes if w in limit.washes]
            self.row(
                ((self.x[s, w], often) for s, often in limit.slots for w in some),
                high=limit.most,
            )

    def count(self, wash: str, factor: float = 1) -> list[tuple[int, float]]:
        """How often a wash is chosen, as terms of a row."""
        return [(self.x[s, wash], factor) for s in range(len(self.problem.slots))]

    def chosen(self, values: Sequence[int]) -> tuple[str, ...]:
        """The plan that some values stand for; it is tried before it is given out."""
        slots = range(len(self.problem.slots))
        plan = tuple(
            next(w for w in self.problem.washes if values[self.x[s, w]]) for s in slots
        )
        if not self.problem.holds(plan):
            raise SolverError("the solver gave a plan that does not hold")
        return plan

    def exclude(self, found: Mapping[str, int]) -> None:
        """Leave out every plan that a plan found is at least as mild as."""
        problem, every = self.problem, len(self.problem.slots)
        inside = {w: self.column() for w in problem.washes}
        counted = {w: self.column(every) for w in problem.washes}
        for mild, harsh in problem.milder:
            if mild in inside and harsh in inside:
                self.row([(inside[mild], 1), (inside[harsh], -1)], high=0)
        for w in problem.washes:
            terms = [*self.count(w), (inside[w], every), (counted[w], -1)]
            self.row(terms, high=every)
        fewer = [(counted[w], 1.0) for w in problem.washes]
        fewer += [(inside[w], -found[w]) for w in problem.washes if found.get(w)]
        self.row(fewer, high=-1)


def _solve(
    problem: PlanProblem, excluded: Iterable[Mapping[str, int]]
) -> tuple[str, ...] | None:
    if not problem.washes:
        return None
    model = _PlanModel(problem)
    for found in excluded:
        model.exclude(found)
    ranks = {
        w: sum((o, w) in problem.milder for o in problem.washes) for w in problem.washes
    }
    costs = {column: ranks[w] for (_, w), column in model.x.items()}
    values = model.least(costs)
    return None if values is None else model.chosen(values)


def _proven(problem: PlanProblem, chosen: Sequence[str]) -> str:
    """Show that no plan is milder than one; how it was shown.

    Raises:
        SolverError: there is a milder one after all.
    """
    if _milder_pairs(problem, chosen):
        raise SolverError("the solver gave a plan that is not the mildest")
    if len(problem.washes) ** len(problem.slots) > MOST_TRIED:
        return "solver"
    for other in product(problem.washes, repeat=len(problem.slots)):
        if problem.holds(other) and is_milder(problem, other, chosen):
            raise SolverError("the solver missed a milder plan")
    return "search"


def _milder_pairs(problem: PlanProblem, chosen: Sequence[str]) -> int:
    """How many washes of a plan could at most be paired with milder ones."""
    model, counts = _PlanModel(problem), Counter(chosen)
    pairs = {
        (w, p): model.column(often)
        for p, often in counts.items()
        for w in problem.washes
        if problem.as_mild(w, p)
    }
    for p, often in counts.items():
        model.row(((c, 1) for (_, q), c in pairs.items() if q == p), often, often)
    for w in problem.washes:
        mine = [(c, 1.0) for (v, _), c in pairs.items() if v == w]
        model.row([*mine, *model.count(w, -1)], 0, 0)
    better = {c: -1.0 for (w, p), c in pairs.items() if w != p}
    values = model.least(better)
    return 0 if values is None else sum(values[c] for c in better)


def is_milder(problem: PlanProblem, one: Sequence[str], other: Sequence[str]) -> bool:
    """Whether the washes of one plan pair off with those of another as milder."""
    if Counter(one) == Counter(other):
        return False
    partner: dict[int, int] = {}
    return all(_paired(problem, one, other, n, partner, set()) for n in range(len(one)))


def _paired(  # noqa: PLR0913, PLR0917 - the state of one augmenting path
    problem: PlanProblem,
    one: Sequence[str],
    other: Sequence[str],
    n: int,
    partner: dict[int, int],
    seen: set[int],
) -> bool:
    """Find a partner for one wash, moving earlier ones (an augmenting path)."""
    for m, harsh in enumerate(other):
        if m in seen or not problem.as_mild(one[n], harsh):
            continue
        seen.add(m)
        if m not in partner or _paired(problem, one, other, partner[m], partner, seen):
            partner[m] = n
            return True
    return False
