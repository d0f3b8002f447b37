"""The plans of a problem as an integer program (HiGHS, through SciPy).

A plan is none of those at least as mild as a plan P exactly if some set of washes,
closed under going to harsher ones, has fewer members in it than in P (Strassen 1965,
for finite orders); so each plan found is excluded by one choice of such a set.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.errors import EngineError
from abluent.engine.routines.plan_problem import PlanProblem

INFEASIBLE = 2
"""The status by which SciPy says that nothing keeps to all constraints."""


class SolverError(EngineError):
    """The solver gave up; the message is its own."""


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


class Caps(NamedTuple):
    """How many washes may at most count as strong, and be not read to the end."""

    strong: int
    unread: int


class PlanModel(_Model):
    """The plans of a problem: `x[slot, wash]` is 1 where the wash is chosen."""

    def __init__(self, problem: PlanProblem, caps: Caps | None = None) -> None:
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

        if caps is not None:
            for those, most in zip((problem.strong, problem.unread), caps, strict=True):
                marked = [c for (_, w), c in self.x.items() if w in those]
                if marked:
                    self.row(((c, 1) for c in marked), high=most)

    def ills(self, used: Mapping[str, int]) -> Iterator[tuple[int, int]]:
        """For each that counts against a plan, a column that is 1 where it does.

        `used` has a column for each wash that is 1 where it is used.
        """
        for ill, often in self.problem.ills.items():
            if ill.wash and ill.wash not in used:
                continue
            column = self.column()
            terms = [
                (self.x[slot, wash], 1.0)
                for slot in ill.slots
                for wash in ill.able
                if wash in used
            ]
            terms.append((column, 1.0))
            if ill.wash:
                terms.append((used[ill.wash], -1.0))
            self.row(terms, 0 if ill.wash else 1)
            yield column, often

    def costs(self, of: Callable[[str], float]) -> dict[int, float]:
        """What each choice costs, by its wash."""
        return {column: of(wash) for (_, wash), column in self.x.items()}

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

    def differ(self, found: Mapping[str, int]) -> None:
        """Leave out the plans of the same washes as one found."""
        every = len(self.problem.slots)
        fewer = {w: self.column() for w in found}
        for w, often in found.items():
            drop = every - often + 1
            self.row([*self.count(w), (fewer[w], drop)], high=every)
        self.row([(column, 1) for column in fewer.values()], low=1)

    def as_mild_as(self, than: Sequence[str]) -> None:
        """Leave out all but the plans that are at least as mild as one."""
        problem, counts = self.problem, Counter(than)
        pairs = {
            (w, p): self.column(often)
            for p, often in counts.items()
            for w in problem.washes
            if problem.as_mild(w, p)
        }
        for p, often in counts.items():
            mine = [(c, 1.0) for (_, q), c in pairs.items() if q == p]
            self.row(mine, often, often)
        for w in problem.washes:
            ours = [(c, 1.0) for (v, _), c in pairs.items() if v == w]
            self.row([*ours, *self.count(w, -1)], 0, 0)


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
