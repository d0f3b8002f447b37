"""What no wash at hand surely clears, kept to by those that may take some of it.

Where a wish names such films, the plan meets each in time with a wash that may take a
part, as far as the other wishes allow; films that level off by themselves are left
alone. All that is so met is still told as not surely kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.plan_problem import PlanProblem
from abluent.engine.routines.plan_solver import feasible
from abluent.grammar.routine import tree as ast


def eased(
    problem: PlanProblem, stuck: Sequence[Film], left: Iterable[Film], done: Effects
) -> tuple[PlanProblem, tuple[Film, ...]]:
    """The problem with some films left alone, or met by washes that may take them.

    Args:
        problem: what a plan must keep to.
        stuck: films that no wash at hand surely clears.
        left: other films that are left alone.
        done: what the washes do.

    Returns:
        The problem, and those of the stuck films that are met so.
    """
    out = {*stuck, *left}
    shares = Shares(done)
    groups: dict[frozenset[str], list[Film]] = {}
    for film in stuck:
        able = frozenset(w for w in problem.washes if shares.of(w, film).most)
        if able and film not in done.level:
            groups.setdefault(able, []).append(film)
    best, met = problem.without(out), dict[Film, frozenset[str]]()
    for able, films in groups.items():
        more = met | dict.fromkeys(films, able)
        tried = _meeting(problem.without(out - more.keys()), more)
        if feasible(tried):
            best, met = tried, more
    return best, tuple(film for film in stuck if film in met)


def _meeting(problem: PlanProblem, films: Mapping[Film, frozenset[str]]) -> PlanProblem:
    """The problem where some films count as cleared by those that may take them."""
    clears = {
        wash: some | {film for film, able in films.items() if wash in able}
        for wash, some in problem.clears.items()
    }
    return replace(problem, clears=clears)


def counting_parts(routine: ast.Routine) -> ast.Routine | None:
    """The routine with a wash that surely takes a part counted as clearing.

    Few films are known to come off whole, so a plan that waits for that often does not
    exist. The plan then says, among its lines, that parts are counted. Nothing where
    the routine itself says how they count.
    """
    if routine.counting.partly != ast.EITHER:
        return None
    counting = replace(routine.counting, partly=ast.CLEARING)
    return replace(routine, counting=counting)
