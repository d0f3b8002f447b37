"""What a plan says to do and why, and what no plan can do, in its first sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.overview import TROUBLE, family_of, minded, takers, why
from abluent.engine.routines.plan import Planned
from abluent.engine.routines.plan_outcome import PlannedWithReasons
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Plan
from abluent.engine.routines.plan_why import chosen_schedule
from abluent.engine.routines.routine import WEEK, Schedule, Use, unrolled
from abluent.engine.routines.wishes import Wait
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine.account_words import said_of
from abluent.shell.routine.advice_besides import too_often
from abluent.shell.routine.advice_care import after_it
from abluent.shell.routine.advice_left import in_part, of_old
from abluent.shell.routine.advice_words import to_do
from abluent.shell.routine.beforehand import (
    to_do_first,
    to_questions,
    uncounted,
    unlisted,
)
from abluent.shell.routine.days import (
    ORDER,
    a_turn,
    counted,
    day_of,
    on_days,
    on_weekday,
    once_in,
)
from abluent.shell.routine.plan_words import long
from abluent.shell.routine.words import by_family, kinds, those

SAID = 4
"""Washes of a plan that are told in its first sentence; more are listed."""

LONG = 28
"""After how many days nobody sees at a glance how often something is."""

_LEVELS = "; it is expected to level off by itself"


def opening(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """What to wash with and why, then what no plan can do."""
    planned = found.planned
    said = list(to_do(found.account, world)) if found.account is not None else []
    if found.account is not None:
        yield from said
    else:
        if found.beside:
            then = found.beside[0].overview
            yield from to_questions(then, planned.routine, world)
            yield from to_do_first(then, planned.routine, world)
        yield from unlisted(planned.routine)
        yield from uncounted(planned.schedule, planned.effects, world)
    if found.settled:
        yield from _as_advised(found, " ".join(said))
    elif planned.shown.plans:
        yield from _planned(found, world)
    elif not planned.stuck and found.account is None:
        yield "There is no plan that keeps to everything."
    level = planned.effects.level
    left = [film for film in planned.stuck if film not in planned.met]
    if left:
        yield (
            f"No wash on this shelf surely takes {by_family(left, world)}, so no plan "
            f"keeps to everything{_LEVELS if level.issuperset(left) else ''}."
        )
    stuck = [film for film in planned.stuck if film not in level]
    others, sure = found.left_out
    if others:
        would = "would take at least" if sure else "may take"
        yield (
            f"{listed(others)}, which your wishes leave out, {would} a part of "
            f"{kinds(stuck, world)}."
        )
    yield from _why_stuck(planned, stuck)


def _as_advised(found: PlannedWithReasons, said: str) -> Iterator[str]:
    """Which wishes are kept by what the account advises, where it has not said so."""
    assert found.account is not None
    for each in found.account.then:
        want = print_want(each.want)
        if each.kept and want not in said:
            part = ", in part at least" if each.in_part else ""
            yield f"`{want}` is kept so{part}."


def _planned(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """What the plan to follow is, and what goes with it."""
    planned, first, account = found.planned, found.beside[0], found.account
    told = f"{_to_do(planned, planned.shown.plans[0])}: {_reason(found, world)}"
    if found.overdone and account is None:
        days = unrolled(first.overview.built.schedule)
        yield from too_often(found.overdone, days, found.gentler, world)
    if account is not None:
        told = f"to keep your wishes to the letter, beside that: {told}"
    elif found.now is not None and found.now.chosen == first.chosen:
        told = f"keep to it, and {told}"
    if found.swap is not None:
        told = f"use {found.swap.new} instead of {found.swap.old}, and {told}"
    nothing = account is not None and not (_taken(found) or _gone(found))
    if not (nothing or {*first.chosen} <= {*found.overdone}):
        yield as_sentence(told)
    yield from in_part(first.overview, world)
    yield from _left(found, world)


def _reason(found: PlannedWithReasons, world: World) -> str:
    """Why the plan is one: what it takes in time, and what is left out with it."""
    planned, told = found.planned, list[str]()
    if found.swap is not None:
        told.append(
            f"{found.swap.old} leaves {kinds(found.swap.films, world)}, which no wash "
            "on this shelf surely takes"
        )
    told += _unread(found)
    gone = _gone(found)
    for source in dict.fromkeys(film.source for film in gone):
        some = kinds([film for film in gone if film.source == source], world)
        told.append(f"{source} leaves {some}, and this does without it")
    taken = _taken(found)
    if taken:
        told.append(_in_time(found, taken, world))
    elif any(each.whole for each in found.kept) and not gone:
        told.append("these days end before your wishes ask for anything to be cleared")
    elif not planned.routine.wants:
        told.append(
            "no line asks for anything to be cleared, and of the washes to choose from "
            "none is known to be milder"
        )
    elif not gone and not planned.stuck:
        dark = any(uncounted(planned.schedule, planned.effects, world))
        known = "known to be left" if dark else "left"
        told.append(f"then nothing that your wishes name is {known} to clear")
    if planned.met:
        by = list(dict.fromkeys(planned.shown.plans[0].chosen))
        shares = found.beside[0].overview.shares
        able = [w for w in by if any(shares.of(w, f).most for f in planned.met)]
        told.append(
            f"{listed(able)} may take a part of {kinds(planned.met, world)}, which no "
            "wash to choose from surely does"
        )
    return "; ".join(told or ["no wash to choose from surely does more"])


def _asks(planned: Planned) -> bool:
    """Whether some wish of a routine is about films."""
    return any(isinstance(want, ast.Clear) for want in planned.routine.wants)


def _unread(found: PlannedWithReasons) -> Iterator[str]:
    """Washes of now that the plan does without, and that were not read to the end."""
    now = found.now.chosen if found.now is not None else ()
    for wash in dict.fromkeys(now):
        if wash in found.planned.problem.unread and wash not in found.beside[0].chosen:
            yield f"a line on the label of {wash} was not understood"


def _in_time(found: PlannedWithReasons, taken: Sequence[Film], world: World) -> str:
    """How soon some films are taken; apart, those that wait longer than is wished."""
    late = {film for each in found.kept for film in each.late}
    timely = [film for film in taken if film not in late]
    rest = [film for film in taken if film in late]
    waits = [each.whole for each in found.kept if each.whole and each.whole.days]
    told = []
    if timely:
        within = f"within {long(max(waits, key=_soon))} " if waits else ""
        told.append(f"{within}that takes at least a part of {kinds(timely, world)}")
    if rest:
        also = "it also takes" if timely else "that takes"
        told.append(
            f"{also} at least a part of {kinds(rest, world)}, though later than your "
            "wishes ask"
        )
    return "; ".join(told)


def _soon(wait: Wait) -> int:
    return wait.days or 0


def _taken(found: PlannedWithReasons) -> list[Film]:
    """The films that the wishes name and the plan surely takes in time."""
    planned = found.planned
    chosen = planned.shown.plans[0].chosen
    left = {each.film for each in found.beside[0].overview.told}
    clears = planned.problem.clears
    return [
        film
        for film in dict.fromkeys(need.film for need in planned.problem.needs)
        if film in left and any(film in clears[wash] for wash in chosen)
    ]


def _gone(found: PlannedWithReasons) -> list[Film]:
    """What washes of now leave, the wishes name, and the plan does without."""
    if found.now is None:
        return []
    after = {each.film for each in found.beside[0].overview.told}
    asked = {need.film for need in found.planned.problem.needs}
    world = found.planned.case.world
    kinds_left = {family_of(film, world) for film in after}
    washes = {*found.planned.problem.washes}
    return [
        each.film
        for each in found.now.overview.told
        if each.film not in after
        and each.film.source in washes
        and each.film in asked
        and family_of(each.film, world) not in kinds_left
    ]


def _left(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """What is on the hair already, and what builds up that no wish names."""
    planned, then = found.planned, found.beside[0]
    gone = [*_gone(found), *(found.swap.films if found.swap else ())]
    if gone:
        yield from of_old(gone, dict.fromkeys(then.chosen), found.judged, world)
    asked = {need.film for need in planned.problem.needs}
    met = found.besides.films if found.besides else ()
    told = (e for e in then.overview.told if e.film not in asked and e.film not in met)
    left = minded((e.film for e in told if e.state in TROUBLE), world)
    if left:
        able = takers(planned.effects, planned.problem.washes, left)
        because = "no wash at hand surely takes any"
        if able:
            because = f"{listed(able)}, used more often, would take at least a part"
        wishes = "Your wishes do not name" if _asks(planned) else "No wish names"
        yield (
            f"{wishes} {those(left, then.overview, world)}, which may "
            f"build up: {because}."
        )


def besides(found: PlannedWithReasons, world: World) -> Iterator[str]:
    """A wash that does what the plan cannot do, and need not."""
    each = found.besides
    advised = found.account.changes if found.account else ()
    if each is None or each.new in {change.new for change in advised}:
        return
    planned = found.planned
    strong = ""
    if planned.strong(each.new) and planned.strong(each.old):
        strong = f" It is as strong a wash as {each.old}."
    elif planned.strong(each.new):
        strong = (
            f" It counts as strong: {after_it(found.conditioner, each.days, each.use)}."
        )
    takes = "takes at least" if each.sure else "may take"
    build = "may build up" if each.sure else "build up under this plan"
    them = kinds(each.films, world)
    first = on_weekday(each.days, each.use)
    told = (
        f"{once_in(each.every)} wash with {each.new} instead of {each.old}, first "
        f"{first}: {them} {build}, and it {takes} a part of them"
    )
    yield f"{as_sentence(told)} All that is kept stays kept.{strong}"


def _to_do(planned: Planned, plan: Plan) -> str:
    """The plan in the words of somebody who is to follow it."""
    days = chosen_schedule(planned, plan)
    slots = slots_of(days)
    by: dict[str, list[Use]] = {}
    for use in slots:
        by.setdefault(use.product, []).append(use)
    if len(by) == 1:
        (wash,) = by
        if len(slots) > SAID or days.days > WEEK:
            return f"wash with {wash} every time"
        return f"wash with {wash} {on_days(days, slots)}"
    common, *rest = sorted(by, key=lambda w: (-len(by[w]), planned.strong(w)))
    named = days.days != WEEK
    step = _every(slots, by[rest[0]]) if named and len(rest) == 1 else 0
    if step and (step in ORDER or step == len(slots)):
        first = day_of(days, by[rest[0]][0].day)
        how = once_in(days.days)
        if step in ORDER:
            often = f" ({how})" if step == len(slots) and days.turns else ""
            how = f"at every {ORDER[step]} wash{often}"
        return (
            f"wash with {rest[0]} {how}, first on {first}, and with {common} the other "
            "times"
        )
    if len(slots) <= SAID:
        each = [f"{wash} {on_days(days, some)}" for wash, some in by.items()]
        return f"wash with {_row(each)}"
    few = [wash for wash in rest if len(by[wash]) <= SAID]
    told = [f"{wash} {on_days(days, by[wash])}" for wash in few]
    told += [f"{w} {_spread(days, len(by[w]))}" for w in rest if w not in few]
    return f"wash with {_row(told)}, and with {common} the other times"


def _spread(days: Schedule, count: int) -> str:
    """How often something is used, over many weeks also about once in how long."""
    told = f"{counted(count)} {a_turn(days)}"
    often = once_in(round(days.days / count))
    return f"{told} (about {often})" if days.days > LONG else told


def _every(slots: Sequence[Use], some: Sequence[Use]) -> int:
    """At every how-manieth wash some are, over and over; 0 if at no such."""
    places = [slots.index(use) for use in some]
    step, rest = divmod(len(slots), len(some))
    even = all(later - place == step for place, later in pairwise(places))
    return step if not rest and even else 0


def _row(each: Sequence[str]) -> str:
    return f"{', '.join(each[:-1])}, and {each[-1]}" if len(each) > 1 else each[0]


def _why_stuck(planned: Planned, stuck: Sequence[Film]) -> Iterator[str]:
    """Why no wash at hand takes what is stuck: the reasons that most washes share."""
    given: dict[str, list[str]] = {}
    seen: set[str] = set()
    hand = planned.problem.washes
    for film in stuck:
        family = family_of(film, planned.case.world)
        if family not in seen:
            seen.add(family)
            for wash in hand:
                given.setdefault(why(planned.case, wash, film), []).append(wash)
    given.pop("", None)
    most = sorted(given.items(), key=lambda each: -len(each[1]))
    for reason, some in most[: SAID if len(seen) > 1 else 2]:
        yield f"Why: {said_of(reason, list(dict.fromkeys(some)), hand)}"
