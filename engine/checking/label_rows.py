"""What a label and the law say of its levels, worked out anew for the checker.

A second way from the facts of a label to rows (see `bounds`), which needs the standard
library only and shares nothing with the first. Levels are in per cent by weight. The
line stands where the levels fall below a threshold of law: items whose order counts
descend down to it, and are little each after it, in any order.
"""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Any

try:
    from abluent.engine.checking.bounds import Row
except ImportError:  # beside a checker that was run as a file by itself
    from bounds import Row  # type: ignore[import-not-found, no-redef]

WHOLE = Fraction(100)
# `stated` is an interval of ends, as `replay` has it, or None.
Line = namedtuple("Line", "place symbol stated ordered certain counted")
# How a list may end: a level, and whether exactly that much is free.
Threshold = namedtuple("Threshold", "level free")
# `shares` by ingredient; together they lie between `low` and `high`, or None.
Limit = namedtuple("Limit", "shares low high")


def lines(facts: Any, product: str, ends: Any) -> list[Line]:
    """The places of a label, in the order of the list.

    Args:
        facts: gives the terms after the first of all facts of a predicate and subject.
        product: the product.
        ends: makes an interval of a number or interval.
    """
    outside, within = (
        {place for (place,) in facts(name, product)}
        for name in ("outOfOrder", "withinAnother")
    )
    stated = dict(facts("statedAtMost", product))
    stated = {place: ends(most)._replace(low=None) for place, most in stated.items()}
    stated |= {place: ends(level) for place, level in facts("stated", product)}
    listed = [(*each, True) for each in facts("line", product)]
    listed += [(*each, False) for each in facts("mayContain", product)]
    listed += [(place, None, True) for (place,) in facts("unreadLine", product)]
    seen: set[str] = set()
    found = []
    for place, symbol, certain in sorted(listed, key=lambda each: each[0]):
        again = symbol in seen
        ordered = not (again or place in outside or facts("unordered", product))
        counted = not again and place not in within
        shown = (symbol, stated.get(place), ordered, certain, counted)
        found.append(Line(str(place), *shown))
        seen.update([symbol] if symbol else [])
    if len({each.place for each in found}) != len(found):
        raise ValueError(f"two things stand at one place of {product}")
    return found


def chain(items: Any) -> list[str]:
    """The places whose order counts."""
    return [each.place for each in items if each.ordered and each.symbol is not None]


def rows(items: Any, threshold: Threshold, limits: Any, whole: bool) -> dict[str, Row]:
    """Every row of a label by its name.

    Args:
        items: its places.
        threshold: how its list may end.
        limits: a `Limit` by each name.
        whole: whether the places are all there is in the product.
    """
    found = {**_parts(items, whole), **_order(chain(items), threshold)}
    last = len(chain(items))
    for name, limit in limits.items():
        found |= {
            row: Row(terms, bound, False, 0, last)
            for row, terms, bound in _limited(items, name, limit)
        }
    return found


def _parts(items: Any, whole: bool) -> dict[str, Row]:
    """That the parts make the whole, and what bounds each by itself."""
    last = len(chain(items))
    counted = {each.place: Fraction(1) for each in items if each.counted}
    found = {}
    if counted:
        found["sum at most"] = Row(counted, WHOLE, False, 0, last)
    if whole and all(each.symbol is not None for each in items):
        every = {each.place: Fraction(-1) for each in items}
        found["sum at least"] = Row(every, -WHOLE, False, 0, last)
    for each in items:
        up, down = {each.place: Fraction(1)}, {each.place: Fraction(-1)}
        found[f"part {each.place}"] = Row(up, WHOLE, False, 0, last)
        there = each.certain and each.symbol is not None
        name = f"present {each.place}" if there else f"nothing less {each.place}"
        found[name] = Row(down, Fraction(0), there, 0, last)
        low, high = each.stated or (None, None)
        if high is not None and isinstance(high[0], Fraction):
            name = f"stated at most {each.place}"
            found[name] = Row(up, high[0], bool(high[1]), 0, last)
        if low is not None and isinstance(low[0], Fraction):
            name = f"stated at least {each.place}"
            found[name] = Row(down, -low[0], bool(low[1]), 0, last)
    return found


def _order(order: list[str], threshold: Threshold) -> dict[str, Row]:
    """Descending down to the line; below it any order, but little of each."""
    level, free = threshold
    last, found = len(order), {}
    for number, place in enumerate(order, 1):
        up, down = {place: Fraction(1)}, {place: Fraction(-1)}
        found[f"above {place}"] = Row(down, -level, False, number, last)
        found[f"below {place}"] = Row(up, level, not free, 0, number - 1)
    for number, (before, place) in enumerate(pairwise(order), 2):
        terms = {place: Fraction(1), before: Fraction(-1)}
        found[f"order {before} {place}"] = Row(terms, Fraction(0), False, number, last)
    return found


def _limited(items: Any, name: str, limit: Limit) -> Iterator[tuple[str, Any, Any]]:
    """The rows of a limit; a name that is printed again may be the same portion."""
    found = [each for each in items if each.symbol in limit.shares]
    first = {each.symbol: each.place for each in reversed(found)}
    if limit.high is not None:
        for each in found:
            if first[each.symbol] != each.place:
                own = {each.place: limit.shares[each.symbol]}
                yield f"cap {name} at {each.place}", own, limit.high
        terms = {place: limit.shares[symbol] for symbol, place in first.items()}
        yield f"cap {name}", terms, limit.high
    unread = any(each.symbol is None for each in items)
    if limit.low is not None and found and not unread:
        less = {each.place: -limit.shares[each.symbol] for each in found}
        yield f"least {name}", less, -limit.low
