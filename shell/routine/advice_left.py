"""What is on the hair still, or goes in part, and what is not known of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.engine.base.contract import LEAVING_UNKNOWN, STRONG, UNREAD_LINE
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film, washes_of
from abluent.engine.routines.conditioning import left_in
from abluent.engine.routines.how_often import purpose, unadvised, washed_for
from abluent.engine.routines.noted import coated
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import (
    TROUBLE,
    Family,
    Overview,
    State,
    family_of,
    no_reason,
    partly,
    takers,
)
from abluent.grammar.common.text import as_sentence
from abluent.shell.routine.words import NAMED, kinds, those


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


# --- what is on the hair already ------------------------------------------------------


def of_old(
    films: Sequence[Film], used: Iterable[str], effects: Effects, world: World
) -> Iterator[str]:
    """What becomes of films on the hair that are not left any more.

    Those that a wash that is used takes a part of are told apart from the others.
    """
    used = list(used)
    taken = [film for film in films if takers(effects, used, [film])]
    rest = [film for film in films if film not in taken]
    if taken:
        by = takers(effects, used, taken) or [
            wash for wash in used if any(takers(effects, [wash], [f]) for f in taken)
        ]
        yield f"{_on_hair(taken, world)} goes in part at each wash with {listed(by)}."
    if rest:
        yield _staying(rest, used, effects, world)


def _staying(
    films: Sequence[Film], used: Sequence[str], effects: Effects, world: World
) -> str:
    """What becomes of those of which no wash that is used surely takes a part."""
    known = [w for w in washes_of(world) if (w, films[0]) in effects.verdicts]
    if by := takers(effects, known, films):
        case = effects.case
        strong = case and case.model.holds(STRONG, (world.symbol(by[0]),))
        then = ", and condition after it" if strong else ""
        told = f"one wash with {by[0]} would take at least a part{then}"
        return f"{_on_hair(films, world)} may stay; {told}."
    shares = Shares(effects)
    may = [w for w in used if all(shares.of(w, film).most for film in films)]
    why = "no wash at hand surely takes it"
    if may:
        why = f"{listed(may)} may take a part, and no wash at hand surely does"
    return f"{_on_hair(films, world)} may stay a while: {why}."


def _on_hair(films: Sequence[Film], world: World) -> str:
    return f"What is on the hair now of {kinds(films, world)}"


# --- what builds up still -------------------------------------------------------------


def left(found: Accounted, world: World) -> Iterator[str]:
    """What is in trouble still, and how sure that is."""
    then = found.after.of(*TROUBLE)
    if not then or not any(u.product != WATER for u in found.built.schedule.washes):
        return
    met = {f for each in found.perhaps if not each.rinse for f in each.films}
    for state, verb in ((State.GROWS, "build up"), (State.MAY_GROW, "may build up")):
        groups: dict[str, list[Film]] = {}
        for family in (each for each in then if each.state is state):
            if no_reason(found.after, family) or _beside_others(family, then, world):
                continue
            films = [film for film in family.films if film not in met]
            if films:
                groups.setdefault(_nothing_takes(found, films), []).extend(films)
        for why, films in groups.items():
            still = _still(found, films, world)
            them = those(films, found.after, world)
            if may := _may_take(found, films):
                take = "takes" if len(may) == 1 else "take"
                yield (
                    f"How much {listed(may)} {take} of {them} is not known here, so "
                    f"some may build up{still}."
                )
            else:
                yield as_sentence(f"{them} {verb}{still}: {why}")


def _beside_others(family: Family, then: Sequence[Family], world: World) -> bool:
    """Whether films are what one conditions with, and others are in trouble too."""
    some = any(e.state in TROUBLE and washed_for(world.base, e.kind) for e in then)
    return some and not washed_for(world.base, family.kind)


def laid_down(found: Accounted, world: World) -> Iterator[str]:
    """That a wash in use leaves films itself, where a note says hair feels coated."""
    if found.to_replace or not coated(found.routine, world.base):
        return
    used = dict.fromkeys(use.product for use in found.built.schedule.washes)
    for wash in used:
        own = found.built.effects.left.get(wash, ()) if wash != WATER else ()
        films = [f for f in own if washed_for(world.base, family_of(f, world))]
        if films:
            yield (
                f"{wash} lays down {kinds(films, world)} itself at each wash, so part "
                "of what is felt after it is a fresh coat and not an old one: a wash "
                "that lists none of them shows what was there."
            )


def not_known(found: Accounted, world: World) -> Iterator[str]:
    """Films of which it is not known what a wash takes: no reason to wash harder."""
    films = [
        film
        for each in found.after.of(State.MAY_GROW)
        if no_reason(found.after, each)
        for film in each.films
    ]
    if films and found.built.schedule.washes:
        them = those(films, found.after, world)
        yield (
            f"How much a wash takes of {them} is not known here; that alone is no "
            "reason for a stronger wash."
        )


def for_more(found: Accounted, world: World) -> Iterator[str]:
    """Washes that are used for more than what is left on hair, and so stay."""
    for wash in dict.fromkeys(use.product for use in found.built.schedule.washes):
        if wash != WATER and (it := purpose(world, wash)):
            yield (
                f"{wash} holds {it.ingredient}, {it.text}: use it as often, and leave "
                "it on as long, as its own label says; no other takes its place here."
            )


def not_understood(found: Accounted, world: World) -> Iterator[str]:
    """Lines that nobody understood on the labels of what is no wash and stays unread.

    What such a line of a wash does to its rank is told with the wash.
    """
    for name in found.built.schedule.products:
        if name == WATER or name in washes_of(world):
            continue
        read = world.read(name)
        unread = {f.args[1] for f in read.facts if f.predicate == UNREAD_LINE}
        items = [item for item in read.label.items if item.place in unread]
        if items:
            names = listed([f"`{' '.join(e.printed.split())}`" for e in items], NAMED)
            verb = "was" if len(items) == 1 else "were"
            yield (
                f"{names} on the label of {name} {verb} not understood and may be "
                "anything, so what that leaves is not counted: ask its maker for the "
                "INCI names."
            )


def not_counted(found: Accounted, world: World) -> Iterator[str]:
    """What is left in and of which nothing says whether it stays on hair."""
    effects = found.built.effects
    assert effects.case is not None
    told: dict[str, list[str]] = {}
    for product, item in effects.case.model.match(LEAVING_UNKNOWN, (None, None)):
        name = world.name(product)
        if name in found.built.schedule.products and left_in(world, name):
            told.setdefault(name, []).append(world.base.label(str(item)))
    for name, items in told.items():
        yield (
            f"Not counted: {listed(items, NAMED)} from {name}; whether that stays on "
            "hair is not known here."
        )


def _still(found: Accounted, films: Sequence[Film], world: World) -> str:
    """Whether films are in trouble as before, or only after the changes."""
    if not found.changes:
        return ""
    before = [f for each in found.overview.of(*TROUBLE) for f in each.films]
    known = {family_of(film, world) for film in before}
    return " still" if known & {family_of(film, world) for film in films} else " then"


def _may_take(found: Accounted, films: Sequence[Film]) -> list[str]:
    """The washes in use that may take some films, where none at hand surely does."""
    effects, shares = found.built.effects, found.after.shares
    hand = dict.fromkeys(w for w, film in effects.verdicts if film == films[0])
    good = [w for w in hand if not (effects.case and unadvised(effects.case, w))]
    if any(wash != WATER for wash in takers(effects, good, films)):
        return []
    used = {use.product for use in found.after.built.schedule.washes} - {WATER}
    return [w for w in hand if w in used and all(shares.of(w, f).most for f in films)]


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
        may = _may_take(found, films)
        return f"{listed(may)} may" if may else "nothing at hand surely takes any"
    if {*able} <= {change.old for change in found.changes}:
        return (
            f"of the washes at hand only {listed(able)}, which goes, surely takes any"
        )
    return f"of the washes at hand {listed(able)} would take at least a part"
