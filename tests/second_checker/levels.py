"""Places of a product, and the rows that bind their levels."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Any, NamedTuple

from .limits import Limit
from .values import NUM, Span, Value, figure, fraction, is_number, span, want
from .world import Entry, World, follow, told

Form = dict[str, Fraction]


class Place(NamedTuple):
    """One place of a product."""

    name: str
    ingredient: Value
    repeated: bool
    certain: bool
    counted: bool
    ordered: bool
    stated: Span | None


class Row(NamedTuple):
    """A sum of levels that is at most a bound, while the line stands so far."""

    form: Form
    bound: Fraction
    strict: bool
    first: int
    last: int


class Threshold(NamedTuple):
    """The level under which a list may be in any order."""

    level: Fraction
    strict: bool
    entries: tuple[Entry, ...]


def standing_at(world: World, product: str, where: str) -> list[tuple[str, Value, str]]:
    """The numbers of the places, what stands there and by which predicate."""
    found = []
    for predicate in ("line", "mayContain", "unreadLine"):
        size = 2 if predicate == "unreadLine" else 3
        for atom in follow(world, predicate, product, *[None] * (size - 1)):
            want(is_number(atom[2]), where, "a place is no number")
            found.append((atom[2][1], atom[3] if size == 3 else None, predicate))
    found.sort(key=lambda each: fraction(each[0]))
    names = [each[0] for each in found]
    want(len(set(names)) == len(names), where, "two stand at one place")
    return found


def places_of(world: World, product: str, without: Any, where: str) -> list[Place]:
    """The places of a product, in order."""
    loose = "order" in without or bool(follow(world, "unordered", product))
    earlier: set[Value] = set()
    found = []
    for name, ingredient, predicate in standing_at(world, product, where):
        at = (product, (NUM, name))
        repeated = ingredient is not None and ingredient in earlier
        earlier.add(ingredient)
        within = bool(follow(world, "withinAnother", *at))
        stray = bool(follow(world, "outOfOrder", *at))
        stated = None if "stated" in without else stated_at(world, at, where)
        place = Place(
            name=name,
            ingredient=ingredient,
            repeated=repeated,
            certain=predicate != "mayContain",
            counted=not (repeated or within),
            ordered=not (repeated or stray or loose),
            stated=stated,
        )
        found.append(place)
    return found


def stated_at(world: World, at: tuple[Value, ...], where: str) -> Span | None:
    """The per cent that the label prints at a place."""
    exact = follow(world, "stated", *at, None)
    most = follow(world, "statedAtMost", *at, None)
    want(len(exact) < 2 and (bool(exact) or len(most) < 2), where, "is stated twice")
    if exact:
        return span(exact[0][3])
    if not most:
        return None
    high = span(most[0][3])
    return Span(None, True, high.high, high.high_open)


def threshold_of(world: World, product: str, where: str) -> Threshold:
    """The threshold that is told, or one per cent."""
    entries = [*told(world, "freeBelow"), *told(world, "freeUpTo")]
    here = [entry for entry in entries if is_sold(world, product, entry.atom[1])]
    entries = here or entries
    if not entries:
        return Threshold(Fraction(1), False, ())
    ranked = [(figure(e.atom[2], where), e.atom[0] == "freeUpTo") for e in entries]
    best = max(ranked)
    chosen = [e for e, each in zip(entries, ranked, strict=True) if each == best]
    return Threshold(best[0], not best[1], tuple(chosen))


def is_sold(world: World, product: str, record: Value) -> bool:
    """Whether a product is sold in a told market of a record."""
    markets = [entry.atom[2] for entry in told(world, "market", record)]
    return any(follow(world, "soldIn", product, market) for market in markets)


def chain_of(places: Iterable[Place]) -> list[Place]:
    """The ordered places that have an ingredient."""
    return [each for each in places if each.ordered and each.ingredient is not None]


def less(form: Form) -> Form:
    """The form with its signs turned."""
    return {name: -share for name, share in form.items()}


def rows_of(
    places: list[Place],
    limits: dict[str, Limit],
    threshold: Threshold,
    without: Any,
) -> dict[str, Row]:
    """All rows of a product by name."""
    length = len(chain_of(places))
    rows = {
        name: Row(form, bound, strict, 0, length)
        for name, form, bound, strict in [
            *whole_rows(places, without),
            *(row for place in places for row in place_rows(place)),
            *(row for name in limits for row in limit_rows(name, limits[name], places)),
        ]
    }
    rows.update(chain_rows(chain_of(places), threshold))
    return rows


Plain = tuple[str, Form, Fraction, bool]


def whole_rows(places: list[Place], without: Any) -> list[Plain]:
    """The rows of the whole product."""
    one, found = Fraction(1), list[Plain]()
    counted = {place.name: one for place in places if place.counted}
    if counted:
        found.append(("sum at most", counted, Fraction(100), False))
    if "whole" not in without and all(p.ingredient is not None for p in places):
        form = {place.name: -one for place in places}
        found.append(("sum at least", form, Fraction(-100), False))
    return found


def place_rows(place: Place) -> list[Plain]:
    """The rows of one place by itself."""
    name, up = place.name, {place.name: Fraction(1)}
    found = [(f"part {name}", up, Fraction(100), False)]
    if place.certain and place.ingredient is not None:
        found.append((f"present {name}", less(up), Fraction(0), True))
    else:
        found.append((f"nothing less {name}", less(up), Fraction(0), False))
    if place.stated is None:
        return found
    low, low_open, high, high_open = place.stated
    if isinstance(high, Fraction):
        found.append((f"stated at most {name}", up, high, high_open))
    if isinstance(low, Fraction):
        found.append((f"stated at least {name}", less(up), -low, low_open))
    return found


def chain_rows(chain: list[Place], threshold: Threshold) -> dict[str, Row]:
    """The rows of the order of the list."""
    rows, length = dict[str, Row](), len(chain)
    for index, place in enumerate(chain):
        name, up, at = place.name, {place.name: Fraction(1)}, index + 1
        level = threshold.level
        rows[f"above {name}"] = Row(less(up), -level, False, at, length)
        rows[f"below {name}"] = Row(up, level, threshold.strict, 0, at - 1)
        if index:
            before = chain[index - 1].name
            form = {**up, before: Fraction(-1)}
            rows[f"order {before} {name}"] = Row(form, Fraction(0), False, at, length)
    return rows


def limit_rows(name: str, limit: Limit, places: list[Place]) -> list[Plain]:
    """The rows of one limit."""
    shares, found = limit.shares, list[Plain]()
    mine = [place for place in places if place.ingredient in shares]
    first = {p.name: shares[p.ingredient] for p in mine if not p.repeated}
    if limit.high is not None and first:
        found.append((f"cap {name}", first, limit.high, False))
        for place in mine:
            if place.repeated:
                form = {place.name: shares[place.ingredient]}
                found.append((f"cap {name} at {place.name}", form, limit.high, False))
    unread = any(place.ingredient is None for place in places)
    if limit.low is not None and mine and not unread:
        form = {place.name: -shares[place.ingredient] for place in mine}
        found.append((f"least {name}", form, -limit.low, False))
    return found
