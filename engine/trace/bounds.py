"""Why a quantity of a label lies where it does, in sentences that can be disputed.

Read from the proofs that a trace carries: each end of an interval follows from rows,
such as that a number of the list is no more than the one before it, added up with
weights. The checker verifies the sums; these are their words.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from abluent.engine.checking import label_rows, replay
from abluent.grammar.common.text import in_a_row

_UNITS = {"level": "%", "ionicExcess": "meq in 100 g"}
_SHORT = 1000
_SINGLE = {
    "above": "{} above the 1 % line",
    "below": "{} below the 1 % line",
    "part": "{} no more than the whole",
    "present": "{} in the product",
    "nothing less": "{} no less than nothing",
}
"""What rows say of numbers, after `number 3 is` or `numbers 3 and 4 are`."""


def arguments(trace: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    """Return, for each fact that is bounded, one sentence for each proven end.

    The facts are named by the text of their atoms.
    """
    return {
        str(entry["atom"]): tuple(_Argument(entry, trace).sentences())
        for entry in trace["bounds"]
    }


class _Argument:
    def __init__(self, entry: Mapping[str, Any], trace: Mapping[str, Any]) -> None:
        self._entry, self._names = entry, trace["names"]
        self._facts: dict[tuple[str, str], list[Any]] = {}
        for fact in trace["facts"]:
            atom = replay.atom(fact["atom"])
            self._facts.setdefault((atom[0], str(atom[1])), []).append(atom[2:])
        items = label_rows.lines(self._said, entry["atom"][1], replay.ends)
        if "order" in entry["without"]:
            items = [each._replace(ordered=False) for each in items]
        self._chain = label_rows.chain(items)
        limits = {
            name: label_rows.Limit(
                {i: Fraction(share) for i, share in each["shares"].items()},
                each["low"] and Fraction(each["low"]),
                each["high"] and Fraction(each["high"]),
            )
            for name, each in entry["limits"].items()
        }
        line = label_rows.Threshold(Fraction(1), True)
        self._rows = label_rows.rows(items, line, limits, True)

    def _said(self, predicate: str, subject: str) -> list[Any]:
        return self._facts.get((predicate, subject), [])

    def sentences(self) -> Iterator[str]:
        """Yield the argument for each end that has one."""
        low, high = replay.ends(replay.value(self._entry["atom"][-1]))
        unit = _UNITS.get(self._entry["atom"][0], "")
        for side, end, words in (
            ("low", low, ("At least", "More than")),
            ("high", high, ("At most", "Less than")),
        ):
            proof = self._entry[side]
            if proof is not None:
                head = f"{words[bool(end[1])]} {_number(end[0])} {unit}".rstrip()
                yield f"{head}: {self._reasoned(proof)}."

    def _reasoned(self, proof: Mapping[str, Any]) -> str:
        """Put the case into words in which the end is reached, and count the others."""
        cases, line = proof["cases"], proof["line"]
        here = [each for each in cases if each["first"] <= line <= each["last"]]
        case = next((each for each in here if self._says_something(each)), here[0])
        told = self._case(case)
        rest = len(cases) - 1
        if not rest:
            return told
        more = f"{rest} more case{'s' if rest > 1 else ''}"
        return f"{told}. Wherever else the line lies, by {more} of the trace"

    def _says_something(self, case: Mapping[str, Any]) -> bool:
        """Whether a case bounds the quantity, and does not exclude its own place."""
        total: dict[str, Fraction] = {}
        for name, weight in case["weights"].items():
            for place, each in self._rows[name].terms.items():
                total[place] = total.get(place, Fraction(0)) + Fraction(weight) * each
        return any(total.values())

    def _case(self, case: Mapping[str, Any]) -> str:
        known = list(self._where(case["first"], case["last"]))
        told = [text for text in self._told(case["weights"]) if text not in known]
        where = f"if {' and '.join(known)}, then " if known else ""
        return f"{where}{_joined(told or ['that says it'])}"

    def _where(self, first: int, last: int) -> Iterator[str]:
        """Say where the line lies in a case; nothing where that may be anywhere."""
        if first:
            yield _SINGLE["above"].format(f"number {self._chain[first - 1]} is")
        if last < len(self._chain):
            yield _SINGLE["below"].format(f"number {self._chain[last]} is")

    # -- rows ---------------------------------------------------------------------

    def _told(self, weights: Mapping[str, str]) -> Iterator[str]:
        """Yield what rows say, those of one kind and weight together."""
        groups: dict[tuple[str, str], list[list[str]]] = {}
        for name, weight in weights.items():
            kind, rest = _parted(name)
            groups.setdefault((kind, weight), []).append(rest)
        plain = set(weights.values()) == {"1"}
        for (kind, weight), members in groups.items():
            text = self._phrase(kind, members)
            each = " each" if len(members) > 1 else ""
            weighed = "" if plain else f" (weight {_number(Fraction(weight))}{each})"
            yield f"{text}{weighed}"

    def _phrase(self, kind: str, members: Sequence[Sequence[str]]) -> str:
        if kind in _SINGLE:
            places = sorted((rest[0] for rest in members), key=int)
            one = f"number {places[0]} is"
            many = f"numbers {in_a_row(places)} are"
            return _SINGLE[kind].format(many if len(places) > 1 else one)
        return in_a_row([self._single(kind, rest) for rest in members])

    def _single(self, kind: str, rest: Sequence[str]) -> str:
        if kind == "order":
            return f"number {rest[1]} is no more than number {rest[0]}"
        if kind.startswith("stated"):
            row = self._rows[f"{kind} {rest[0]}"]
            words = kind.removeprefix("stated ")
            figure = f"{words} {_number(abs(row.bound))} %"
            return f"the label states {figure} for number {rest[0]}"
        if kind == "sum at most":
            return "all parts make no more than 100 %"
        if kind == "sum at least":
            return "all parts make 100 %"
        return self._limit(kind, rest[0])

    def _limit(self, kind: str, name: str) -> str:
        limit = self._entry["limits"][name]
        of = in_a_row([self._name(each) for each in limit["shares"]])
        end = "high" if kind == "cap" else "low"
        most = "at most" if kind == "cap" else "at least"
        figure = _number(Fraction(limit[end]))
        return f"the limit {name} is {most} {figure} % of {of}"

    def _name(self, symbol: str) -> str:
        key = json.dumps([symbol, ""], separators=(",", ":"))
        return str(self._names.get(key, symbol))


def _parted(name: str) -> tuple[str, list[str]]:
    """Return the kind of a row and the places or names that it is on."""
    for kind in ("stated at most", "stated at least", "nothing less"):
        if name.startswith(kind):
            return kind, [name.removeprefix(f"{kind} ")]
    if name.startswith("sum "):
        return name, []
    kind, *rest = name.split(" ")
    return kind, rest


def _joined(parts: Sequence[str]) -> str:
    *first, last = parts
    return f"{'; '.join(first)}; and {last}" if first else last


def _number(value: Fraction) -> str:
    """A number as a decimal where that is short, a short fraction, or about."""
    if value.denominator > _SHORT or _SHORT % value.denominator == 0:
        return f"{float(value):.4g}"
    return str(value)
