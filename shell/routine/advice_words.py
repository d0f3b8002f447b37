"""What to do next about a routine, and why, in sentences somebody would say aloud."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from abluent.engine.base.contract import STRONG, UNREAD_AT_WORK
from abluent.engine.base.phrases import with_article
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.advice import Change, How
from abluent.engine.routines.buildup import Effects, Film, washes_of
from abluent.engine.routines.conditioning import Care, left_in
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import (
    TROUBLE,
    Overview,
    State,
    family_of,
    partly,
    takers,
    unknown,
)
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_purchase import Remedy
from abluent.engine.routines.routine import WEEK, Schedule
from abluent.engine.routines.unadvised import unadvised
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine.days import ORDER, on_days, on_weekday
from abluent.shell.routine.words import by_family, kinds, those

TO_BUY = 3
"""Surfactants that are named for a wash to buy."""


def advice(found: Accounted, world: World) -> list[str]:
    """What to do next and why, then what that leaves and what goes with it."""
    told = [*_first(found, world), *in_part(found.after, world)]
    told += _left(found, world)
    told += _perhaps(found, world)
    told += _unknown(found, world)
    told += _if_coated(found, world)
    if found.care is not None:
        strong = [e.new for e in found.changes if found.strong_to_skin(e.new)]
        said = list(conditioned(found.care, found.after.built.schedule, world, strong))
        told += [*said, *[_PRACTICE] * bool(said)]
    told += to_buy(found, world)
    return told


_PRACTICE = (
    "(Conditioning after a strong wash, and how often: common practice, no source.)"
)


# --- the first sentences --------------------------------------------------------------


def _first(found: Accounted, world: World) -> Iterator[str]:
    change = found.change
    if change is None:
        yield from _unchanged(found, world)
    elif change.milder and not (change.often or _unread(change)):
        yield f"Nothing has to change: {_all_well(found)}."
        yield (f"Milder would be this: {_step(change)}. Nothing more builds up then.")
    else:
        for number, each in enumerate(found.changes):
            step = _step(each) if not number else _next_step(change, each)
            yield as_sentence(f"{step}: {_because(each, world)}")
        yield from _of_old(found, world)
        now = {each.want for each in found.kept if each.kept}
        now.update(*(e.kept for e in found.changes if not e.better))
        for wish in found.then:
            if wish.kept and wish.want not in now:
                yield f"`{print_want(wish.want)}` is kept then."


def _if_coated(found: Accounted, world: World) -> Iterator[str]:
    """A stronger wash at hand for films of which any wash takes at most a part."""
    left = {change.old for change in found.changes}
    for each in (e for e in found.stronger if e.wash not in left):
        strong = found.strong_to_skin(each.wash)
        then = f" {after_it(found.conditioner)}." if strong else ""
        yield (
            f"Only if hair comes to feel coated, wash once with {each.wash}: it is "
            f"stronger on {kinds(each.films, world)}.{then}"
        )


def after_it(conditioner: str) -> str:
    """What to do after one strong wash."""
    return f"Use {conditioner} after it" if conditioner else "Condition after it"


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
        return f"{told} every time but {_left_to(change)}"
    if change.how in {How.WEEKLY, How.SELDOM}:
        since = "" if days.turns else f", first {on}"
        return f"{told} {change.how}{f', {after}' if after else since}"
    if days.days != WEEK and change.every in ORDER:
        first = f"first {on_weekday(days, use)}"
        return f"{told} at every {ORDER[change.every]} wash, {after or first}"
    often = "once a week" if days.days == WEEK else f"once in {days.days} days"
    return f"{told} {often}, {on}{f', {after}' if after else ''}"


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
    if change.milder and (unread := _unread(change)):
        return f"{unread}, so it counts as strong; nothing more builds up without it"
    if change.milder:
        if against := _against(change):
            return f"{against}; nothing more builds up then"
        return (
            f"{change.old} is a strong wash and {change.new} is not, and nothing more "
            "builds up then"
        )
    states = {each.film: each.state for each in change.before.told}
    after = {each.film: each.state for each in change.overview.told}
    kept = [film for film in change.better if film in after]
    gone = [film for film in change.better if film not in after]
    unsure = [
        film
        for film, state in after.items()
        if state is State.MAY_GROW and states.get(film) is State.GROWS
    ]
    told = []
    if gone:
        none = f"{change.old} leaves {kinds(gone, world)}"
        ends = f", and no wash that you use {_fails(gone, states)}"
        none += "" if kept else ends
        told.append(none if change.use.wash else f"{none}; {change.new} leaves none")
    if kept:
        told.append(
            f"{'it' if not gone else change.new} takes at least a part of "
            f"{kinds(kept, world)}, and no wash that you use now {_fails(kept, states)}"
            f"{f' ({unread})' if (unread := _unread(change)) else ''}"
        )
    if unsure:
        also = "also " if told else ""
        none = "" if told else ", and no wash that you use now can take any"
        told.append(f"it may {also}take a part of {kinds(unsure, world)}{none}")
    always = change.how is How.ALWAYS
    if always and not gone and (against := _against(change)):
        told.append(against)
    if not told:
        told = [f"that keeps {listed([f'`{print_want(w)}`' for w in change.kept])}"]
    return "; ".join(told)


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


def in_part(overview: Overview, world: World) -> Iterator[str]:
    """What is known of films that are left in and that any one wash takes in part."""
    case = overview.built.effects.case
    assert case is not None
    films = [
        each.film
        for each in overview.told
        if each.state in {*TROUBLE, State.BOUNDED, State.CLEARED}
        and left_in(world, each.film.source)
    ]
    washes = dict.fromkeys(use.product for use in overview.built.schedule.washes)
    told = dict.fromkeys(e for w in washes for e in partly(case, w, films))
    yield from map(as_sentence, told)


def _fails(films: Sequence[Film], states: Mapping[Film, State]) -> str:
    sure = all(states[film] is State.GROWS for film in films)
    return "can take any" if sure else "is known to take any"


def _of_old(found: Accounted, world: World) -> Iterator[str]:
    """What becomes of what is on the hair already and is not left any more."""
    after = {each.film for each in found.after.told}
    gone = [film for each in found.changes for film in each.better if film not in after]
    if gone:
        used = dict.fromkeys(use.product for use in found.after.built.schedule.washes)
        yield of_old(gone, used, found.built.effects, world)


def of_old(
    films: Sequence[Film], used: Iterable[str], effects: Effects, world: World
) -> str:
    """What becomes of films on the hair that are not left any more."""
    it = f"What is on the hair now of {kinds(films, world)}"
    if by := takers(effects, used, films):
        return f"{it} goes in part at each wash with {listed(by)}."
    known = [w for w in washes_of(world) if (w, films[0]) in effects.verdicts]
    if by := takers(effects, known, films):
        case = effects.case
        strong = case and case.model.holds(STRONG, (world.symbol(by[0]),))
        then = ", and condition after it" if strong else ""
        return f"{it} may stay; one wash with {by[0]} would take at least a part{then}."
    return f"{it} may stay a while: no wash at hand surely takes a part of all of it."


def _unchanged(found: Accounted, world: World) -> Iterator[str]:
    overview, days = found.overview, found.built.schedule
    late = [each.want for each in found.kept if not each.kept]
    trouble = overview.of(*TROUBLE)
    films = [film for each in trouble for film in each.films]
    if not trouble and not late:
        yield f"Nothing has to change: {_all_well(found)}."
    elif not days.washes:
        yield from _first_wash(found, films, world)
    elif rinse := next((each for each in found.perhaps if each.rinse), None):
        yield (
            f"Keep your washes, and use {rinse.name} after a wash: it may take a part "
            f"of {kinds(rinse.films, world)}, which no wash at hand surely does."
        )
    else:
        yield "Keep your washes: nothing at hand surely does more."


def _all_well(found: Accounted) -> str:
    overview = found.overview
    if not overview.told:
        return "nothing that this routine leaves needs a wash"
    if overview.of(State.BOUNDED, State.CLEARED):
        most = "all else" if overview.of(State.LEVELS) else "all"
        well = f"your washes take at least a part of {most} that your products leave"
        if not overview.of(State.LEVELS):
            return well
        return f"{well}, and the rest is expected to level off by itself"
    return "what your products leave is expected to level off by itself"


def _first_wash(found: Accounted, films: Sequence[Film], world: World) -> Iterator[str]:
    """What to wash with where nothing is washed."""
    effects = found.built.effects
    hand = [w for w in washes_of(world) if films and (w, films[0]) in effects.verdicts]
    able = sorted(takers(effects, hand, films), key=found.strong_at_hand)
    it = kinds(films, world)
    if able:
        yield (
            f"Wash with {able[0]} once a week: nothing in this routine washes, and it "
            f"takes at least a part of {it}."
        )
        if found.strong_to_skin(able[0]):
            yield f"{able[0]} is a strong wash. {after_it(found.conditioner)}."
    else:
        yield (
            f"Add a wash: nothing in this routine washes {it} off, and no wash at hand "
            "surely takes any."
        )


# --- what is left, and what may help --------------------------------------------------


def _left(found: Accounted, world: World) -> Iterator[str]:
    """What is in trouble still, and how sure that is."""
    then = found.after.of(*TROUBLE)
    if not then or not found.built.schedule.washes:
        return
    fill = found.built.effects.fill
    for state, verb in ((State.GROWS, "build up"), (State.MAY_GROW, "may build up")):
        groups: dict[str, list[Film]] = {}
        for family in (each for each in then if each.state is state):
            if unknown(found.after, family):
                continue
            why = _nothing_takes(found, family.films)
            groups.setdefault(why, []).extend(family.films)
        for why, films in groups.items():
            fills = all(film in fill for film in films)
            until = ", until hair holds what it can" if fills else ""
            still = _still(found, films, world)
            told = f"{those(films, found.after, world)} {verb}{still}{until}"
            yield as_sentence(f"{told}: {why}")


def _unknown(found: Accounted, world: World) -> Iterator[str]:
    """Films of which nobody knows what a wash takes: no reason to wash harder."""
    films = [
        film
        for each in found.after.of(State.MAY_GROW)
        if unknown(found.after, each)
        for film in each.films
    ]
    if films and found.built.schedule.washes:
        them = those(films, found.after, world)
        yield (
            f"What a wash takes of {them} is not known here; that alone is no reason "
            "for a stronger wash."
        )


def _still(found: Accounted, films: Sequence[Film], world: World) -> str:
    """Whether films are in trouble as before, or only after the changes."""
    if not found.changes:
        return ""
    before = [f for each in found.overview.of(*TROUBLE) for f in each.films]
    known = {family_of(film, world) for film in before}
    return " still" if known & {family_of(film, world) for film in films} else " then"


def _nothing_takes(found: Accounted, films: Sequence[Film]) -> str:
    """Why some films are in trouble still: nothing takes them, or only what is left."""
    effects = found.built.effects
    hand = dict.fromkeys(w for w, film in effects.verdicts if film == films[0])
    able = [
        wash
        for wash in takers(effects, hand, films)
        if wash != WATER and not (effects.case and unadvised(effects.case, wash))
    ]
    if not able:
        used = {use.product for use in found.after.built.schedule.washes} - {WATER}
        shares = found.after.shares
        may = [
            w for w in hand if w in used and all(shares.of(w, f).most for f in films)
        ]
        told = "nothing at hand surely takes any"
        return f"{told}, though {listed(may)} may take a part" if may else told
    if {*able} <= {change.old for change in found.changes}:
        return (
            f"of the washes at hand only {listed(able)}, which goes, surely takes any"
        )
    return f"of the washes at hand {listed(able)} would take at least a part"


def _perhaps(found: Accounted, world: World) -> Iterator[str]:
    for each in found.perhaps:
        films = kinds(each.films, world)
        if each.rinse and not found.changes:
            continue  # it is what comes first
        if each.rinse:
            yield f"{each.name} after a wash may take a part of {films}."
        else:
            yield (
                f"Against {films} try {each.name} now and then instead of "
                f"{each.instead}: it may take a part of them."
            )


def conditioned(
    care: Care, days: Schedule, world: World, told_of: Collection[str] | None = None
) -> Iterator[str]:
    """What to condition with after a strong wash, or where a change took that away.

    Args:
        care: what is lacking, and what is there.
        days: the schedule that it is about.
        world: the base and the shelf.
        told_of: the strong washes that are told of where nothing is lacking; else all.
    """
    for wash, by in care.kept:
        if told_of is None or wash in told_of:
            yield f"{wash} is a strong wash: use {by} after it, as you do now."
    if not (care.lost or care.strong):
        return
    washes = listed(care.strong)
    others = [name for name in care.lost if name != care.by]
    if not care.strong:
        first = f"{listed(care.lost)} also conditioned"
    elif others:
        first = f"{listed(others)} also conditioned, and {washes} is strong"
    else:
        first = f"Condition after {washes}, as after any strong wash"
    if not care.by:
        else_ = "else " if care.lost else ""
        yield (
            f"{first}: nothing {else_}on this shelf conditions, so a conditioner is "
            "a thing to buy."
        )
        return
    left = ""
    if care.leaves:
        left = (
            f" It leaves {kinds(care.leaves, world)}, which no wash that is used "
            "surely takes."
        )
    also = ", which conditions too," if care.by in washes_of(world) else ""
    yield f"{first}: use {care.by}{also} {_each_time(care, days)}.{left}"


def _each_time(care: Care, days: Schedule) -> str:
    """After which washes one is to condition: the one, or each."""
    if not care.strong:
        return "after the wash"
    if len(care.at) == 1 and days.days == WEEK:
        return f"after it {on_days(days, care.at)}"
    return "after it each time"


# --- what to buy ----------------------------------------------------------------------


def to_buy(found: Accounted, world: World) -> Iterator[str]:
    """What to buy where no wash at hand surely takes a part."""
    for each in found.could:
        kind = with_article(world.base.label(each.agents))
        yield (
            f"For {kinds(each.films, world)} the thing to buy is a wash that lists "
            f"{kind} among its first places, for now and then. {as_sentence(each.said)}"
        )
    for remedy in found.buy:
        perhaps = all(_unsure(found, film) for film in remedy.films)
        yield bought(remedy, world, only_if_coated=perhaps)
    gap = found.care is not None and found.care.gap
    settled = found.changes and not found.changes[0].milder
    if settled and not (found.buy or found.never or gap):
        yield "Nothing has to be bought."


def bought(remedy: Remedy, world: World, *, only_if_coated: bool) -> str:
    """A wash to buy, all that it takes, and what goes with it."""
    label = world.base.label
    some = [label(agent) for agent in remedy.agents[:TO_BUY]]
    names = some[0] if len(some) == 1 else f"{', '.join(some[:-1])} or {some[-1]}"
    if_so = "only if hair comes to feel coated, buy" if only_if_coated else "buy"
    told = (
        f"{if_so} a wash with {names}: it takes at least a part of "
        f"{by_family(remedy.films, world)}, and no wash at hand surely does."
    )
    strong = [label(each) for each in remedy.agents[:TO_BUY] if each in remedy.strong]
    if strong:
        which = "It" if len(strong) == len(some) else f"One with {' or '.join(strong)}"
        then = "use it now and then, and condition after it"
        told += f" {which} is a strong wash: {then}."
    return told[:1].upper() + told[1:]


def _unsure(found: Accounted, film: Film) -> bool:
    """Whether a film may build up and is not known to, after the changes if any."""
    states = [each.state for each in found.after.told if each.film == film]
    return states == [State.MAY_GROW]
