"""The change of a routine that helps most, and why, or that none is called for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import STRONG, UNREAD_AT_WORK
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.advice import Change
from abluent.engine.routines.advice_tried import How
from abluent.engine.routines.buildup import Film, washes_of
from abluent.engine.routines.how_often import unadvised
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import (
    TROUBLE,
    State,
    family_of,
    minded,
    no_reason,
    takers,
    uncounted,
)
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.routine import WEEK, Schedule, unrolled
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine import advice_often
from abluent.shell.routine.advice_besides import too_often
from abluent.shell.routine.advice_buy import TO_BUY
from abluent.shell.routine.advice_care import after_it
from abluent.shell.routine.advice_left import of_old
from abluent.shell.routine.beforehand import to_do_first, well_of
from abluent.shell.routine.days import ORDER, on_days, on_weekday, once_in, rhythm
from abluent.shell.routine.words import kinds, those, what_of


def first(found: Accounted, world: World) -> Iterator[str]:
    """The changes and why, or that nothing has to change."""
    change = found.change
    if change is None:
        if not any(each.wash for each in found.oftener):
            yield from _unchanged(found, world)
    elif change.milder and not (change.often or _unread(change)):
        yield from _milder(found, change, world)
    else:
        often = {e.wash: e for e in found.oftener if e.films[0].source != WATER}
        noted = {e.wash for e in found.oftener if advice_often.by_note(e)}
        every = How.ALWAYS
        changes = [e for e in found.changes if e.new not in noted or e.how is every]
        for number, each in enumerate(changes):
            step = _step(each) if not number else _next_step(change, each)
            why = _because(each, world)
            if each.new in often and each.use.wash:
                more = often[each.new]._replace(now=_now(found, each.new))
                step = advice_often.step(more, world)
                why = f"{why}; more seldom, {advice_often.between(more)}"
            yield as_sentence(f"{step}{_kept_for(found, each)}: {why}")
        yield from _less_often(found)
        if changes:
            yield from _for_most_days(found, world)
        yield from _of_old(found, world)
        now = {each.want for each in found.kept if each.kept}
        now.update(*(e.kept for e in found.changes if not e.better))
        for wish in found.then:
            if wish.kept and wish.want not in now:
                yield f"`{print_want(wish.want)}` is kept then."


def _kept_for(found: Accounted, change: Change) -> str:
    """What a strong wash that was used too often is kept for."""
    apart = found.harmed_apart
    if _against(change) or not (
        change.milder and change.often and change.how is How.ALWAYS and apart
    ):
        return ""
    return f", and keep {change.old} for {rhythm(apart)} at the most"


def _less_often(found: Accounted) -> Iterator[str]:
    """That one is to wash less often where a change brings a strong wash too often."""
    if found.then_overdone and not found.mild:
        names = listed(found.then_overdone)
        verb = "is a strong wash" if len(found.then_overdone) == 1 else "are strong"
        yield f"Wash less often then, such as every third day: {names} {verb}."


def _now(found: Accounted, wash: str) -> int:
    """In how many days a wash is used now; 0 where it is not."""
    days = found.built.schedule
    uses = sum(use.product == wash for use in days.washes)
    return round(days.days / uses) if uses else 0


def _milder(found: Accounted, change: Change, world: World) -> Iterator[str]:
    """A change that nothing but mildness asks for."""
    if found.oftener:
        return
    keep = ""
    if change.how is How.ALWAYS and change.use.wash:
        keep = f", and keep {change.old} for when hair feels coated"
    yield as_sentence(
        f"{_step(change)}{keep}: {_because(change, world)}; nothing else has to "
        f"change, as {_all_well(found, world)}"
    )


def _step(change: Change) -> str:
    """A change in the words of somebody who is to do it."""
    days, use = change.days, change.use
    verb = "wash with" if use.wash else "use"
    told = f"{verb} {change.new} instead of {change.old}"
    on = on_days(days, [use])
    after = f"at the wash right after {change.follows}" if change.follows else ""
    if change.how is How.ALWAYS:
        return f"{told} every time"
    if change.how is How.MOSTLY:
        right = f", right after {change.follows}" if change.follows else ""
        return f"{told} every time but {_left_to(change)}{right}"
    if change.how in {How.WEEKLY, How.SELDOM}:
        since = f", first {on}"
        if days.turns:
            since = _weekday_of(change) or ", from the next wash on"
        return f"{told} {change.how}{f', {after}' if after else since}"
    if days.days != WEEK and change.every in ORDER:
        first = f"first {on_weekday(days, use)}"
        span = days.days // len(slots_of(days)) * change.every
        even = days.turns and not days.days % len(slots_of(days))
        in_days = f" ({once_in(span)})" if even else ""
        return f"{told} at every {ORDER[change.every]} wash{in_days}, {after or first}"
    often = "once a week" if days.days == WEEK else f"once in {days.days} days"
    return f"{told} {often}, {on}{f', {after}' if after else ''}"


def _weekday_of(change: Change) -> str:
    """The weekday of all uses that change, where it is one and the same."""
    pairs = zip(slots_of(change.days), slots_of(change.after), strict=True)
    uses = [use for use, then in pairs if use.product != then.product]
    told = {on_weekday(change.days, use) for use in uses}
    return f", {told.pop()}" if len(told) == 1 else ""


def _left_to(change: Change) -> str:
    """How often the product that another takes the place of is used still."""
    days = change.days
    left = [use for use in slots_of(change.after) if use.product == change.old]
    on = on_days(days, left[:1])
    if days.days == WEEK and len(left) == 1:
        return f"once a week, {on}"
    if days.turns and days.days == 2 * WEEK and len(left) == 1:
        return f"once in two weeks, first {on_weekday(days, left[0])}"
    if days.turns and len(left) == 1:
        return f"once in {days.days} days, {on}"
    span = days.days // len(left)
    return f"once {'a week' if span <= WEEK else 'in two weeks'}, first {on}"


def _next_step(first: Change, then: Change) -> str:
    """A change that goes with another."""
    if then.new == first.new and then.how is first.how:
        return f"do so instead of {then.old} too"
    step = _step(then)
    if then.old == first.old:
        step = step.replace(" every time", " the other times")
    return f"and {step}"


def _because(change: Change, world: World) -> str:
    """Why: what no wash takes now, and what takes it or leaves it no longer."""
    states = {each.film: each.state for each in change.before.told}
    after = {each.film: each.state for each in change.overview.told}
    if change.milder and (unread := _unread(change)):
        return f"{unread}, so it counts as strong; nothing more builds up without it"
    if change.milder:
        worse = [f for f, s in after.items() if s < states.get(f, State.CLEARED)]
        more = ", and nothing more builds up then"
        more = "" if any(after[film] in TROUBLE for film in worse) else more
        strong = f"{change.old} is a strong wash and {change.new} is not"
        return f"{_against(change) or strong}{more}"
    better = minded(change.better, world)
    kept = [film for film in better if film in after]
    gone = minded(_gone(change, world), world) or [f for f in better if f not in after]
    unsure = [
        film
        for film, state in after.items()
        if state is State.MAY_GROW and states.get(film) is State.GROWS
    ]
    told = []
    if gone and change.use.wash:
        told.append(f"{change.old} leaves {kinds(gone, world)} itself at each wash")
    elif gone:
        ends = "" if kept else f", and no wash that you use {_fails(gone, states)}"
        none = f"{change.old} leaves {kinds(gone, world)}{ends}"
        less = f"; {change.new} leaves none" if _gone(change, world) else ""
        told.append(f"{none}{less}")
    if kept:
        told.append(
            f"{'it' if not gone else change.new} takes at least a part of "
            f"{what_of(kept, world)}, and no wash that you use now "
            f"{_fails(kept, states)}"
            f"{f' ({unread})' if (unread := _unread(change)) else ''}"
        )
    if unsure:
        also = "also " if told else ""
        none = "" if told else ", and no wash that you use now can take any"
        told.append(f"it may {also}take a part of {what_of(unsure, world)}{none}")
    always = change.how is How.ALWAYS
    if always and not gone and (against := _against(change)):
        told.append(against)
    if not told:
        told = [f"that keeps {listed([f'`{print_want(w)}`' for w in change.kept])}"]
    if always and _strong(change, change.old) and not _strong(change, change.new):
        told.append(f"{change.old} is a strong wash and {change.new} is not")
    return "; ".join(told)


def _gone(change: Change, world: World) -> list[Film]:
    """What is left no longer, but for what the new product leaves of the same kind."""
    after = {each.film for each in change.overview.told}
    left = change.overview.built.effects.left.get(change.new, ())
    again = {family_of(film, world) for film in left}
    gone = [film for film in change.better if film not in after]
    return [film for film in gone if family_of(film, world) not in again]


def _strong(change: Change, wash: str) -> bool:
    """Whether a wash is a strong one, whatever the routine leaves."""
    case = change.overview.built.effects.case
    assert case is not None
    return case.model.holds(STRONG, (case.world.symbol(wash),))


def _against(change: Change) -> str:
    """Why a wash that goes is one that nobody is advised to take; else empty."""
    case = change.overview.built.effects.case
    assert case is not None
    return unadvised(case, change.old) if change.use.wash else ""


def _unread(change: Change) -> str:
    """That the label of a wash was not read to the end, where that is why."""
    case = change.overview.built.effects.case
    assert case is not None
    symbol = case.world.symbol(change.old)
    if not case.model.holds(UNREAD_AT_WORK, (symbol,)):
        return ""
    return f"a line on the label of {change.old} was not understood"


def _fails(films: Sequence[Film], states: Mapping[Film, State]) -> str:
    sure = all(states[film] is State.GROWS for film in films)
    return "can take any" if sure else "is known to take any"


def _of_old(found: Accounted, world: World) -> Iterator[str]:
    """What becomes of what is on the hair already and is not left any more."""
    after = {each.film for each in found.after.told}
    gone = [f for e in found.changes for f in _gone(e, world) if f not in after]
    if gone:
        used = dict.fromkeys(use.product for use in found.after.built.schedule.washes)
        yield from of_old(gone, used, found.built.effects, world)


def _unchanged(found: Accounted, world: World) -> Iterator[str]:
    overview, days = found.overview, found.built.schedule
    late = [each.want for each in found.kept if not each.kept]
    trouble = [e for e in overview.of(*TROUBLE) if not no_reason(overview, e)]
    films = [film for each in trouble for film in each.films]
    if found.overdone:
        yield from _overdone(found, world)
    elif not trouble and not late:
        lead = "Nothing has"
        if to_do_first(overview, found.routine, world):
            lead = "Nothing else has"
        if uncounted(days, found.built.effects, world):
            lead = f"For the rest, {lead.lower()}"
        yield f"{lead} to change: {_all_well(found, world)}."
    elif not washed(days):
        yield from _first_wash(found, films, world)
    elif rinse := next((each for each in found.perhaps if each.rinse), None):
        yield (
            f"Keep your washes, and use {rinse.name} after one wash a week: it may "
            f"take a part of {kinds(rinse.films, world)}, which no wash at hand surely "
            "does."
        )
    else:
        well = [f for e in overview.of(State.BOUNDED, State.CLEARED) for f in e.films]
        takes = ""
        if well:
            takes = f"they take at least a part of {those(well, overview, world)}"
        if takes and any(not each.rinse for each in found.perhaps):
            yield f"Keep most of your washes: {takes}."
        else:
            takes = f"{takes}, and " if takes else ""
            yield f"Keep your washes: {takes}nothing at hand surely does more."


def _overdone(found: Accounted, world: World) -> Iterator[str]:
    """That a strong wash is used too often, where no wash at hand takes its place."""
    days = unrolled(found.built.schedule)
    keep = f"keep {listed(found.overdone)} for {once_in(found.seldom())}"
    such = f", such as one with {_mild(found, world)}," if found.mild else ""
    instead = f"Buy a mild wash for most days{such} and {keep}, or wash less often"
    yield from too_often(found.overdone, days, found.gentler, world, instead)


def _mild(found: Accounted, world: World) -> str:
    """What a mild wash to buy may rest on."""
    agents = found.mild[0].agents[:TO_BUY]
    return in_a_row(map(world.base.label, agents), "or")


def _for_most_days(found: Accounted, world: World) -> Iterator[str]:
    """A mild wash to buy, where a change makes strong washes come too often."""
    new, always = found.changes[0].new, found.changes[0].how is How.ALWAYS
    if found.mild and _strong(found.changes[0], new):
        then = f", and use {new} {once_in(found.seldom(new))} then" if always else ""
        yield (
            f"{new} is a strong wash, so better still buy a mild one for most days, "
            f"such as one with {_mild(found, world)}{then}."
        )


def _all_well(found: Accounted, world: World) -> str:
    overview = found.overview
    if not overview.told:
        return well_of(overview.built, world)
    level = [film for each in overview.of(State.LEVELS) for film in each.films]
    if not overview.of(State.BOUNDED, State.CLEARED):
        return "what your products leave is expected to level off by itself"
    most = "most of what" if overview.of(*TROUBLE) else "all that"
    well = f"your washes take at least a part of {most} your products leave"
    if not level:
        return well
    return f"{well}; {what_of(level, world)} are expected to level off anyway"


def washed(days: Schedule) -> bool:
    """Whether anything but water is washed with."""
    return any(use.product != WATER for use in days.washes)


def _first_wash(found: Accounted, films: Sequence[Film], world: World) -> Iterator[str]:
    """What to wash with where nothing is washed: what takes most, the mild first."""
    effects, days = found.built.effects, found.built.schedule
    case = effects.case
    assert case is not None
    hand = [w for w in washes_of(world) if films and (w, films[0]) in effects.verdicts]
    taken = {w: [f for f in films if takers(effects, [w], [f])] for w in hand}

    def marks(wash: str) -> tuple[bool, bool, int]:
        strong = found.strong_at_hand(wash)
        return bool(unadvised(case, wash)), strong, -len(taken[wash])

    able = sorted((wash for wash in hand if taken[wash]), key=marks)
    if not able:
        yield (
            f"Add a wash: nothing in this routine washes {kinds(films, world)} off, "
            "and no wash at hand surely takes any."
        )
        return
    wash, rest = able[0], [film for film in films if film not in taken[able[0]]]
    rinse = ", in the place of a rinse with water" if days.washes else ""
    yield (
        f"Wash with {wash} once a week{rinse}: nothing in this routine washes, and it "
        f"takes at least a part of {kinds(taken[wash], world)}."
    )
    if rest:
        yield f"Whether it takes any of {kinds(rest, world)} is not known."
    if found.strong_to_skin(wash):
        after = after_it(found.conditioner, days)
        yield f"{wash} is a strong wash: {after}."
