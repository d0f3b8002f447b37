"""What a picture says of the order of a list: what falls, where any order begins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.amounts.levels import Levels
from abluent.engine.base.contract import LEAVES
from abluent.engine.questions.answers.answer import Member, Row
from abluent.engine.questions.world.world import World
from abluent.engine.routines.how_often import washed_for
from abluent.engine.routines.overview import family_among
from abluent.grammar.query import tree as q
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Group, Ladder, Rung, Zone
from abluent.shell.told.spoken_names import aloud, few, nth, spoken_alone
from abluent.shell.told.told import Told

_EITHER, _ANY = "{} % may begin here", "any order from here"
_CAPPED = "seldom above {} %"
_LEAST = 6
"""Of fewer names than so many the order is not told as a whole."""


def ladder_of(
    world: World,
    product: str,
    asked: Mapping[int, str],
    named: Mapping[int, str] | None = None,
    *,
    title: str = "",
) -> Ladder | None:
    """Return a list of ingredients with some places marked; None where it is short.

    Args:
        world: the base and the shelf.
        product: whose list.
        asked: the places asked about, each with what is said of it.
        named: the places that are told by name besides.
        title: what stands above it, beside another; then there is no room for words
            on its zones.
    """
    readings = world.read(product).readings
    if len(readings) < _LEAST:
        return None
    zones = _zones(world, product, len(readings))
    other = named or {}
    rungs = tuple(
        Rung(
            world.base.label(each.symbol) if each.symbol else each.printed,
            zones[n - 1],
            n in asked,
            n in other,
            asked.get(n) or other.get(n, ""),
        )
        for n, each in enumerate(readings, 1)
    )
    if title:
        return Ladder(title, rungs)
    limit = world.amounts.stated(product).levels().rule.threshold
    return Ladder(title, rungs, _EITHER.format(limit), _ANY)


def _zones(world: World, product: str, many: int) -> list[Zone]:
    """What each place of a list tells of its amount; all by amount if none is known."""
    levels = _levels(world, product)
    if levels is None or len(levels) != many:
        return [Zone.BY_AMOUNT] * many
    first, last = _ends(levels)
    return [
        Zone.BY_AMOUNT if n < first else Zone.EITHER if n < last else Zone.ANY_ORDER
        for n in range(many)
    ]


def _levels(world: World, product: str) -> Levels | None:
    """The levels of a list that prints no figures."""
    practice = world.amounts.practice
    levels = world.amounts.stated(product).levels(practice=practice)
    printed = any(item.stated is not None for item in levels.items)
    return None if printed else levels


def _ends(levels: Levels) -> tuple[int, int]:
    """How many names surely fall by amount, and from which on none surely does."""
    limit = levels.rule.threshold
    sure = [level.low >= limit for level in levels]
    little = [level.high <= limit for level in levels]
    first = sure.index(False) if False in sure else len(sure)
    last = little.index(True) if True in little else len(little)
    return first, max(first, last)


def by_order(told: Told, asking: Asking, rows: Sequence[Row]) -> Told | None:
    """Return what falls by its order and what may stand in any; None if it is less."""
    world = asking.world
    if world is None or len(asking.products) != 1 or len(rows) < _LEAST:
        return None
    found = [row for row in rows if isinstance(row, Member)]
    (product,) = asking.products
    levels, readings = _levels(world, product), world.read(product).readings
    if levels is None or len(found) < len(rows) or 2 * len(rows) < len(readings):
        return None
    if len(levels) != len(readings):
        return None
    limit = levels.rule.threshold
    stays = _staying(found[0], product)
    places = {
        n: ""
        for n, each in enumerate(readings, 1)
        if each.symbol and each.symbol in stays
    }
    capped = _capped(levels)
    named = {n: _CAPPED.format(limit) for n in capped}
    ladder = ladder_of(world, product, places, named)
    claim = f"{product} lists {len(readings)} ingredients; filled: what stays on hair."
    if isinstance(asking.query, q.Amount):
        told_by = f"the order tells which is more, but only down to about {limit} %"
        claim = f"On {product} {told_by}."
    told = told._replace(
        claim=claim,
        ladders=(ladder,) if ladder else (),
        groups=() if ladder else tuple(_groups(world, product, levels)),
    )
    if not isinstance(asking.query, q.Amount):
        return told
    note = f"No label marks where its {limit} % begins, and amounts stand on none."
    told, (_, last) = told._replace(note=note), _ends(levels)
    reasons = [_above(ladder, last), _below(ladder, last)] if ladder else []
    return told.with_reasons(reasons)


def _above(ladder: Ladder, last: int) -> str:
    """What may be said of what was asked about and stands high up."""
    high = [(n, r.name) for n, r in enumerate(ladder.rungs, 1) if r.asked and n <= last]
    if not high:
        return ""
    (n, name), *more = high
    than = f"more than {more[0][1]} ({nth(more[0][0])})" if more else "more than most"
    return f"{name} ({nth(n)}) is {than}, unless both are below the line."


def _below(ladder: Ladder, last: int) -> str:
    """What may not be said of what stands where any order is allowed."""
    low = [r.name for n, r in enumerate(ladder.rungs) if r.asked and n >= last]
    if not low:
        return ""
    s = "s" * (len(low) == 1)
    return f"{few(low, 2)} stand{s} where the order tells nothing more."


def _staying(row: Member, product: str) -> set[str]:
    """What a product leaves, of the families one washes for; at the most a few."""
    world = row.case.world
    match = row.case.model.match(LEAVES, (world.symbol(product), None))
    left = [str(film) for _, film in match]
    heavy = [f for f in left if washed_for(world.base, family_among(world.base, f))]
    return set(heavy or left)


def _capped(levels: Levels) -> list[int]:
    """The first place that the law or custom caps below the limit."""
    little = [
        n for n, each in enumerate(levels, 1) if each.high <= levels.rule.threshold
    ]
    capped = {symbol for cap in levels.caps for symbol in dict(cap.shares)}
    found = [n for n in little if levels.at(n).symbol in capped]
    return found[:1]


def _groups(world: World, product: str, levels: Levels) -> list[Group]:
    """The names of a list by what their order tells, where no list is drawn."""
    readings = world.read(product).readings
    names = [
        spoken_alone(aloud(world.base, r.symbol)) if r.symbol else r.printed
        for r in readings
    ]
    limit = levels.rule.threshold
    first, last = _ends(levels)
    numbered = [f"{n} {name}" for n, name in enumerate(names, 1)]
    return [
        Group(None, word, tuple(mine), len(mine))
        for word, mine in (
            ("Surely by amount, most first", numbered[:first]),
            (f"By amount, or already {limit} % or less", numbered[first:last]),
            (f"Each {limit} % or less, in any order", numbered[last:]),
        )
        if mine
    ]
