"""What builds up: the account against a plain simulation, and on the demo shelf."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.checking import checker
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import (
    Bound,
    BuildUp,
    Film,
    build_up,
    effects,
    washed_as,
    washes_of,
)
from abluent.engine.routines.buildup_why import account_rows
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.routine import schedule
from abluent.engine.trace.answer import traces
from abluent.grammar.routine.parse import parse_routines
from abluent.grammar.routine.tree import CLEARING, NOTHING, Counting
from abluent.shell.session.session import Session
from routine_worlds import TIMES, simulate, small

TURNS = 5


@pytest.mark.parametrize("seed", range(TIMES))
def test_account_equals_a_simulation_use_by_use(seed: int) -> None:
    """Every count of every film, and what every later turn comes to."""
    random = Random(seed)
    case = small(random)
    chosen = {use.place: random.choice(case.washes) for use in case.schedule.washes}
    days = case.schedule.with_washes(chosen)
    built = build_up(days, case.effects)
    left = {f for use in days.uses for f in case.effects.leaves(use)}
    gone = {f for f in left if case.effects.goes(f)}
    assert set(built.gone) == gone
    assert {account.film for account in built.accounts} == left - gone
    for account in built.accounts:
        for which, sure in (("worst", True), ("best", False)):
            plain = simulate(days, case.effects, account.film, TURNS, sure)
            ends = {step.use.place: getattr(step, which) for step in account.steps}
            assert ends == {place: plain[place] for place in ends}
            if days.turns:
                _same_for_ever(getattr(account, which), plain, len(days.uses))


def _same_for_ever(bound: Bound, plain: list[int], length: int) -> None:
    """What a turn comes to is what the later turns of a simulation come to."""
    turns = [plain[n * length : (n + 1) * length] for n in range(TURNS)]
    most = bound.most
    if most is None:
        grown = [turn[-1] for turn in turns]
        steps = {b - a for a, b in pairwise(grown)}
        assert steps == {bound.adds}
    else:
        assert turns[1] == turns[2] == turns[3] == turns[4]


@pytest.mark.parametrize("seed", range(TIMES))
def test_best_is_never_above_worst(seed: int) -> None:
    random = Random(seed)
    case = small(random)
    chosen = {use.place: random.choice(case.washes) for use in case.schedule.washes}
    built = build_up(case.schedule.with_washes(chosen), case.effects)
    steps = [step for account in built.accounts for step in account.steps]
    assert all(step.best <= step.worst for step in steps)


@pytest.mark.parametrize("seed", range(TIMES))
def test_state_repeats_after_the_turn_that_is_told(seed: int) -> None:
    """Iterating the state by turns meets it again, growing films aside."""
    random = Random(seed)
    case = small(random)
    chosen = {use.place: random.choice(case.washes) for use in case.schedule.washes}
    days = replace(case.schedule.with_washes(chosen), turns=True)
    built = build_up(days, case.effects)
    films = [account.film for account in built.accounts if account.worst.clears]
    length, state = len(days.uses), dict.fromkeys(films, 0)
    states = [state]
    for turn in range(1, 4):
        counts = {f: simulate(days, case.effects, f, turn, True) for f in films}
        states.append({f: counts[f][turn * length - 1] for f in films})
    assert states[built.turns_before] == states[built.turns_before + 1]
    assert states[1] == states[2] == states[3]


# --- the demo shelf ---------------------------------------------------------------

WEEK = """\
wash with "Plover Mild Wash" on Wednesday
wash with "Gullwing Silk Wash" on Sunday
use "Harbour Cream" after every wash
use "Glass Float Serum" every second day
"""


@pytest.fixture(scope="module")
def world() -> World:
    return Session.open().world


def built_of(text: str, world: World) -> BuildUp:
    """The build-up of a routine on the demo shelf."""
    routine = parse_routines(text)[0]
    world = washed_as(routine, world)
    days = schedule(routine, washes_of(world))
    washes = [use.product for use in days.washes]
    done = effects(world, days.products, washes, routine.counting)
    return build_up(days, done)


@pytest.mark.slow
def test_silicone_is_cleared_by_the_strong_anionic_not_by_the_wash_that_leaves_it(
    world: World,
) -> None:
    parts = "count partly clears as clearing\n" + WEEK
    found = {a.film: a for a in built_of(parts, world).accounts}
    account = found[Film("dimethicone", "Harbour Cream")]
    does = {step.use.product: step.does for step in account.steps}
    assert does["Gullwing Silk Wash"] in {None, Role.AT_MOST_PARTLY}
    assert account.worst == (True, 2, 2)
    assert account.best == (True, 1, 1)
    assert account.days == 7


def test_volatile_silicone_is_gone_once_dry(world: World) -> None:
    film = Film("cyclopentasiloxane", "Glass Float Serum")
    built = built_of(WEEK, world)
    assert film not in {account.film for account in built.accounts}


def test_what_a_co_wash_adds_counts(world: World) -> None:
    built = built_of('wash with "Backwater Cream Cleanser" daily', world)
    sources = {account.film.source for account in built.accounts}
    assert "Backwater Cream Cleanser" in sources


def test_hard_water_leaves_minerals_at_every_wash_and_soft_water_none(
    world: World,
) -> None:
    hard = built_of("water is hard\n" + WEEK, world)
    soft = built_of("water is soft\n" + WEEK, world)
    film = Film("hard-water-minerals", "water")
    account = next(a for a in hard.accounts if a.film == film)
    assert account.worst.adds == 4
    assert film not in [a.film for a in soft.accounts]


@pytest.mark.slow
def test_what_partly_clears_counts_for_can_be_said(world: World) -> None:
    """Both ways unless said; as clearing the bounds meet below, as nothing above."""
    film = Film("cetyl-esters", "Harbour Cream")
    week = WEEK.replace("Gullwing Silk", "Tideline")
    found = {}
    for way in ("either", CLEARING, NOTHING):
        built = built_of(f"count partly clears as {way}\n{week}", world)
        account = next(a for a in built.accounts if a.film == film)
        found[way] = account.best.most, account.worst.most
    assert found == {"either": (1, None), CLEARING: (1, 1), NOTHING: (None,) * 2}
    assert Counting() == Counting("either", "either")


@pytest.mark.parametrize("former", ["dimethicone", "cetyl-esters"])
def test_reasoner_proves_the_counts_of_the_account(former: str, world: World) -> None:
    """The largest counts follow by `routine.rules`, and no larger ones do."""
    built = built_of(WEEK, world)
    account = next(a for a in built.accounts if a.film == Film(former, "Harbour Cream"))
    rows = account_rows(built, account)
    goals = {row.goal[0]: row.goal[1] for row in rows}
    assert goals["usesAtMost"][3] == account.peak[1]
    assert goals["usesAtLeast"][3] == account.peak[0]
    assert ("neverSurelyOff" in goals) == (account.worst.most is None)
    model = rows[0].case.model
    for predicate, peak in (("usesAtMost", 1), ("usesAtLeast", 0)):
        told = {row[3] for row in model.match(predicate, (None,) * 4)}
        assert max(told) == account.peak[peak]


@pytest.mark.slow
def test_account_is_a_trace_that_the_checker_accepts_and_no_forgery(
    world: World,
) -> None:
    routine = parse_routines(WEEK)[0]
    built = built_of(WEEK, world)
    few = replace(built, accounts=built.accounts[-3:])
    answer = Accounted(routine, few, ()).answer()
    for trace in traces(answer, "routine"):
        data = json.loads(json.dumps(trace))
        assert checker.check(data).ok
        forged = json.dumps(trace).replace(" 2 uses", " 1 uses").replace('"2"', '"3"')
        assert not checker.check(json.loads(forged)).ok
