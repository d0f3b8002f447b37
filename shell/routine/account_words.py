"""What builds up and what to do about it, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.engine.routines.advice import Change, How
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Film, rinses_of, washes_of
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import (
    TROUBLE,
    Family,
    Overview,
    State,
    takers,
    verdict_on,
    why,
)
from abluent.engine.routines.routine import WEEK, Schedule
from abluent.grammar.common.text import as_sentence
from abluent.grammar.routine.printer import print_want
from abluent.shell.routine.words import (
    by_family,
    families,
    kinds,
    named,
    of_days,
    uses,
)

HEADS = {
    State.GROWS: "Builds up for certain:",
    State.MAY_GROW: "May build up:",
    State.BOUNDED: "Stays within bounds:",
    State.CLEARED: "Comes off:",
}
"""What stands over the families of a state."""

LEVEL = "levels off, as a wash takes a part (how high: `--rows`)"
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
    State.BOUNDED: (
        ("stay", " within bounds: a wash takes at least a part of them"),
        ("stays", " within bounds: a wash takes at least a part of it"),
    ),
    State.CLEARED: (("come", " off"), ("comes", " off")),
}
"""What is said of several families of a state, and of one film."""
_WELL = {
    State.BOUNDED: "Nothing builds up without end: ",
    State.CLEARED: "Nothing builds up: ",
}
"""What comes first where no film is worse than this."""


def _single(found: Sequence[Family], every: Sequence[Family]) -> bool:
    """Whether one film alone is told, by its own name."""
    kinds_told = [each.kind for each in every]
    only = found[0]
    several = kinds_told.count(only.kind) > 1
    return len(found) == 1 and several and len(only.films) == 1


def opening(overview: Overview, world: World) -> str:
    """What becomes of the films, the worst first, each with how sure it is."""
    told: list[str] = []
    every = overview.families
    for state, said in _SAID.items():
        found = overview.of(state)
        if found:
            single = _single(found, every)
            also = "" if told else _WELL.get(state, "")
            verb, rest = said[single]
            told.append(f"{also}{families(found, world, every)} {verb}{rest}.")
    if not told:
        return "Nothing that this routine leaves needs a wash."
    return " ".join(each[:1].upper() + each[1:] for each in told)


# --- what to change -------------------------------------------------------------------


def advice(found: Accounted, world: World) -> str:
    """The one change that helps most, and what its account says then."""
    change = found.change
    trouble = found.overview.of(*TROUBLE)
    if change is None:
        if not trouble and all(each.kept for each in found.kept):
            return "Nothing has to change."
        told = "What to do: no single change with what is on this shelf helps"
        return f"{told}{_rinsed(found, world)}."
    if change.milder:
        return (
            f"Nothing has to change; milder would be {_told(change)}: by its "
            "account no film builds up then either."
        )
    then = " Condition after that wash." if found.bare else ""
    return (
        f"What helps most: {_told(change)}. {_comes_of(change, trouble, world)}{then}"
    )


TO_BUY = 3
"""Surfactants that are named for a wash to buy."""


def to_buy(found: Accounted, world: World) -> list[str]:
    """What to buy where no wash at hand surely takes a part."""
    label, told = world.base.label, []
    for each in found.buy:
        some = [label(agent) for agent in each.agents[:TO_BUY]]
        names = (
            " or ".join(some)
            if len(some) < TO_BUY
            else (f"{', '.join(some[:-1])} or {some[-1]}")
        )
        then = "what is left after that change" if found.change else "these films"
        perhaps = all(_unsure(found, film) for film in each.films)
        if_so = "Only if hair comes to feel coated, to buy" if perhaps else "To buy"
        told.append(
            f"{if_so} for {then}, {by_family(each.films, world)}, of which no wash at "
            f"hand surely takes a part: a wash with {names} would."
        )
    if found.change and found.change.better and not found.buy and not found.never:
        told.append("Nothing has to be bought.")
    if found.never and found.buy:
        told.append(
            f"Of {kinds(found.never, world)} no surfactant that was tried surely "
            "takes a part."
        )
    return told


def _rinsed(found: Accounted, world: World) -> str:
    """What the rinses at hand that are not used may take a part of."""
    case, used = found.built.effects.case, found.built.schedule.products
    assert case is not None
    told = ""
    for name in rinses_of(world):
        bad = [each.film for each in found.overview.told if each.state in TROUBLE]
        some = [f for f in bad if _may_take(case, name, f)] if name not in used else []
        if some:
            told += f", but {name} after a wash may take a part of {kinds(some, world)}"
    return told


def _may_take(case: Case, rinse: str, film: Film) -> bool:
    """Whether some claim says that a rinse takes a film at most in part."""
    verdict = verdict_on(case, rinse, film)
    known = verdict is not None and verdict.role is not Role.NOT_CLEARED
    return known and bool(why(case, rinse, film))


def _unsure(found: Accounted, film: Film) -> bool:
    """Whether a film may build up and is not known to, after the change if any."""
    then = found.change.overview if found.change else found.overview
    states = [each.state for each in then.told if each.film == film]
    return states == [State.MAY_GROW]


def _told(change: Change) -> str:
    """A change in the words of somebody who is to do it."""
    instead, days = f"{change.new} in the place of {change.old}", change.days
    on = days.day_name(change.use.day)
    if change.how is How.ONCE:
        often = "once a week" if days.days == WEEK else f"once in {days.days} days"
        return f"one wash with {instead} on {on}, {often}"
    since = "" if days.turns else f", from {on} on"
    if change.how is How.WEEKLY:
        return f"one wash a week with {instead}{since}"
    return f"{instead}, every time{since}"


def _comes_of(change: Change, trouble: Sequence[Family], world: World) -> str:
    """What the account of a change says of the films that were in trouble."""
    after = {each.film: each for each in change.overview.told}
    told = []
    gone = [f for f in change.better if f not in after]
    kept = [f for f in change.better if f in after]
    if kept:
        told.append(f"{kinds(kept, world)} then stay within bounds")
    if gone:
        told.append(f"{change.old} no longer leaves its {kinds(gone, world)}")
    grew = [f for each in trouble if each.state is State.GROWS for f in each.films]
    unsure = [f for f in grew if f in after and after[f].state is State.MAY_GROW]
    if unsure:
        told.append(f"{kinds(unsure, world)} may build up, no longer for certain")
    still = [f for f, e in after.items() if e.state in TROUBLE and f not in unsure]
    if still:
        worst = min(after[film].state for film in still)
        word = "build up still" if worst is State.GROWS else "may build up still"
        told.append(f"{kinds(still, world)} {word}")
    told += [f"`{print_want(want)}` is kept then too" for want in change.kept]
    return as_sentence(f"By its account {'; '.join(told)}")


# --- one family -----------------------------------------------------------------------


def row(family: Family, days: Schedule, world: World, *, much: bool = True) -> str:
    """A family with its films, and how much there is of each where that is asked."""
    told = f"{world.base.plural(family.kind)} ({named(family.films, world)}): "
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
        return f"{uses(*family.plateau)}, however long it goes on"
    more = [each.amounts.most.adds for each in family.told]
    every = uses(min(more), max(more))
    if family.state is State.GROWS:
        return f"{every} more every {of_days(days.days)}, without end"
    return f"at the worst {every} more every {of_days(days.days)}, without end"


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
        yield "Why: it is never washed."
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
        if _may_take(case, name, film):
            how = "is counted" if name in used else "is at hand"
            reason = as_sentence(why(case, name, film))
            yield f"{name} is no wash and {how}: {reason}"


def _at_hand(found: Accounted, films: Sequence[Film], world: World) -> str:
    effects = found.built.effects
    judged = [w for w in washes_of(world) if (w, films[0]) in effects.verdicts]
    surely = takers(effects, judged, films)
    if surely:
        mild = [w for w in surely if not found.strong_at_hand(w)]
        best = (mild or surely)[:AT_HAND]
        more = [w for w in surely if w not in best]
        strong = "strong " if mild and not {*mild} & {*more} else ""
        rest = f", and so would {len(more)} {strong}more" if more else ""
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
