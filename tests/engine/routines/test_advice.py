"""The change that helps most: shown by an account, and better than any other."""

from __future__ import annotations

from functools import cache

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import World
from abluent.engine.routines.advice_tried import How
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.outcome import Accounted, account_of
from abluent.engine.routines.overview import TROUBLE, State
from abluent.engine.routines.plan_purchase import remedies
from abluent.grammar.query.parse import parse_query
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.session.session import Session


@cache
def world() -> World:
    return Session.open().world


def account(text: str) -> Accounted:
    return account_of(parse_routines(f"water is soft\n{text}")[0], world())


MILD = """\
wash with "Shallows Wash" on Monday and Thursday
use "Harbour Cream" after every wash
"""


def test_the_change_is_shown_to_work_by_an_account_of_its_own() -> None:
    """The routine with the change typed in says what the advice said."""
    found = account(MILD)
    change = found.change
    assert change is not None
    assert (change.old, change.how) == ("Shallows Wash", How.ONCE)
    assert "dimethicone" in {film.former for film in change.better}
    typed = account(
        f'wash with "{change.new}" on Monday\nwash with "Shallows Wash" on Thursday\n'
        'use "Harbour Cream" after every wash\n'
    )
    told = {each.film: each.state for each in typed.overview.told}
    assert told == {each.film: each.state for each in change.overview.told}
    assert not any(told[film] in TROUBLE for film in change.better)


def test_a_wash_that_is_not_strong_is_advised_where_one_does() -> None:
    found = account(MILD)
    assert found.change is not None
    assert not found.strong_at_hand(found.change.new)


def test_in_a_long_routine_once_is_not_enough() -> None:
    found = account(f"for 4 weeks\n{MILD}")
    assert found.change is not None
    assert found.change.how is How.WEEKLY


def test_where_all_is_well_a_milder_wash_is_advised_and_no_more() -> None:
    found = account('wash with "Breakwater Wash" on Sunday\n')
    assert found.change is not None
    assert found.change.milder
    assert not found.change.better
    assert account('wash with "Dune Grass Wash" on Sunday\n').change is None


def test_a_film_that_no_wash_can_take_builds_up_for_certain() -> None:
    """In hard water a wash without chelant or acid takes none of the minerals."""
    text = MILD.replace("Shallows", "Tideline")
    found = account_of(parse_routines(f"water is hard\n{text}")[0], world())
    grown = {f for each in found.overview.of(State.GROWS) for f in each.films}
    assert {film.source for film in grown} == {"water"}
    assert all(
        each.amounts.plateau == (None, None)
        for each in found.overview.told
        if each.film in grown
    )


def test_a_film_is_told_with_its_narrowest_family() -> None:
    found = account(MILD)
    kinds = {
        f.former: each.kind for each in found.overview.families for f in each.films
    }
    assert kinds["dimethicone"] == "Silicone"
    assert kinds["cetyl-esters"] == "Wax"
    assert kinds["behentrimonium-chloride"] == "CationicSurfactant"


def test_what_to_buy_takes_a_part_of_what_it_is_for() -> None:
    """Asked by itself, each surfactant named surely takes a part; scale none does."""
    hard = world().under(["hard"], "the test")
    silicone = Film("dimethicone", "Harbour Cream")
    scale = Film("calcium-carbonate-scale", "water")
    found, never = remedies([silicone, scale], hard, ast.AS_TOLD, ["Harbour Cream"])
    assert never == (scale,)
    (remedy,) = found
    assert remedy.films == (silicone,)
    names = [hard.base.label(agent) for agent in remedy.agents[:2]]
    for name in names:
        answer = ask(parse_query(f'does "{name}" clear "Dimethicone"'), hard)
        roles = {row.role for row in answer.rows if isinstance(row, Verdict)}
        assert {ENDS[role][0] for role in roles} == {Role.PART_OF_IT}
