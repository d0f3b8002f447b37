"""Whether the proof of a bound holds, by the checker's own account of a label."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from abluent.engine.amounts._proofs import Certificate
from abluent.engine.amounts.levels import Cap, Item
from abluent.engine.checking import bounds, label_rows, replay
from abluent.engine.proof.encode import term_json

Rows = Mapping[str, bounds.Row]


def faults(proof: Certificate, caps: Iterable[Cap] = ()) -> list[str]:
    """What is wrong with a proof, its rows included; `caps` are those of its label."""
    rebuilt = rows(proof, caps)
    own = {row.name: shape(proof, row) for row in proof.rows}
    odd = [name for name, row in own.items() if rebuilt.get(name) != row]
    return odd + list(
        problems(proof, proof.as_data(), {name: rebuilt[name] for name in own})
    )


def problems(proof: Certificate, data: Any, known: Rows) -> list[str]:
    """What is wrong with the data of a proof, given the rows."""
    places = [str(item.place) for item in proof.items]
    form = {places[at]: value for at, value in proof.form.items()}
    end = None if proof.bound is None else (proof.bound, proof.approached)
    last = sum(item.chained for item in proof.items)
    try:
        return list(bounds.problems(known, last, form, end, data))
    except (ArithmeticError, LookupError, TypeError, ValueError) as error:
        return [repr(error)]


def rows(proof: Certificate, caps: Iterable[Cap] = ()) -> Rows:
    """The rows of a label, as the checker makes them."""
    rule = label_rows.Threshold(proof.rule.threshold, proof.rule.free_at_threshold)
    limits = {
        cap.name: label_rows.Limit(dict(cap.shares), cap.low, cap.high) for cap in caps
    }
    items = list(map(line, proof.items))
    return label_rows.rows(items, rule, limits, whole=True)


def line(item: Item) -> label_rows.Line:
    """A place of a label as the checker has it."""
    stated = None
    if item.stated is not None:
        stated = replay.ends(replay.value(term_json(item.stated)))
    flags = (item.ordered, item.certain, item.counted)
    return label_rows.Line(str(item.place), item.symbol, stated, *flags)


def shape(proof: Certificate, row: Any) -> bounds.Row:
    """A row with its places in the stead of indices."""
    terms = {str(proof.items[at].place): Fraction(c) for at, c in row.terms.items()}
    return bounds.Row(terms, row.bound, row.strict, row.first, row.last)
