"""Whether wishes are kept: against following every use, and in words of a shelf."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from abluent.engine.questions.world.world import World
from abluent.engine.routines import wishes
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.outcome import Accounted, account_of
from abluent.engine.routines.wishes import Kept
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.session.session import Session
from routine_worlds import TIMES, kept_in_time, small


@pytest.mark.parametrize("seed", range(min(TIMES, 12)))
def test_a_wish_is_kept_if_following_every_use_says_so(seed: int) -> None:
    random = Random(seed)
    while not (case := small(random)).within:
        pass  # one that leaves nothing has nothing to be cleared
    slots = [use for use in case.schedule.uses if use.wash]
    chosen = {use.place: random.choice(case.washes) for use in slots}
    days, shares = case.schedule.with_washes(chosen), Shares(case.effects)
    for film, asked in case.within.items():
        for each in asked:
            want = ast.Clear("everything", each.every, each.days)
            found = wishes.cleared(want, [film], days, case.effects, shares)
            assert found.kept == kept_in_time(case, days, film, each)
            assert found.late == (() if found.kept else (film,))


@cache
def world() -> World:
    return Session.open().world


def account(text: str) -> Accounted:
    return account_of(parse_routines(text)[0], world())


WEEK = """\
water is soft
wash with "Plover Mild Wash" on Wednesday and Sunday
use "Harbour Cream" after every wash
count partly clears as clearing
"""


def kept(text: str) -> list[Kept]:
    return list(account(WEEK + text).kept)


@pytest.mark.slow
def test_waits_are_told_in_washes_and_in_days() -> None:
    (found,) = kept("clear silicones every 2 washes")
    assert found.kept
    assert found.whole is not None
    assert (found.whole.washes, found.whole.days) == (1, 4)


def test_a_wish_that_is_not_kept_names_its_films() -> None:
    (found,) = kept("clear silicones every 3 days")
    assert not found.kept
    assert [film.former for film in found.late] == ["dimethicone"]


@pytest.mark.long
def test_limits_are_counted() -> None:
    found = kept('at most 1 "Plover Mild Wash" a week\nno strong wash two days running')
    assert [(each.kept, each.most) for each in found] == [(False, 2), (True, 0)]
    assert [each.used for each in found] == [2, 0]
    (only,) = kept('only "Tideline Wash"')
    assert not only.kept
