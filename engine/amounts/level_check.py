"""Check the certificate of a bound on levels, knowing nothing of how it was found.

Standard library only, on plain data (`Certificate.as_data()`), short enough to read
in one sitting. A certificate is right if

1. its rows on the order, the 1 % line and the whole are what label law and
   arithmetic say for the places it lists (the others are stated figures and limits,
   which name their source: whether these are right is for the reader to look up);
2. its cases cover every position of the line, and in each the weighted sum of rows
   in force says what is claimed, or that no composition is possible;
3. its composition keeps every row in force, and has the value claimed; or, for a
   bound that is only approached, a second one on the border has it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Any, TypeAlias

Terms: TypeAlias = dict[str, Fraction]
# What a row must be: terms, bound, strict, first and last position of the line.
Shape: TypeAlias = tuple[Terms, Fraction, bool, int, int]


def check(certificate: Mapping[str, Any]) -> list[str]:
    """Everything that is wrong with a certificate, in sentences; empty if it holds."""
    try:
        return [*_rows(certificate), *_cases(certificate), *_compositions(certificate)]
    except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError) as bad:
        return [f"the certificate is malformed: {bad!r}"]


def _numbers(terms: Mapping[str, str]) -> Terms:
    return {place: Fraction(value) for place, value in terms.items()}


# -- 1: the rows ----------------------------------------------------------------


def _rows(certificate: Mapping[str, Any]) -> Iterator[str]:
    order = [str(place) for place in certificate["order"]]
    for name, row in certificate["rows"].items():
        kind, *places = name.split(" ")
        expect = _EXPECTED.get(kind)
        expected = expect(certificate, order, places) if expect else None
        shape = (
            _numbers(row["terms"]),
            Fraction(row["bound"]),
            row["strict"],
            row["first"],
            row["last"],
        )
        if expected is None:
            # A stated figure or a limit: nothing on the label fixes its form.
            always = (row["first"], row["last"]) == (0, len(order))
            if not (always and row["standing"]):
                yield f"row `{name}` has no standing, or depends on the line"
        elif shape != expected:
            yield f"row `{name}` is not what the label and the law say"


def _order(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    before, after = places
    number = order.index(after) + 1
    if order[number - 2] != before or number < 2:
        raise ValueError(f"{before} and {after} are no neighbours")
    terms = {after: Fraction(1), before: Fraction(-1)}
    return terms, Fraction(0), False, number, len(order)


def _above(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    (place,) = places
    threshold = Fraction(data["threshold"])
    number = order.index(place) + 1
    return {place: Fraction(-1)}, -threshold, False, number, len(order)


def _below(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    (place,) = places
    threshold = Fraction(data["threshold"])
    strict = not data["free at threshold"]
    return {place: Fraction(1)}, threshold, strict, 0, order.index(place)


def _part(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    (place,) = places
    return {place: Fraction(1)}, Fraction(100), False, 0, len(order)


def _present(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    (place,) = places
    item = data["items"][place]
    if item["ingredient"] is None or not item["certain"]:
        raise ValueError(f"nothing says that {place} is in the product")
    return {place: Fraction(-1)}, Fraction(0), True, 0, len(order)


def _nothing(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    return {places[-1]: Fraction(-1)}, Fraction(0), False, 0, len(order)


def _sum(data: Mapping[str, Any], order: list[str], places: list[str]) -> Shape:
    """The whole: what counts makes at most 100, and everything at least that."""
    items, last = data["items"], len(order)
    if places == ["at", "most"]:
        counted = {place: Fraction(1) for place, i in items.items() if i["counted"]}
        return counted, Fraction(100), False, 0, last
    if any(item["ingredient"] is None for item in items.values()):
        raise ValueError("a line that was not understood may hide anything")
    return dict.fromkeys(items, Fraction(-1)), Fraction(-100), False, 0, last


_EXPECTED: Mapping[str, Callable[[Mapping[str, Any], list[str], list[str]], Shape]] = {
    "order": _order,
    "above": _above,
    "below": _below,
    "part": _part,
    "present": _present,
    "nothing": _nothing,
    "sum": _sum,
}


# -- 2: the cases ---------------------------------------------------------------


def _cases(certificate: Mapping[str, Any]) -> Iterator[str]:
    covered: set[int] = set()
    for case in certificate["cases"]:
        covered.update(range(case["first"], case["last"] + 1))
        if not _proven(certificate, case):
            yield f"case {case['first']} to {case['last']} does not follow"
    if not covered.issuperset(range(len(certificate["order"]) + 1)):
        yield "some position of the line is in no case"


def _proven(certificate: Mapping[str, Any], case: Mapping[str, Any]) -> bool:
    total: Terms = {}
    bound, strict = Fraction(0), False
    for name, text in case["weights"].items():
        row, weight = certificate["rows"][name], Fraction(text)
        inside = row["first"] <= case["first"] <= case["last"] <= row["last"]
        if weight < 0 or not inside:
            return False
        for place, coefficient in _numbers(row["terms"]).items():
            total[place] = total.get(place, Fraction(0)) + weight * coefficient
        bound += weight * Fraction(row["bound"])
        strict = strict or (row["strict"] and weight > 0)
    total = {place: value for place, value in total.items() if value}
    if not total and (bound < 0 or (bound == 0 and strict)):
        return True
    if certificate["bound"] is None or total != _numbers(certificate["form"]):
        return False
    claimed = Fraction(certificate["bound"])
    return bound < claimed or (
        bound == claimed and (strict or not certificate["approached"])
    )


# -- 3: the compositions ----------------------------------------------------------


def _compositions(certificate: Mapping[str, Any]) -> Iterator[str]:
    if certificate["bound"] is None:
        return
    inside = _numbers(certificate["inside"])
    border = _numbers(certificate["border"]) if certificate["approached"] else inside
    for name, row in certificate["rows"].items():
        if row["first"] <= certificate["line"] <= row["last"]:
            bound = Fraction(row["bound"])
            total, limit = _value(row["terms"], inside), _value(row["terms"], border)
            if total > bound or (row["strict"] and total == bound) or limit > bound:
                yield f"the composition breaks row `{name}`"
    if _value(certificate["form"], border) != Fraction(certificate["bound"]):
        yield "the composition does not have the value claimed"


def _value(terms: Mapping[str, str], levels: Terms) -> Fraction:
    values = (Fraction(c) * levels[place] for place, c in terms.items())
    return sum(values, Fraction(0))
