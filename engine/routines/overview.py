"""What becomes of the films of a routine, family by family, and why.

A film builds up if no wash can take any of it, and may build up if none surely takes
any, unless it is known to level off by itself. If one surely takes a part, it stays
within bounds; if one surely takes it, it comes off. Which of these is so depends on
the washes that follow it alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from functools import cached_property

from abluent.engine.base.contract import (
    ISA,
    MAY_ACT,
    PUTS_BACK,
    READING,
    UNREAD_AT_WORK,
    VERDICT,
)
from abluent.engine.base.kinds import product_kind
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.amounts import Amounts, Shares, amounts
from abluent.engine.routines.buildup import (
    Account,
    BuildUp,
    Effects,
    Film,
    rinses_of,
)
from abluent.engine.routines.how_often import unadvised, washed_for
from abluent.engine.routines.routine import Schedule, Use


class State(IntEnum):
    """What becomes of a film, the worst first."""

    GROWS = 0
    """No wash can take any of it."""
    MAY_GROW = 1
    """No wash surely takes any of it."""
    LEVELS = 2
    """No wash surely takes any of it, and it is known to level off by itself."""
    BOUNDED = 3
    """Some wash surely takes a part of it, and none surely all."""
    CLEARED = 4
    """Some wash surely takes it off."""


TROUBLE = (State.GROWS, State.MAY_GROW)
"""The states in which something should change."""


@dataclass(frozen=True)
class Told:
    """One film with what becomes of it.

    Args:
        account: its account.
        state: what becomes of it.
        built: the build-up that the account is of.
        shares: what its washes take.
    """

    account: Account
    state: State
    built: BuildUp
    shares: Shares

    @cached_property
    def amounts(self) -> Amounts:
        """How much there is."""
        built = self.built
        return amounts(built.schedule, built.effects, self.shares, self.film)

    @property
    def film(self) -> Film:
        """The film."""
        return self.account.film


@dataclass(frozen=True)
class Family:
    """The films of one family of which the same becomes.

    Args:
        kind: the family, by the symbol of its class.
        state: what becomes of them.
        told: each film.
    """

    kind: str
    state: State
    told: tuple[Told, ...]

    @property
    def films(self) -> tuple[Film, ...]:
        """The films."""
        return tuple(each.film for each in self.told)

    @property
    def plateau(self) -> tuple[Fraction | None, Fraction | None]:
        """The least and the most that any of them comes to in the end."""
        lows = [each.amounts.plateau[0] for each in self.told]
        highs = [each.amounts.plateau[1] for each in self.told]
        known = [low for low in lows if low is not None]
        return (
            min(known) if known else None,
            None if None in highs else max(high for high in highs if high is not None),
        )


@dataclass(frozen=True)
class Overview:
    """A build-up, family by family.

    Args:
        built: the build-up.
        shares: what its washes take.
    """

    built: BuildUp
    shares: Shares

    @cached_property
    def told(self) -> tuple[Told, ...]:
        """Every film with what becomes of it."""
        built = self.built
        return tuple(
            Told(
                account,
                state_of(built.schedule, built.effects, self.shares, account.film),
                built,
                self.shares,
            )
            for account in built.accounts
        )

    @cached_property
    def families(self) -> tuple[Family, ...]:
        """The families, the worst first; one stands once for each state."""
        case = self.built.effects.case
        found: dict[tuple[State, str], list[Told]] = {}
        for each in self.told:
            kind = family_of(each.film, case.world) if case else ""
            found.setdefault((each.state, kind), []).append(each)
        return tuple(
            Family(kind, state, tuple(told))
            for (state, kind), told in sorted(found.items(), key=lambda x: x[0][0])
        )

    @cached_property
    def parts_count(self) -> bool:
        """Whether some film comes off only as a part that is taken counts as all."""
        effects = self.built.effects
        washes = dict.fromkeys(use.product for use in self.built.schedule.washes)
        off = [each.film for each in self.told if each.state is State.CLEARED]
        return not all(any(effects.wholly(w, film) for w in washes) for film in off)

    def of(self, *states: State) -> list[Family]:
        """The families of some states."""
        return [each for each in self.families if each.state in states]


def family_of(film: Film, world: World) -> str:
    """The narrowest family that a film is told with; else the class of all films."""
    return family_among(world.base, film.former)


def family_among(base: Base, former: str) -> str:
    """The narrowest family of a film-former; else the class of all films."""
    told = set(base.terms(Role.FILM_FAMILY))
    found = [each for each in base.classes_of(former) if each in told]
    if not found:
        return base.term(Role.FILM)
    return max(found, key=lambda each: (len(base.ancestors(each)), each))


def called(base: Base, family: str) -> str:
    """What the films of a family are called aloud."""
    return base.record(family).text("spokenAs") or base.plural(family)


def state_of(schedule: Schedule, effects: Effects, shares: Shares, film: Film) -> State:
    """What becomes of a film, from the washes that follow it."""
    washes = dict.fromkeys(u.product for u in _after(schedule, effects, film))
    if any(effects.surely(wash, film) for wash in washes):
        return State.CLEARED
    taken = [shares.of(wash, film) for wash in washes]
    if any(share.least for share in taken):
        return State.BOUNDED
    if film in effects.level:
        return State.LEVELS
    return State.MAY_GROW if any(share.most for share in taken) else State.GROWS


def _after(schedule: Schedule, effects: Effects, film: Film) -> Sequence[Use]:
    """The uses that can take a film: all of a turn, or those after it is left."""
    takers = [use for use in schedule.uses if effects.takes(use, film)]
    if schedule.turns:
        return takers
    first = next((u for u in schedule.uses if film in effects.leaves(u)), None)
    if first is None:
        return ()
    return [use for use in takers if use.place > first.place]


# --- why, and what would take it ------------------------------------------------------


def verdict_on(case: Case, wash: str, film: Film) -> Verdict | None:
    """What a wash does to a film, with its reasons."""
    target = (
        case.world.known.any_product
        if film.source == WATER
        else case.world.symbol(film.source)
    )
    about = (case.world.symbol(wash), film.former, target)
    for *_, value in case.model.match(VERDICT, (*about, None)):
        return Verdict(case, (*about, str(value)))
    return None


def why(case: Case, wash: str, film: Film) -> str:
    """Why a wash is not known to take a film: what bounds it; empty if nothing does."""
    found = verdict_on(case, wash, film)
    if found is None:
        return ""
    symbol, bound = case.world.symbol(wash), found.at_most
    none = bound is not None and bound.effect is Role.NONE_OF_IT
    if not none and _puts_back(case, symbol, film):
        kind = called(case.world.base, family_of(film, case.world))
        return f"{wash} leaves {kind} itself, so it may put back what it takes"
    if not none and case.model.holds(UNREAD_AT_WORK, (symbol,)):
        return (
            f"a line on the label of {wash} was not understood, and may tie up what "
            "cleans there"
        )
    if bound is None or bound.effect is Role.ALL_OF_IT or found.disputed:
        return ""
    base = case.world.base
    bearing = [each for each in bound.bounding if _bears_on(case, each, symbol)]
    setting = sorted(base.label(claim) for claim in bearing)
    said = next((each for each in bound.weakest if each in setting), "")
    said = said or next(iter(setting), "")
    if not said or none:
        return said
    return f"{said.rstrip('.')}; whether any goes, nothing known here says"


def _bears_on(case: Case, claim: str, wash: str) -> bool:
    """Whether a claim speaks of something in a wash: of all that acts, if of a kind.

    The bound of a blend rests on claims about each of its parts; one that is about
    washes of another kind is no reason that a reader would see on this label.
    """
    record = case.world.base.record
    match = case.model.match
    water = case.world.known.water_symbol
    found = [agent for _, agent in match(MAY_ACT, (wash, None)) if agent != water]
    acting = [{str(kind) for _, kind in match(ISA, (a, None))} | {a} for a in found]
    if agents := set(record(claim).links("agent")):
        return any(agents & kinds for kinds in acting)
    washes = [set(record(k).links("actsOnlyBy")) for k in record(claim).links("ofWash")]
    return all(only & kinds for only in washes if only for kinds in acting)


def _puts_back(case: Case, wash: str, film: Film) -> bool:
    """Whether a wash leaves such a film itself."""
    grades = [row[2] for row in case.model.match(READING, (film.former, None, None))]
    holds = case.model.holds
    return any(holds(PUTS_BACK, (wash, each)) for each in (film.former, *grades))


def unknown(overview: Overview, family: Family) -> bool:
    """Whether nothing is known of what washes take of films that may build up.

    No wash at hand that one would advise surely takes any, and no claim says that any
    takes less than all.
    """
    effects = overview.built.effects
    case = effects.case
    if family.state is not State.MAY_GROW or case is None:
        return False
    rinses = rinses_of(case.world)
    hand = dict.fromkeys(w for w, _ in effects.verdicts if w not in {WATER, *rinses})
    used = {use.product for use in overview.built.schedule.washes}
    return not any(
        (overview.shares.of(wash, film).least and not unadvised(case, wash))
        or (wash in used and why(case, wash, film))
        for film in family.films
        for wash in hand
        if (wash, film) in effects.verdicts
    )


def no_reason(overview: Overview, family: Family) -> bool:
    """Whether films that may build up are no reason for a stronger wash.

    Nothing is known of them, or they are what one conditions with.
    """
    if family.state is not State.MAY_GROW:
        return False
    case = overview.built.effects.case
    known = case is None or washed_for(case.world.base, family.kind)
    return not known or unknown(overview, family)


def minded(films: Iterable[Film], world: World) -> list[Film]:
    """Those of some films that are a reason for another wash."""
    return [f for f in films if washed_for(world.base, family_of(f, world))]


def stays_on(effects: Effects, wash: str) -> bool:
    """Whether a wash itself leaves what needs a wash and does not level off."""
    left = effects.left.get(wash, ())
    return any(not effects.goes(film) for film in left if film not in effects.level)


def partly(case: Case, wash: str, films: Iterable[Film]) -> list[str]:
    """The claims that one wash of any kind takes at most a part of some films."""
    base, told = case.world.base, dict[str, None]()
    above = base.classes_of(case.world.known.water_symbol)
    every = {kind for kind in above if base.ancestors(kind) <= {kind}}  # any agent
    for film in films:
        found = verdict_on(case, wash, film)
        bound = found.at_most if found is not None else None
        if bound is None or bound.effect is not Role.PART_OF_IT:
            continue
        for claim in bound.bounding:
            kinds = map(base.record, base.record(claim).links("ofWash"))
            if any(every.intersection(kind.links("actsOnlyBy")) for kind in kinds):
                told[base.label(claim)] = None
    return list(told)


def takers(effects: Effects, washes: Iterable[str], films: Sequence[Film]) -> list[str]:
    """The washes of which each surely takes at least a part of some films."""
    shares = Shares(effects)
    return [w for w in washes if all(shares.of(w, film).least for film in films)]


def uncounted(days: Schedule, done: Effects, world: World) -> list[str]:
    """The products that are used and of no known kind, and so leave nothing known.

    Args:
        days: the schedule.
        done: what its products leave.
        world: the base and the shelf.
    """
    other = world.base.term(Role.OTHER_KIND)
    return [
        name
        for name in days.products
        if name in world.products
        and product_kind(world.products[name].kind, world.base) == other
        and not done.left.get(name)
    ]
