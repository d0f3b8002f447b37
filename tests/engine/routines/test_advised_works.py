"""What is advised, typed as a routine of its own, does what was said of it."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from abluent.engine.questions.world.world import WATER, Product, World
from abluent.engine.routines.buildup import build_up, rinses_of, washes_of
from abluent.engine.routines.conditioning import conditioners
from abluent.engine.routines.how_often import never_bought, washed_for
from abluent.engine.routines.outcome import Accounted, account_of
from abluent.engine.routines.overview import TROUBLE, Overview, State, family_of
from abluent.engine.routines.plan_problem import slots_of
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.session.session import Session


@cache
def world() -> World:
    return Session.open().world


def drawn(seed: int) -> str:
    """A routine of the demo shelf, drawn at random."""
    random = Random(seed)
    washes = washes_of(world())
    others = [n for n in world().products if n not in washes]
    lines = [f"water is {random.choice(['soft', 'hard'])}"]
    days = ["daily", "twice a week", "on Sunday", "every 2 days", "three times a week"]
    for wash in random.sample(washes, random.randint(1, 2)):
        lines.append(f'wash with "{wash}" {random.choice(days)}')
    for name in random.sample(others, random.randint(1, 3)):
        when = random.choice(["after every wash", "daily", "on Friday"])
        lines.append(f'use "{name}" {when}')
    if random.random() < 0.4:
        lines.append(f"clear silicones every {random.randint(1, 4)} washes")
    if random.random() < 0.3:
        lines.append("at most 1 strong wash a week")
    return "\n".join(lines)


@cache
def told(seed: int) -> Accounted:
    return account_of(parse_routines(drawn(seed))[0], world())


def worst(overview: Overview) -> dict[str, State]:
    """The worst state of each family of films that is a reason for a stronger wash."""
    found: dict[str, State] = {}
    for each in overview.told:
        kind = family_of(each.film, world())
        if washed_for(world().base, kind):
            found[kind] = min(each.state, found.get(kind, each.state))
    return found


def holds_of_what_is_advised(seed: int) -> None:
    """Each change helps by its account, harms no such family, and breaks no wish."""
    found = told(seed)
    before, kept = found.overview, {e.want for e in found.kept if e.kept}
    for change in found.changes:
        days = change.after
        after = Overview(build_up(days, found.built.effects), before.shares)
        assert [e.state for e in after.told] == [e.state for e in change.overview.told]
        now, then = worst(before), worst(after)
        sure = [sum(s is State.GROWS for s in each.values()) for each in (now, then)]
        for kind, state in then.items():
            fine = state not in TROUBLE or state >= now.get(kind, State.CLEARED)
            assert fine or (state is State.MAY_GROW and sure[1] < sure[0])
        states = {each.film: each.state for each in after.told}
        assert not any(states.get(film) in TROUBLE for film in change.better)
        strong = [
            sum(map(found.strong_at_hand, (u.product for u in slots_of(each))))
            for each in (change.days, days)
        ]
        eased = {e.film for e in before.told if e.state is State.GROWS} - {
            film for film, state in states.items() if state is State.GROWS
        }
        helps = change.better or change.kept or eased
        assert strong[1] < strong[0] if change.milder else helps
        before = after
    assert kept <= {each.want for each in found.then if each.kept}


def holds_of_what_is_said_beside(found: Accounted, world: World) -> None:
    """What is said to try, to use after a wash and to buy is right by the verdicts."""
    overview, shares = found.after, found.after.shares
    used = {use.product for use in overview.built.schedule.washes}
    for each in found.perhaps:
        assert each.name not in used
        assert each.rinse == (each.name in rinses_of(world))
        assert all(shares.of(each.name, film).most for film in each.films)
    for stronger in found.stronger:
        assert stronger.wash not in used
        ends = [shares.of(stronger.wash, film) for film in stronger.films]
        assert all(each.least if stronger.sure else each.most for each in ends)
    if found.care is not None:
        washes = {w for w in washes_of(world) if not found.strong_to_skin(w)}
        co_wash = washes if found.care.strong else set[str]()
        assert found.care.by in {*conditioners(world), *co_wash, ""}
        assert not found.care.gap or not found.care.by
    bad = {each.film for each in overview.told if each.state in TROUBLE}
    for remedy in found.buy:
        assert bad.issuperset(remedy.films)
        assert remedy.agents
        assert not any(never_bought(agent, world.base) for agent in remedy.agents)
        for film in remedy.films:
            judged = [w for w, f in found.built.effects.verdicts if f == film]
            hand = [w for w in judged if w not in {WATER, *rinses_of(world)}]
            assert not any(shares.of(wash, film).least for wash in hand)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(2))
def test_what_is_advised_works(seed: int) -> None:
    holds_of_what_is_advised(seed)
    holds_of_what_is_said_beside(told(seed), world())


@pytest.mark.long
@pytest.mark.parametrize("seed", range(2, 60))
def test_what_is_advised_works_on_many(seed: int) -> None:
    holds_of_what_is_advised(seed)
    holds_of_what_is_said_beside(told(seed), world())


@pytest.mark.slow
def test_what_is_to_be_bought_is_what_no_wash_at_hand_takes() -> None:
    """On a shelf with one mild wash and a silicone that stays."""
    known = world().known
    poor = World(
        known.base,
        known.program,
        [
            Product("Fen Wash", "wash", "EU", "Aqua, Coco-Glucoside, Sodium Benzoate"),
            Product("Fen Serum", "leave-in", "EU", "Dimethicone, Dimethiconol"),
        ],
        (),
    )
    lines = 'water is soft\nwash with "Fen Wash" daily\nuse "Fen Serum" daily'
    found = account_of(parse_routines(lines)[0], poor)
    assert found.buy
    holds_of_what_is_said_beside(found, poor)
