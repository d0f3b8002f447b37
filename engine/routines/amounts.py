"""How much of a film there is, between two ends, in what one use leaves.

A use adds one use's worth. A wash takes a share of what is there, at least so much and
at most so much: what was measured where a study of such an agent and film gives it,
and else the least and the most that its verdict means (of a measured share so much
counts as part, and so much as all). So every turn of a routine takes an amount `x` to
`a x + b`; with `a` below 1 it nears `b / (1 - a)` whatever it was, and with `a` = 1
nothing ever takes any of it off. A film that levels off by itself comes to one use's
worth whenever it is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from abluent.engine.base.contract import (
    ACTS,
    ALL_FROM,
    BOUND_AT,
    ISA,
    PART_FROM,
    SHARE_LOW,
)
from abluent.engine.base.roles import Role
from abluent.engine.logic.terms import Term
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.questions.world.case import Case
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.routine import tree as ast

_NONE, _ALL = Fraction(0), Fraction(1)


class Share(NamedTuple):
    """The share of a film that a wash takes.

    Args:
        least: at least.
        most: at most.
        claims: the studies that gave the least, by symbol; none where nobody
            measured it.
    """

    least: Fraction
    most: Fraction
    claims: tuple[str, ...] = ()


class Turn(NamedTuple):
    """What one turn makes of an amount `x`: `keeps` times `x`, and `adds`."""

    keeps: Fraction
    adds: Fraction


class Amounts(NamedTuple):
    """The amounts of one film, in what one use leaves, from hair without it.

    Args:
        after: after every use of the first turn, at least and at most.
        least: what a turn does at the least.
        most: what a turn does at the most.
        plateau: the most there is at any time in the end, at least and at most;
            nothing for an end that grows without end.
    """

    after: tuple[tuple[Fraction, Fraction], ...]
    least: Turn
    most: Turn
    plateau: tuple[Fraction | None, Fraction | None]

    def after_turns(self, turns: int) -> tuple[Fraction, Fraction]:
        """How much there is after so many turns, at least and at most."""
        return _run(self.least, turns), _run(self.most, turns)


class Shares:
    """The shares that washes take, as a case and a way of counting have them.

    Attributes:
        part: from what share on a part is taken, in parts of one.
        alike: amounts worked out before, by what every use does.
    """

    def __init__(
        self, effects: Effects, marks: tuple[Fraction, Fraction] | None = None
    ) -> None:
        """Take shares from some effects; `marks` stand in for those of a base."""
        self._effects = effects
        self.part, self._all = marks or _thresholds(effects.case)
        self._measured = _measured(effects.case) if effects.case else {}
        self._found: dict[tuple[str, Film], Share] = {}
        self.alike: dict[tuple[bool, tuple[Move, ...]], Amounts] = {}

    def of(self, wash: str, film: Film) -> Share:
        """The share of a film that a wash takes."""
        if (wash, film) not in self._found:
            self._found[wash, film] = self._share(wash, film)
        return self._found[wash, film]

    def _share(self, wash: str, film: Film) -> Share:
        effects, counting = self._effects, self._effects.counting
        if effects.surely(wash, film):
            return Share(_ALL, _ALL)
        least, most = ENDS[effects.verdicts[wash, film].role]
        high, low = _NONE, _NONE
        claims: tuple[str, ...] = ()
        if counting.partly != ast.NOTHING and Role.PART_OF_IT in {least, most}:
            high = self._all
        if most is Role.ALL_OF_IT and counting.open != ast.NOTHING:
            high = _ALL
        if least is Role.PART_OF_IT and counting.partly != ast.NOTHING:
            low, claims = self._measured_least(wash, film)
        return Share(low, max(high, low), claims)

    def _measured_least(
        self, wash: str, film: Film
    ) -> tuple[Fraction, tuple[str, ...]]:
        """The greatest share that studies gave of what acts, or what a part means."""
        best = self.part
        by: tuple[str, ...] = ()
        case = self._effects.case
        if case is None:
            return best, by
        kinds = _kinds(case, film.former)
        for _, agent in case.model.match(ACTS, (case.world.symbol(wash), None)):
            known: dict[str, Fraction] = {}
            for kind in _kinds(case, str(agent)):
                for other in kinds:
                    known |= self._measured.get((kind, other), {})
            least = min(known.values(), default=_NONE)
            if least > best:
                best, by = least, tuple(c for c, s in known.items() if s == least)
        return best, by


def _thresholds(case: Case | None) -> tuple[Fraction, Fraction]:
    """From what share on a part is taken, and all, in parts of one."""

    def only(predicate: str, other: Fraction) -> Fraction:
        if case is None or predicate not in case.world.known.program.arities:
            return other
        found = [row[0] for row in case.model.match(predicate, (None,))]
        return _share(found[0]) if found else other

    return only(PART_FROM, _NONE), only(ALL_FROM, _ALL)


def _measured(case: Case) -> dict[tuple[str, str], dict[str, Fraction]]:
    """What studies gave as the least share, by class of agent and class of film."""
    if SHARE_LOW not in case.world.known.program.arities:
        return {}
    shares = {str(c): _share(s) for c, s in case.model.match(SHARE_LOW, (None, None))}
    found: dict[tuple[str, str], dict[str, Fraction]] = {}
    for claim, share in shares.items():
        for _, agent, film in case.model.match(BOUND_AT, (claim, None, None)):
            at = found.setdefault((str(agent), str(film)), {})
            at[claim] = share
    return found


def _kinds(case: Case, thing: str) -> list[str]:
    """What a thing is, by what follows and not by its name alone."""
    return [str(kind) for _, kind in case.model.match(ISA, (thing, None))]


def _share(percent: Term) -> Fraction:
    return Fraction(str(percent)) / 100


# --- one film over a turn -------------------------------------------------------------


def amounts(
    schedule: Schedule, effects: Effects, shares: Shares, film: Film
) -> Amounts:
    """The amounts of one film under a schedule.

    Args:
        schedule: the uses, a product chosen for each.
        effects: what these products leave.
        shares: what its washes take.
        film: the film.
    """
    steps = (*_moves(schedule.uses, effects, shares, film),)
    key = schedule.turns, steps
    if key not in shares.alike:
        shares.alike[key] = _amounts(steps, schedule.turns)
    return shares.alike[key]


def _amounts(steps: Sequence[Move], turns: bool) -> Amounts:
    lows, highs = (_each(steps, end, _NONE) for end in (0, 1))
    least, most = _turn(steps, 0), _turn(steps, 1)
    plateau = _peak(steps, 0, least, turns), _peak(steps, 1, most, turns)
    return Amounts(tuple(zip(lows, highs, strict=True)), least, most, plateau)


def by_day(
    schedule: Schedule, effects: Effects, shares: Shares, film: Film, days: int
) -> list[tuple[Fraction, Fraction]]:
    """How much there is at the end of each of some days, at least and at most.

    A routine that comes round goes on as long as that; one with an end is cut there.
    """
    steps = [*_moves(schedule.uses, effects, shares, film)]
    at: dict[int, list[Move]] = {}
    for use, step in zip(schedule.uses, steps, strict=True):
        at.setdefault(use.day, []).append(step)
    low = high = _NONE
    told = []
    for day in range(days):
        for step in at.get(day % schedule.days + 1, ()):
            low, high = step[0] * low + step[2], step[1] * high + step[2]
        told.append((low, high))
    return told


Move = tuple[Fraction, Fraction, int]
"""What stays of a film at the least and at the most, and how much is added."""


def _moves(
    uses: Sequence[Use], effects: Effects, shares: Shares, film: Film
) -> Iterable[Move]:
    for use in uses:
        low, high = _ALL, _ALL
        left = film in effects.leaves(use)
        if left and film in effects.level:  # no more than the first time
            low, high = _NONE, _NONE
        elif effects.takes(use, film):
            taken = shares.of(use.product, film)
            low, high = 1 - taken.most, 1 - taken.least
        yield low, high, int(left)


def _each(steps: Sequence[Move], end: int, start: Fraction) -> list[Fraction]:
    found = []
    for step in steps:
        start = step[end] * start + step[2]
        found.append(start)
    return found


def _turn(steps: Sequence[Move], end: int) -> Turn:
    keeps, adds = _ALL, _NONE
    for step in steps:
        keeps, adds = keeps * step[end], adds * step[end] + step[2]
    return Turn(keeps, adds)


def _peak(steps: Sequence[Move], end: int, turn: Turn, turns: bool) -> Fraction | None:
    """The most there is at any time once turns are alike, or in the one there is."""
    if not turns:
        return max(_each(steps, end, _NONE))
    if turn.keeps == 1:
        return None if turn.adds else _NONE
    return max(_each(steps, end, turn.adds / (1 - turn.keeps)))


def _run(turn: Turn, turns: int) -> Fraction:
    amount = _NONE
    for _ in range(turns):
        amount = turn.keeps * amount + turn.adds
    return amount


def used_shares(schedule: Schedule, shares: Shares, film: Film) -> Mapping[str, Share]:
    """What each wash of a schedule takes of a film, by its name."""
    washes = dict.fromkeys(use.product for use in schedule.washes)
    return {wash: shares.of(wash, film) for wash in washes}
