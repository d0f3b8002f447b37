"""What builds up under a routine, and why, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Film, rinses_of, washes_of
from abluent.engine.routines.how_often import gathers_after, unadvised
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import (
    Family,
    Overview,
    State,
    Told,
    called,
    stays_on,
    takers,
    unknown,
    why,
)
from abluent.engine.routines.perhaps import may_take
from abluent.engine.routines.routine import Schedule
from abluent.grammar.common.text import as_sentence
from abluent.shell.routine.advice_often import lathered_for
from abluent.shell.routine.beforehand import well_of
from abluent.shell.routine.days import a_span, a_turn, counted
from abluent.shell.routine.words import families, named, uses

HEADS = {
    State.GROWS: "Builds up for certain:",
    State.MAY_GROW: "May build up:",
    State.LEVELS: "Stays, and is expected to level off by itself:",
    State.BOUNDED: "Stays within bounds:",
    State.CLEARED: "Comes off:",
}
"""What stands over the families of a state."""

UNKNOWN = "Not known, so it may build up:"
"""What stands over the families of which nobody knows what a wash takes."""

LEVEL = "levels off, as a wash takes a part"
"""What is said of how much there is where no study gave a share."""

AT_HAND = 3
"""Washes at hand that are named for a family."""


_SAID = {
    State.GROWS: (
        ("build up", " for certain: no wash of this routine can take any of them"),
        ("builds up", " for certain: no wash of this routine can take any of it"),
    ),
    State.MAY_GROW: (
        ("may build up", ": no wash of this routine is known to take any of them"),
        ("may build up", ": no wash of this routine is known to take any of it"),
    ),
    State.LEVELS: (
        ("stay", " and are expected to level off by themselves"),
        ("stays", " and is expected to level off by itself"),
    ),
    State.BOUNDED: (
        ("stay", " within bounds: a wash takes at least a part of them"),
        ("stays", " within bounds: a wash takes at least a part of it"),
    ),
    State.CLEARED: (("come", " off"), ("comes", " off")),
}
"""What is said of several families of a state, and of one film."""
_WELL = (State.LEVELS, State.BOUNDED, State.CLEARED)
"""Where no film is worse than one of these, nothing builds up, which comes first."""


def _single(found: Sequence[Family], every: Sequence[Family]) -> bool:
    """Whether one film alone is told, by its own name."""
    kinds_told = [each.kind for each in every]
    only = found[0]
    several = kinds_told.count(only.kind) > 1
    return len(found) == 1 and several and len(only.films) == 1


def _without(found: Accounted) -> str:
    """The washes without a list, where nothing else is washed with; may be empty."""
    names = found.routine.unlisted_washes
    if not names or any(e.product != WATER for e in found.built.schedule.washes):
        return ""
    return (
        f"{listed(list(names))}, which {'has' if len(names) == 1 else 'have'} no list"
    )


def heading_of(found: Accounted, state: State) -> str:
    """What stands over the families of a state."""
    grows = state is State.GROWS and _without(found)
    return f"Gathers, if counted without {_without(found)}:" if grows else HEADS[state]


def opening(found: Accounted, world: World) -> str:
    """What becomes of the films, the worst first, each with how sure it is."""
    told: list[str] = []
    overview = found.overview
    every = overview.families
    if every and (without := _without(found)):
        return f"Counted without {without}: what is said to gather may well come off."
    dark = [each for each in every if unknown(overview, each)]
    gathering = _gathers(found, world)
    well = "is known to build up: " if dark else "builds up: "
    for state, phrases in _SAID.items():
        some = [e for e in overview.of(state) if not unknown(overview, e)]
        if state is State.BOUNDED:
            told += _said_between(gathering, found, world)
        some = [each for each in some if all(each is not e for e, _ in gathering)]
        if some:
            single = _single(some, every)
            fine = not told and not gathering and state in _WELL
            also = f"Nothing {well}" if fine else ""
            verb, rest = phrases[single]
            if state is State.CLEARED and overview.parts_count:
                rest = f"{rest}, as a part that is taken counts as the whole"
            told.append(f"{also}{families(some, world, every)} {verb}{rest}.")
    if dark:
        told.append(
            f"what a wash takes of {families(dark, world, every)} is not known."
        )
    if not told:
        return as_sentence(well_of(overview.built, world))
    return " ".join(each[:1].upper() + each[1:] for each in told)


def _gathers(found: Accounted, world: World) -> list[tuple[Family, int]]:
    """The families that stay within bounds and gather, each with how many days.

    Those are families that no wash takes for long, and what the advice acts on.
    """
    acted = {film for each in found.oftener for film in each.films}
    acted.update(lathered_for(found, world)[1])
    told: list[tuple[Family, int]] = []
    most = gathers_after(world.base)
    for family in found.overview.of(State.BOUNDED):
        wait = max(_wait(each) for each in family.told)
        if wait > most or acted & {*family.films}:
            told.append((family, wait))
    return told


def _said_between(
    gathering: Sequence[tuple[Family, int]], found: Accounted, world: World
) -> Iterator[str]:
    """That some families gather, and for how long."""
    every = found.overview.families
    for days in sorted({wait for _, wait in gathering}, reverse=True):
        some = [family for family, wait in gathering if wait == days]
        several = [each.kind for each in every].count(some[0].kind) > 1
        one = several and len(some) == 1 and len(some[0].films) == 1
        them = "it" if one else "them"
        names = families(some, world, every)
        stay = "stays" if one else "stay"
        apart = f"{a_span(days)} lie" if days > 1 else "1 day lies"
        yield (
            f"{names} {stay} from wash to wash: {apart} between two that take at "
            f"least a part of {them}."
            if days
            else f"{names} {stay} in part after each wash."
        )


def _wait(told: Told) -> int:
    """The most days between two washes that surely take a part of a film."""
    days = told.built.schedule
    able = [u for u in days.washes if told.shares.of(u.product, told.film).least]
    if not (able and days.turns):
        return 0
    at = sorted({use.day for use in able})
    return max(b - a for a, b in zip(at, [*at[1:], at[0] + days.days], strict=True))


# --- one family -----------------------------------------------------------------------


def row(family: Family, days: Schedule, world: World, *, much: bool = True) -> str:
    """A family with its films, and how much there is of each where that is asked."""
    told = f"{called(world.base, family.kind)} ({named(family.films, world)}): "
    level = family.state is State.BOUNDED and not much and not _measured(family)
    grown = LEVEL if level else amount(family, days)
    return told + grown + _disputes(family)


def _measured(family: Family) -> bool:
    """Whether a study gave the share that some wash takes of a film of a family."""
    return any(
        each.shares.of(use.product, each.film).claims
        for each in family.told
        for use in each.built.schedule.washes
    )


def amount(family: Family, days: Schedule) -> str:
    """How much there is of each film of a family."""
    if family.state is State.CLEARED:
        longest = max((each.account.days or 0 for each in family.told), default=0)
        within = "1 day" if longest == 1 else f"{longest} days"
        return f"taken off within {within}"
    if not days.turns:
        ends = [each.amounts.after[-1] for each in family.told]
        low, high = min(a for a, _ in ends), max(b for _, b in ends)
        return f"{uses(low, high)} at the end"
    if family.state is State.BOUNDED:
        return f"{uses(*family.plateau)}, however long it goes on{_rising(family)}"
    more = [each.account.worst.adds for each in family.told]
    least, most = min(more), max(more)
    often = counted(most) if least == most else f"{least} to {most} times"
    put = f"comes {often} {a_turn(days)}"
    if family.state is State.LEVELS:
        return f"{put}, and is expected to level off"
    fills = all(each.film in each.built.effects.fill for each in family.told)
    until = ", until hair holds what it can (how much, nobody here measured)"
    grows = family.state is State.GROWS
    taken = "none is taken off" if grows else "none is surely taken off"
    return f"{put}, and {taken}{until if fills else ''}"


TURNS = (1, 4)
"""After how many turns it is told how much there is, where a share was measured."""


def _rising(family: Family) -> str:
    """How much there is after some turns, where a study gave a share."""
    if not _measured(family):
        return ""
    told = []
    for turns in TURNS:
        ends = [each.amounts.after_turns(turns) for each in family.told]
        low, high = min(a for a, _ in ends), max(b for _, b in ends)
        washes = turns * len(family.told[0].built.schedule.washes)
        many = "1 wash" if washes == 1 else f"{washes} washes"
        told.append(f"{uses(low, high)} after {many}")
    return f" ({', '.join(told)})"


def _disputes(family: Family) -> str:
    steps = (step for each in family.told for step in each.account.steps)
    washes = dict.fromkeys(step.use.product for step in steps if step.disputed)
    if not washes:
        return ""
    takes = "takes" if len(washes) == 1 else "take"
    return (
        f"; sources of equal rank part over how much {listed(list(washes))} {takes}, "
        "so both ends are counted"
    )


def reasons(found: Accounted, family: Family, world: World) -> Iterator[str]:
    """Why a family is in trouble, and which wash at hand would take it."""
    case = found.built.effects.case
    assert case is not None
    days, film = found.built.schedule, family.films[0]
    washes = dict.fromkeys(use.product for use in days.washes)
    if not days.washes:
        without = _without(found)
        told = f"counted without {without}" if without else "never washed"
        yield f"Why: it is {told}."
    elif family.state is State.MAY_GROW:
        takes = "takes" if len(washes) == 1 else "take"
        names = listed(list(washes))
        yield f"Why: nothing shows that {names} {takes} any."
    given: dict[str, list[str]] = {}
    for wash in washes:
        given.setdefault(why(case, wash, film), []).append(wash)
    lead = "Why: " if family.state is State.GROWS else ""
    for reason, some in given.items():
        if reason:
            yield f"{lead}{said_of(reason, some, list(washes))}"
    yield from _rinses(found, film, world)
    yield _at_hand(found, family.films, world)


def said_of(reason: str, some: Sequence[str], every: Sequence[str]) -> str:
    """A reason, with the washes that it is about where it is not about all."""
    if len(some) == len(every) or any(wash in reason for wash in some):
        return as_sentence(reason)
    return f"Of {listed(some)}: {as_sentence(reason)}"


def _rinses(found: Accounted, film: Film, world: World) -> Iterator[str]:
    """What the rinses of a shelf, which are no washes, are said to do to a film."""
    case, used = found.built.effects.case, found.built.schedule.products
    assert case is not None
    for name in rinses_of(world):
        if may_take(case, name, film):
            how = "is counted" if name in used else "is at hand"
            reason = as_sentence(why(case, name, film))
            yield f"{name} is no wash and {how}: {reason}"


def _at_hand(found: Accounted, films: Sequence[Film], world: World) -> str:
    effects = found.built.effects
    judged = [w for w in washes_of(world) if (w, films[0]) in effects.verdicts]
    case = effects.case
    able = takers(effects, judged, films)
    good = [w for w in able if not (case and unadvised(case, w))] or able
    surely = [w for w in good if not stays_on(effects, w)] or good
    if surely:
        mild = [w for w in surely if not found.strong_at_hand(w)]
        best = (mild or surely)[:AT_HAND]
        more = [w for w in surely if w not in best]
        harder = bool(mild) and not {*mild} & {*more}
        strong = f", {'a strong wash' if len(more) == 1 else 'strong washes'}"
        also = listed(more, AT_HAND) + (strong if harder else "")
        rest = f"; so would {also}" if more else ""
        return f"At hand: {listed(best)} would take at least a part{rest}."
    shares = Shares(effects)
    perhaps = [w for w in judged if all(shares.of(w, f).most for f in films)]
    if perhaps:
        return (
            "At hand: no wash of this shelf surely takes any; "
            f"{listed(perhaps, AT_HAND)} may take a part."
        )
    return "At hand: no wash of this shelf is known to take any."


def measured(overview: Overview, world: World) -> list[str]:
    """The studies whose shares are counted with, each with its share and source."""
    found: dict[str, None] = {}
    days = overview.built.schedule
    for each in overview.told:
        for wash in dict.fromkeys(use.product for use in days.washes):
            share = overview.shares.of(wash, each.film)
            for claim in share.claims:
                record = world.base.record(claim)
                cited = [world.base.label(s) for s in record.basis.sources]
                text = world.base.label(claim).rstrip(".")
                least = float(share.least * 100)
                caveat = record.text("caveat") or ""
                line = f"{text}; counted as {least:g} % at least ({listed(cited)})."
                line = f"{line} {caveat}".rstrip()
                found[line] = None
    return list(found)


def unmeasured(overview: Overview) -> str:
    """What is counted where nobody measured a share or a deposit; may be empty."""
    if not any(each.state is State.BOUNDED for each in overview.told):
        return ""
    return (
        "A use's worth is what one use leaves; how much of it that is on hair, no "
        "study known here measured. Where none measured what a wash takes, a part is "
        f"counted as {float(overview.shares.part * 100):g} % at least."
    )
