"""A wash that is to come more often, and a product that is to come less often."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.phrases import with_article
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.advice_tried import How
from abluent.engine.routines.buildup import Film, washes_of
from abluent.engine.routines.conditioning import is_rinsed, left_in
from abluent.engine.routines.how_often import lighter_after, loosened_by
from abluent.engine.routines.noted import coated
from abluent.engine.routines.noted_films import (
    ToldByNote,
    noted_film,
    told_by_note,
)
from abluent.engine.routines.oftener import Oftener, strongest_on
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import TROUBLE, State
from abluent.grammar.common.text import as_sentence
from abluent.shell.routine.advice_care import after_it
from abluent.shell.routine.beforehand import if_coated
from abluent.shell.routine.days import on_most_days, rhythm
from abluent.shell.routine.words import kinds


def more_often(found: Accounted, world: World) -> Iterator[str]:
    """Each wash that comes too seldom and that no change tells of."""
    told = {change.new for change in found.changes if not change.milder}
    for each in found.oftener:
        if not each.wash:
            yield _to_buy(each, world)
        elif each.wash not in told or by_note(each):
            yield as_sentence(f"{step(each, world)}: {because(each, world)}")
            used = each.wash in found.after.built.schedule.products
            if found.strong_to_skin(each.wash) and not used:
                after = after_it(found.conditioner, found.after.built.schedule)
                yield f"{each.wash} is a strong wash: {after}."


def step(each: Oftener, world: World) -> str:
    """What to do, in the words of somebody who is to do it."""
    if each.all_days:
        told = (
            f"wash {rhythm(each.all_days)}, not {rhythm(each.slots)}, with {each.wash}"
        )
        if each.instead and each.every > each.all_days:
            return (
                f"{told} {rhythm(each.every)} and with {each.instead} the other times"
            )
        return told
    verb = "use" if each.rinse else "wash with"
    told = f"{verb} {each.wash} {rhythm(each.every)}"
    if each.word:
        note = told_by_note(world.base, each.films[0], world)
        told += f" {note.then}" if note.then and each.every == note.apart else ""
    if each.instead:
        told += f" instead of {each.instead}"
    if each.now:
        told += f", and not only {rhythm(each.now)}"
    return told


def by_note(each: Oftener) -> bool:
    """Whether a note sets a rhythm of its own, which comes before any other."""
    return bool(each.word and each.wash)


def because(each: Oftener, world: World) -> str:
    """Why a wash is to come so often."""
    takes = "takes at least" if each.sure else "may take"
    if each.word:
        note = told_by_note(world.base, each.films[0], world)
        return (
            f"your note says `{each.word}`, which speaks of {note.of}, and it {takes} "
            f"a part of that{'; ' if note.left_by else ''}{_leaves(note)}"
        )
    them = kinds(each.films, world)
    if each.films[0].source == WATER:
        return f"it {takes} a part of {them}, which gather in between"
    if each.mild:
        return (
            f"{between(each)} now, and {each.wash} {takes} a part of {them} and is no "
            "strong wash, so the strong one can wait longer"
        )
    if not each.now:
        return (
            f"no wash that is used now is known to be as strong on {them}, which "
            f"{each.films[0].source} leaves, and it {takes} a part of them"
        )
    return f"{between(each)} now, and it {takes} a part of {them}"


def noted_as_well(found: Accounted, world: World) -> Iterator[str]:
    """That a wash which a change brings takes what a note tells of, too."""
    told = noted_film(found.routine, found.overview, world)
    new = {change.new for change in found.changes}
    said = any(map(by_note, found.oftener))
    if told is not None and told.wash in new and not said:
        takes = "takes at least" if told.sure else "may take"
        note = told_by_note(world.base, told.films[0], world)
        yield (
            f"Your note says `{told.word}`, which speaks of {note.of}: {told.wash} "
            f"{takes} a part of that as well{', and ' if note.left_by else ''}"
            f"{_leaves(note)}."
        )


def _leaves(note: ToldByNote) -> str:
    """Which washes leave what a note tells of; empty where nothing says."""
    return f"{with_article(note.left_by)} leaves it" if note.left_by else ""


def between(each: Oftener) -> str:
    """How much of what is left in lies between two washes that take it."""
    source = each.films[0].source
    return f"{each.uses} uses of {source} lie between two such washes"


def less_of(found: Accounted, world: World) -> Iterator[str]:
    """A lighter hand with what comes often between two washes, or hardly goes."""
    most = lighter_after(world.base)
    heavy = {e.films[0].source: None for e in found.oftener if e.uses > most}
    films = [film for each in found.changes for film in each.better]
    heavy |= {f.source: None for f in films if left_in(world, f.source)}
    days, now = found.built.schedule, found.after.built.schedule.products
    for source in heavy:
        if source == WATER or source not in now:
            continue
        uses = sum(use.product == source for use in days.uses)
        daily = on_most_days(uses, days)
        when = "on every second day alone" if daily else "at every second use alone"
        hardly = any(loosened_by(world.base, f.former) for f in _left(found, source))
        lead = f"A lighter hand with {source} helps as well: use less of it"
        if hardly:
            lead = f"Less of {source} helps most in the long run: use a fingertip of it"
        yield f"{lead}, or {when}."
    yield from _only_after(found, world)


def _left(found: Accounted, source: str) -> Sequence[Film]:
    """The films that a product leaves."""
    return found.built.effects.left.get(source, ())


def _only_after(found: Accounted, world: World) -> Iterator[str]:
    """What is rinsed off, and leaves the same as another that is used more often."""
    uses = [use.product for use in found.built.schedule.uses]
    for change in found.changes:
        by = dict.fromkeys(film.source for film in change.better)
        others = [e for e in by if e in world.products and e not in washes_of(world)]
        some = [each for each in others if is_rinsed(world, each)]
        least = min(some, key=uses.count, default="")
        more = [each for each in some if uses.count(each) > uses.count(least)]
        seldom = change.use.wash and change.how is not How.ALWAYS
        if seldom and not change.milder and more:
            yield (
                f"Use {least} after {change.new} alone: it leaves the same as "
                f"{more[0]}, which is used anyway."
            )


def _to_buy(each: Oftener, world: World) -> str:
    """What to buy against films that a note tells of and nothing at hand takes."""
    note = told_by_note(world.base, each.films[0], world)
    which = ""
    if note.taken_by:
        which = f" with {with_article(note.taken_by)} among its first places"
    return as_sentence(
        f"Your note says `{each.word}`, which speaks of {note.of}: no wash at hand is "
        f"known to take any of that, so a wash{which} is the thing to buy, to use "
        f"{rhythm(each.every)}{', and ' if note.before else ''}{note.before}"
    )


def use_less(found: Accounted, world: World) -> Iterator[str]:
    """The product to use less often: what leaves most of what nothing at hand takes."""
    told = _most(found, world)
    if told is None:
        return
    source, films = told
    days = found.after.built.schedule
    uses = sum(use.product == source for use in days.uses)
    washes = sum(use.product != WATER for use in days.washes)
    how = "and less of it each time"
    if on_most_days(uses, days) and uses > washes:
        how = "on wash days alone or every second day, and less of it"
    elif uses == washes:
        how = "after every second wash alone"
    felt = coated(found.routine, world.base)
    when = "" if felt else f"{if_coated(found.routine, world.base)}, "
    yield as_sentence(
        f"{when}use {source} less often, {how}: it leaves {kinds(films, world)}, and "
        "no wash at hand surely takes any"
    )


def _most(found: Accounted, world: World) -> tuple[str, list[Film]] | None:
    """The product that leaves most of it, and oftenest; no wash and no water."""
    never = {*found.never, *(film for each in found.buy for film in each.films)}
    by: dict[str, list[Film]] = {}
    for film in sorted(never):
        if film.source != WATER and film.source not in washes_of(world):
            by.setdefault(film.source, []).append(film)
    uses = [use.product for use in found.after.built.schedule.uses]
    best = max(
        by, key=lambda name: (len(by[name]) * uses.count(name), name), default=""
    )
    return (best, by[best]) if best else None


def lathered_twice(found: Accounted, world: World) -> list[str]:
    """Two lathers and less of a product, where hair feels coated and washes take part.

    Nothing where a change helps, or where nothing that is left in is taken in part.
    """
    source, films = lathered_for(found, world)
    if not source:
        return []
    word = coated(found.routine, world.base)
    days = found.after.built.schedule
    them = kinds(films, world)
    if sum(use.product != WATER for use in days.washes) >= days.days:
        uses = sum(use.product == source for use in days.uses)
        when = ", or use it on every second day alone" if uses >= days.days else ""
        return [
            f"Use less of {source}{when}: your note says `{word}`, and of {them} no "
            "one wash is sure to take all, however often it is used."
        ]
    return [
        f"Lather twice at each wash, and use less of {source}: your note says "
        f"`{word}`, and a wash takes a part of {them} and not "
        "surely all."
    ]


def loosened(found: Accounted, world: World) -> Iterator[str]:
    """What loosens what hardly goes before the strongest wash that is used then."""
    base, then = world.base, found.after
    case = then.built.effects.case
    assert case is not None
    told: dict[str, list[Film]] = {}
    for each in then.told:
        film = each.film
        by = loosened_by(base, film.former) if left_in(world, film.source) else ""
        if by and not then.built.effects.goes(film):
            told.setdefault(by, []).append(film)
    advised = [e.wash for e in found.oftener if e.wash and not e.rinse]
    used = dict.fromkeys(use.product for use in then.built.schedule.washes)
    for by, films in told.items():
        able = strongest_on(
            case, [w for w in [*advised, *used] if w != WATER], films[0]
        )
        if able:
            yield (
                f"Before {able[0]} use {by} and lather twice: that loosens "
                f"{kinds(films, world)}."
            )


def lathered_for(found: Accounted, world: World) -> tuple[str, list[Film]]:
    """The product for whose sake one lathers twice, and its films; none if none."""
    helped = found.changes or found.overdone or any(e.wash for e in found.oftener)
    felt = coated(found.routine, world.base)
    if not felt or helped or found.after.of(*TROUBLE[:1]):
        return "", []
    by: dict[str, list[Film]] = {}
    for each in found.after.told:
        if each.state is State.BOUNDED and left_in(world, each.film.source):
            by.setdefault(each.film.source, []).append(each.film)
    uses = [use.product for use in found.after.built.schedule.uses]
    much = {name: len(films) * uses.count(name) for name, films in by.items()}
    source = max(sorted(much), key=lambda name: much[name], default="")
    return source, by.get(source, [])
