"""Films, families and amounts of a routine in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import told_at
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.routines.buildup import Film
from abluent.engine.routines.overview import (
    Family,
    Overview,
    State,
    called,
    family_of,
)

STATES = {
    State.GROWS: "builds up",
    State.MAY_GROW: "may build up",
    State.LEVELS: "is expected to level off by itself",
    State.BOUNDED: "stays within bounds",
    State.CLEARED: "comes off",
}
NAMED = 3
"""Films that are named one by one; more are counted."""

Amount = Fraction | None


def name_of(film: Film, world: World) -> str:
    """A film with the product that leaves it."""
    return f"{world.base.label(film.former)} from {film.source}"


def families(
    found: Iterable[Family], world: World, among: Iterable[Family] = ()
) -> str:
    """The families by name, such as `silicones and waxes`.

    Of a family that stands among all with several fates, the films are named.
    """
    often = Counter(each.kind for each in among)
    told = []
    for each in found:
        name = called(world.base, each.kind)
        if often[each.kind] > 1:
            some = dict.fromkeys(world.base.label(f.former) for f in each.films)
            few = len(some) <= NAMED
            name = listed(list(some)) if few else f"{len(some)} {name}"
        told.append(name)
    return _row(told)


def those(films: Sequence[Film], overview: Overview, world: World) -> str:
    """The families of some films; of a family with several fates, the films."""
    some = dict.fromkeys(family_of(film, world) for film in films)
    among = overview.families
    told = [each for each in among if set(each.films) & set(films)]
    return families([e for e in told if e.kind in some], world, among)


def _row(names: Iterable[str]) -> str:
    """Names in a row; those that hold an `and` are kept apart by commas."""
    names = list(dict.fromkeys(names))
    if len(names) > 1 and any(" and " in each for each in names):
        return f"{', '.join(names[:-1])}, and {names[-1]}"
    return listed(names)


def kinds(films: Iterable[Film], world: World) -> str:
    """The families of some films: `silicones and waxes`."""
    found = dict.fromkeys(family_of(film, world) for film in films)
    return _row(called(world.base, kind) for kind in found)


def from_products(films: Iterable[Film], world: World) -> str:
    """Some films by what leaves them: `waxes from Kelp Putty`."""
    found: dict[str, list[Film]] = {}
    for film in films:
        found.setdefault(film.source, []).append(film)
    alike: dict[str, list[str]] = {}
    for name, some in found.items():
        alike.setdefault(kinds(some, world), []).append(name)
    return _row(f"{told} from {listed(names)}" for told, names in alike.items())


SOURCES = 2
"""Products that are named with what they leave; of more the films alone are told."""


def what_of(films: Sequence[Film], world: World) -> str:
    """Some families with what leaves them, where that is few products and no water."""
    sources = dict.fromkeys(film.source for film in films)
    if WATER in sources or len(sources) > SOURCES:
        return kinds(films, world)
    return from_products(films, world)


def by_family(films: Iterable[Film], world: World, most: int = NAMED) -> str:
    """Some films, folded by family: `silicones (Dimethicone from Harbour Cream)`.

    Those that hold most firmly come first.
    """
    grouped: dict[str, list[Film]] = {}
    for film in sorted(films, key=lambda each: told_at(world.base, each.former)):
        grouped.setdefault(family_of(film, world), []).append(film)
    return listed(
        [
            f"{called(world.base, k)} ({named(e, world, most)})"
            for k, e in grouped.items()
        ]
    )


def named(films: Sequence[Film], world: World, most: int = NAMED) -> str:
    """Some films by name where they are few, else how many there are of each product.

    What one product leaves is told together.
    """
    by_source: dict[str, list[str]] = {}
    for film in films:
        by_source.setdefault(film.source, []).append(world.base.label(film.former))
    together: dict[tuple[str, ...], list[str]] = {}
    for source, formers in by_source.items():
        together.setdefault(tuple(formers), []).append(source)
    told = []
    for left, sources in together.items():
        each = f"{len(left)} from " if len(left) > most else f"{listed(left)} from "
        if sources == [WATER]:
            each = "from the " if len(left) > most else f"{listed(left)} from the "
        told.append(f"{each}{listed(sources)}")
    return listed(told)


def uses(low: Amount, high: Amount) -> str:
    """An amount between two ends: `1 to 10 uses' worth`."""
    if high is None:
        return f"{number(low)} uses' worth and more" if low else "without end"
    if low is None or number(low) == number(high):
        return worth(high)
    return f"{number(low)} to {worth(high)}"


def worth(amount: Fraction) -> str:
    """An amount: `1 use's worth`."""
    told = number(amount)
    return f"{told} use's worth" if told == "1" else f"{told} uses' worth"


def number(amount: Amount) -> str:
    """A number to two figures, no end of zeros."""
    if amount is None:
        return "0"
    value = float(amount)
    if value and value < 0.1:
        return "under 0.1"
    told = f"{value:.1f}" if value < 10 else f"{value:.0f}"
    return told.removesuffix(".0")


def of_days(count: int) -> str:
    """So many days, in words after `every`."""
    return "day" if count == 1 else f"{count} days"
