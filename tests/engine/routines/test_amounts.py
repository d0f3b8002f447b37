"""Amounts of films: against going through many turns, and from published shares."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from random import Random

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.routines.amounts import Amounts, Shares, amounts
from abluent.engine.routines.buildup import Effects, Film, Found, build_up, effects
from abluent.engine.routines.overview import Overview, State, Told
from abluent.engine.routines.routine import Schedule, Use
from abluent.grammar.routine import tree as ast
from abluent.shell.session.session import Session
from routine_worlds import TIMES, Small, small

TURNS = 120
MARKS = (Fraction(1, 10), Fraction(19, 20))


def named(days: Schedule, washes: tuple[str, ...], random: Random) -> Schedule:
    """A schedule with a wash for every slot."""
    free = {u.place: random.choice(washes) for u in days.uses if u.wash}
    return days.with_washes(free)


def washed(random: Random) -> Small:
    """A small shelf that leaves some film."""
    while not any((case := small(random)).effects.left.values()):
        pass
    return case


def gone_through(  # noqa: PLR0913, PLR0917 - what is gone through, and how often
    days: Schedule, done: Effects, shares: Shares, film: Film, turns: int, end: int
) -> list[float]:
    """The amounts after every use of the last of some turns, one use at a time."""
    amount, told = 0.0, list[float]()
    for _ in range(turns):
        told = []
        for use in days.uses:
            if use.wash:
                share = shares.of(use.product, film)
                amount *= float(1 - (share.most, share.least)[end])
            amount += film in done.leaves(use)
            if film in done.level:  # no more than the first time
                amount = min(amount, 1.0)
            told.append(amount)
    return told


@pytest.mark.parametrize("seed", range(min(TIMES, 8)))
def test_amounts_are_what_going_through_the_turns_comes_to(seed: int) -> None:
    random = Random(seed)
    case = washed(random)
    days, done = named(case.schedule, case.washes, random), case.effects
    shares = Shares(done, MARKS)
    for film in {f for each in done.left.values() for f in each}:
        found = amounts(days, done, shares, film)
        for end in (0, 1):
            once = gone_through(days, done, shares, film, 1, end)
            assert [float(each[end]) for each in found.after] == pytest.approx(once)
            many = gone_through(days, done, shares, film, TURNS, end)
            twice = gone_through(days, done, shares, film, 2 * TURNS, end)
            plateau = found.plateau[end]
            if not days.turns:
                assert float(plateau or 0) == pytest.approx(max(once))
            elif plateau is None:
                assert max(twice) >= max(many) + TURNS - 1
            else:
                assert float(plateau) == pytest.approx(max(many), rel=1e-4)
        assert _in_order(found)


def _in_order(found: Amounts) -> bool:
    """No least above its most."""
    low, high = found.plateau
    pairs = [*found.after, *(found.after_turns(n) for n in (0, 1, 5))]
    return all(a <= b for a, b in pairs) and (
        high is None or (low is not None and low <= high)
    )


def told(seed: int) -> Sequence[Told]:
    """What becomes of the films of the first routine that turns and builds up some."""
    random = Random(seed)
    while True:
        case = washed(random)
        days, done = named(case.schedule, case.washes, random), case.effects
        found = Overview(build_up(days, done), Shares(done, MARKS)).told
        if days.turns and found:
            return found


def test_the_routines_meet_every_state() -> None:
    assert {each.state for seed in range(TIMES) for each in told(seed)} == set(State)


@pytest.mark.parametrize("seed", range(TIMES))
def test_a_state_says_what_the_amounts_say(seed: int) -> None:
    """Growth that may be none is not called growth; a film that ends is bounded."""
    for each in told(seed):
        low, high = each.amounts.plateau
        assert (each.state is State.GROWS) == (low is None)
        assert (each.state in {State.GROWS, State.MAY_GROW}) == (high is None)
        assert (each.state is State.CLEARED) == (each.account.worst.most is not None)


# --- counted shares -------------------------------------------------------------------


OIL = Film("oil", "cream")


def stated(role: Role, counting: ast.Counting = ast.AS_TOLD) -> Shares:
    verdicts = {("wash", OIL): Found(role), ("water", OIL): Found(Role.NOT_CLEARED)}
    return Shares(Effects({"cream": (OIL,)}, verdicts, counting), MARKS)


@pytest.mark.parametrize("role", ENDS)
def test_a_share_lies_between_the_ends_of_its_verdict(role: Role) -> None:
    least, most = ENDS[role]
    share = stated(role).of("wash", OIL)
    assert 0 <= share.least <= share.most <= 1
    assert (share.least == 1) == (least is Role.ALL_OF_IT)
    assert (share.most == 0) == (most is Role.NONE_OF_IT)


def test_counting_parts_as_nothing_leaves_all_of_it() -> None:
    counting = ast.Counting(partly=ast.NOTHING)
    share = stated(Role.PARTLY_CLEARED, counting).of("wash", OIL)
    assert share == (0, 0, ())


# --- the demo shelf -------------------------------------------------------------------


@pytest.mark.slow
def test_a_published_share_narrows_what_a_part_means() -> None:
    """Ether sulfate took about 90 % of sterol and wax off (Clarke 1989)."""
    world = Session.open().world
    done = effects(world, ["Tarred Rope Pomade"], ["Breakwater Wash", "Shallows Wash"])
    shares = Shares(done)
    wax = Film("cera-alba", "Tarred Rope Pomade")
    strong, mild = shares.of("Breakwater Wash", wax), shares.of("Shallows Wash", wax)
    assert shares.part == Fraction(1, 10)
    assert strong.least == Fraction(9, 10)
    assert strong.claims == ("e22-ether-sulfate-wax",)
    assert mild.claims == ()
    days = Schedule(
        1, True, (Use(1, 0, "Breakwater Wash", True), Use(1, 1, wax.source, False))
    )
    found = amounts(days, done, shares, wax)
    assert found.plateau[1] == Fraction(10, 9)
    assert found.after_turns(3)[1] == Fraction(111, 100)
