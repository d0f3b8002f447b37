"""Check that a linear form of some parts has a greatest value, for the checker.

Knows nothing of how the value was found nor of what the parts are, and needs the
standard library only. What is known of the parts is given as rows, each a linear form
that is at most a number. Between the parts stands a line of which nobody knows the
place; a row says for which places of the line it holds. A proof, as plain data, holds

cases    `first`, `last` and `weights`: the line stands at one of these places, and the
         rows of these names are in force at all of them. Added up with the weights,
         none of them negative, they say that the form is at most the value, or that no
         parts are possible in this case. Every place is in some case.
line     a place of the line, and
inside   parts that keep every row in force there. They have the value; or, where the
         value is only approached, those at the
border   have it and break no row but by equality: the straight way from the former to
         the latter keeps every row, and comes as near to the value as one likes.
"""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

# `sum(terms[part] * part) <= bound`, or `<` where strict, at places first to last.
Row = namedtuple("Row", "terms bound strict first last")
PROOF_KEYS = {"cases", "line", "inside", "border"}
CASE_KEYS = {"first", "last", "weights"}


def problems(rows: Any, last: int, form: Any, end: Any, proof: Any) -> Iterator[str]:
    """Everything that is wrong with a proof, in sentences.

    Args:
        rows: what is known of the parts, a `Row` by each name.
        last: the last place of the line; the first is 0.
        form: the coefficient of every part that counts.
        end: the value and whether it is only approached; None to claim that no parts
            are possible at all.
        proof: the proof.

    Raises:
        ArithmeticError, LookupError, TypeError, ValueError: it is malformed.
    """
    if set(proof) != PROOF_KEYS:
        yield "a proof has missing or unknown keys"
    form = {part: value for part, value in form.items() if value}
    covered: set[int] = set()
    for case in proof["cases"]:
        if set(case) != CASE_KEYS:
            yield "a case has missing or unknown keys"
        covered.update(range(max(case["first"], 0), min(case["last"], last) + 1))
        if not _follows(rows, case, form, end):
            yield f"case {case['first']} to {case['last']} does not follow"
    if len(covered) <= last:
        yield "some place of the line is in no case"
    if end is not None:
        yield from _reached(rows, last, form, end, proof)


def _follows(rows: Any, case: Any, form: Any, end: Any) -> bool:
    total: dict[str, Fraction] = {}
    sum_of, strict = Fraction(0), False
    for name, text in case["weights"].items():
        row, weight = rows[name], Fraction(text)
        if weight <= 0 or not row.first <= case["first"] <= case["last"] <= row.last:
            return False
        for part, coefficient in row.terms.items():
            total[part] = total.get(part, Fraction(0)) + weight * coefficient
        sum_of += weight * row.bound
        strict = strict or row.strict
    total = {part: value for part, value in total.items() if value}
    if not total and (sum_of < 0 or (sum_of == 0 and strict)):
        return True
    if end is None or total != form:
        return False
    value, approached = end
    return sum_of < value or (sum_of == value and (strict or not approached))


def _reached(rows: Any, last: int, form: Any, end: Any, proof: Any) -> Iterator[str]:
    value, approached = end
    inside = {part: Fraction(text) for part, text in proof["inside"].items()}
    border = {part: Fraction(text) for part, text in proof["border"].items()}
    if not approached and border:
        yield "a value that is reached needs no border"
    if not 0 <= proof["line"] <= last:
        yield "the line is not within the list"
    at = border if approached else inside
    for name, row in rows.items():
        if row.first <= proof["line"] <= row.last:
            kept, limit = _value(row.terms, inside), _value(row.terms, at)
            broken = kept > row.bound or (row.strict and kept == row.bound)
            if broken or limit > row.bound:
                yield f"the parts break row `{name}`"
    if _value(form, at) != value:
        yield "the parts do not have the value"


def _value(terms: Any, parts: Any) -> Fraction:
    return sum((each * parts[part] for part, each in terms.items()), Fraction(0))
