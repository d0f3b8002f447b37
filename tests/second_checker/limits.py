"""Limits of law and custom: what records there are, and which bind."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Any, NamedTuple

from .values import Value, fraction, is_number, want
from .world import Entry, World, follow, is_a, told

COUNTED = "countedShare"
PERCENT = "percentByWeight"


class Limit(NamedTuple):
    """A limit: the share of each ingredient that counts, and its ends."""

    shares: dict[str, Fraction]
    low: Fraction | None
    high: Fraction | None


def read_limit(data: Any) -> Limit:
    """A limit with its numbers read."""
    shares = {name: fraction(text) for name, text in data["shares"].items()}
    ends = (None if data[e] is None else fraction(data[e]) for e in ("low", "high"))
    return Limit(shares, *ends)


def records_of(name: str) -> list[str]:
    """The records that a limit is made of."""
    return name.split(":", 1)[0].split("+")


def figures(world: World, predicate: str, records: Iterable[str]) -> list[Fraction]:
    """The told ends of some records."""
    entries = [entry for record in records for entry in told(world, predicate, record)]
    return [fraction(e.atom[2][1]) for e in entries if is_number(e.atom[2])]


def of_market(world: World, product: str, record: str) -> bool:
    """Whether a record is of a market of the product, and in per cent."""
    markets = [entry.atom[2] for entry in told(world, "market", record)]
    sold = any(m == "anyMarket" or follow(world, "soldIn", product, m) for m in markets)
    units = {entry.atom[2] for entry in told(world, "unit", record)}
    return sold and units == {PERCENT}


def types_of(world: World, record: str) -> frozenset[Value]:
    """The told types of a record."""
    return frozenset(entry.atom[2] for entry in told(world, "type", record))


def names(world: World, record: str, ingredient: str) -> bool:
    """Whether a record names an ingredient."""
    applied = [entry.atom[2] for entry in told(world, "appliesTo", record)]
    return any(is_a(world, ingredient, each) for each in applied)


def covers(world: World, record: str, product: str, how: str) -> bool:
    """Whether a record covers a product, or may."""
    scopes = [entry.atom[2] for entry in told(world, "scope", record)]
    kinds = [kind.atom[2] for scope in scopes for kind in told(world, how, scope)]
    return any(follow(world, "kind", product, kind) for kind in kinds)


def counted_shares(world: World, ingredient: str) -> list[Entry]:
    """The told lows of the counted shares of an ingredient."""
    shares = [entry.atom[1] for entry in told(world, "measures", None, ingredient)]
    counted = [each for each in shares if told(world, "quantity", each, COUNTED)]
    return [entry for each in counted for entry in told(world, "low", each)]


def check_limit(world: World, product: str, name: str, limit: Limit, at: str) -> None:
    """A limit is what its records say, and they apply."""
    records = records_of(name)
    for record in records:
        want(of_market(world, product, record), at, f"{record} is not of this market")
    low = min(figures(world, "low", records), default=None)
    high = max(figures(world, "high", records), default=None)
    want((limit.low, limit.high) == (low, high), at, "has other ends than its records")
    kinds = {types_of(world, record) for record in records}
    want(len(kinds) == 1 and len(min(kinds)) == 1, at, "has not one type")
    loose = all(told(world, "boundsSum", record) for record in records)
    want(loose or len(limit.shares) == 1, at, "bounds no sum")
    want(bool(limit.shares), at, "is on nothing")
    (kind,) = min(kinds)
    want(kind in ("UseLevel", "ConcentrationLimit"), at, "has another type")
    check = check_use if kind == "UseLevel" else check_law
    check(world, product, records, limit, at)


def check_use(
    world: World, product: str, records: list[str], limit: Limit, at: str
) -> None:
    """A level of use is usual in such a product."""
    want(set(limit.shares.values()) == {Fraction(1)}, at, "a share is not 1")
    for record in records:
        kinds = [entry.atom[2] for entry in told(world, "usualIn", record)]
        usual = any(follow(world, "kind", product, kind) for kind in kinds)
        want(usual, at, f"{record} is not usual in the product")
        named = all(names(world, record, each) for each in limit.shares)
        want(named, at, f"{record} does not name an ingredient")
        check_around(world, product, record, limit, at)


def check_around(
    world: World, product: str, record: str, limit: Limit, at: str
) -> None:
    """A level of use is usual where the ingredient stands."""
    above = [entry.atom[2] for entry in told(world, "usualAbove", record)]
    below = [entry.atom[2] for entry in told(world, "usualBelow", record)]
    if not above and not below:
        return
    want(not follow(world, "unordered", product), at, "the product is in no order")
    before = lines_before(world, product, limit)
    for kind in above:
        want(not any(is_a(world, b, kind) for b in before), at, f"stands under {kind}")
    sure = any(is_a(world, b, kind) for b in before for kind in below)
    want(sure or not below, at, "stands under nothing that it is usual below")


def lines_before(world: World, product: str, limit: Limit) -> list[Value]:
    """What stands in a product before the first ingredient of a limit."""
    lines = follow(world, "line", product, None, None)
    lines.sort(key=lambda atom: fraction(atom[2][1]))
    found = []
    for atom in lines:
        if atom[3] in limit.shares:
            break
        found.append(atom[3])
    return found


def check_law(
    world: World, product: str, records: list[str], limit: Limit, at: str
) -> None:
    """A limit of law binds each of its ingredients, at a share that counts."""
    for ingredient, share in limit.shares.items():
        bound = records[0] in binding(world, product, ingredient)
        want(bound, at, f"{records[0]} does not bind {ingredient}")
        lows = [entry.atom[2] for entry in counted_shares(world, ingredient)]
        counted = [fraction(low[1]) for low in lows if is_number(low)]
        want(share == 1 or share in counted, at, f"{ingredient} has another share")


def level_of(world: World, record: str, ingredient: str) -> Fraction:
    """The level of the ingredient itself that a record allows."""
    lows = [e.atom[2] for e in counted_shares(world, ingredient)]
    shares = [fraction(low[1]) for low in lows if is_number(low)]
    share = shares[0] if shares else Fraction(1)
    return max(figures(world, "high", [record])) / share


def candidates(world: World, product: str, ingredient: str) -> list[str]:
    """The records of law that could bind an ingredient."""
    records = dict.fromkeys(entry.atom[1] for entry in told(world, "high"))
    return [
        record
        for record in records
        if "ConcentrationLimit" in types_of(world, record)
        and not told(world, "low", record)
        and not told(world, "bindsSomeGrades", record)
        and of_market(world, product, record)
        and names(world, record, ingredient)
    ]


def binding(world: World, product: str, ingredient: str) -> list[str]:
    """The records that bind an ingredient."""
    keeps, other, lifts = list[str](), list[str](), list[str]()
    for record in candidates(world, product, ingredient):
        kept = bool(told(world, "bindsPreservativeUse", record))
        if covers(world, record, product, "coversKind"):
            (keeps if kept else other).append(record)
        elif not kept and covers(world, record, product, "mayCoverKind"):
            lifts.append(record)
    if not keeps:
        return other
    if not other and not lifts:
        free = any(told(world, "openToOtherUse", record) for record in keeps)
        return [] if free else keeps
    levels = {r: level_of(world, r, ingredient) for r in (*keeps, *other, *lifts)}
    other = other or [max(lifts, key=lambda record: levels[record])]
    kept_least = min(levels[record] for record in keeps)
    return keeps if kept_least > min(levels[record] for record in other) else other
