"""The words of a trace, for the checker: its sentences anew, and its labels.

Needs the standard library only and shares nothing with the modules that wrote them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, TypeAlias

PLACE = re.compile(r"\{\??(\w+)(?::(\w+))?\}")
ORIGIN = re.compile(r"label (.+) \d+-\d+$", re.DOTALL)
FIGURE = re.compile(r"-?\d+(?:[./]\d+)?")

Test: TypeAlias = tuple[object, str, str]
"""Whether something holds, where, and what is wrong if it does not."""


def sentences(trace: Any) -> dict[str, str]:
    """Every node of a trace in words, by its name."""
    words = Words(trace["names"], trace["program"])
    return {name: words.sentence(node) for name, node in trace["nodes"].items()}


class Words:
    """The words of one trace: how it writes terms, and its templates."""

    def __init__(self, names: Any, program: Any) -> None:
        self._names = names
        self._rules = program["rules"]
        self._predicates = program["predicates"]

    def name(self, term: Any, how: str = "") -> str:
        """A term as the trace writes it; a number must read as itself.

        Raises:
            KeyError: the trace does not say.
            ValueError: its figures are off by more than one in a thousand.
        """
        key = json.dumps([term, how], sort_keys=True, separators=(",", ":"))
        text = str(self._names[key])
        if isinstance(term, dict):
            ends = [term["n"]] if "n" in term else [e for e in term["i"][:2] if e]
            shown = FIGURE.findall(text)
            for said, end in zip(
                map(Fraction, shown), map(Fraction, ends), strict=True
            ):
                if abs(said - end) * 1000 > abs(end):
                    raise ValueError(f"{text!r} shows another number than {end}")
        return text

    def sentence(self, node: Any) -> str:
        """A node in words."""
        kind = node["kind"]
        says = self._rules[node["rule"]]["says"] if kind == "rule" else ""
        if says:
            return self._fill(says, node["bind"])
        if "atom" in node:
            name, *args = node["atom"]
            template = self._predicates[name][kind == "absent"]
            return self._fill(template, {str(i): a for i, a in enumerate(args, 1)})
        if kind == "compare":
            left, right = self.name(node["left"]), self.name(node["right"])
            text = f"{left} {node['op']} {right}"
            return f"{text} is possible" if node["perhaps"] else text
        if kind == "compute":
            return f"{self._written(node['expr'])} = {self.name(node['result'])}"
        start = f"{node['function']} over {len(node['members'])} found"
        return f"{start} = {self.name(node['result'])}"

    def _fill(self, template: str, terms: dict[str, Any]) -> str:
        def put(place: re.Match[str]) -> str:
            name, how = place[1], place[2] or ""
            return self.name(terms[name], how) if name in terms else place[0]

        return PLACE.sub(put, template)

    def _written(self, expr: Any) -> str:
        if not isinstance(expr, dict) or "op" not in expr:
            return self.name(expr)
        op, parts = expr["op"], [self._written(each) for each in expr["of"]]
        if op in ("min", "max"):
            return f"{op}({', '.join(parts)})"
        return f"({f' {op} '.join(parts)})" if len(parts) > 1 else f"{op}{parts[0]}"


LABELLED = "product/"
"""How the names of things begin that must be there with their label."""


def labels(trace: Any) -> Iterator[Test]:
    """That everything named that has a label is there with the whole of it, once."""
    listed = sorted(label["product"] for label in trace["labels"])
    yield len(set(listed)) == len(listed), "labels", "are not there once each"
    parts = (*trace["facts"], *trace["goals"], *trace["nodes"].values())
    named = {
        term
        for part in parts
        for term in part.get("atom", ())[1:]
        if isinstance(term, str) and term.startswith(LABELLED)
    }
    read = {found[1] for f in trace["facts"] if (found := ORIGIN.match(f["origin"]))}
    for name in sorted((named | read) - set(listed)):
        yield False, name, "is named, and its label is not there"
    for label in trace["labels"]:
        keys = {"product", "text", "lines", "notes"}
        yield set(label) == keys, "labels", "one has missing or unknown keys"
        yield from label_tests(label, trace)


def label_tests(label: Any, trace: Any) -> Iterator[Test]:
    """That every letter of a label is in a line that was read, or in a note.

    Facts that are supposed to be otherwise need not agree with their lines.
    """
    product, text, supposed = label["product"], label["text"], trace["supposed"]
    origins: dict[str, list[Any]] = {}
    for fact in trace["facts"]:
        origins.setdefault(fact["origin"], []).append(fact["atom"])
    for number, line in enumerate(label["lines"], 1):
        where, place = (
            f"label {product} {line['start']}-{line['end']}",
            {"n": str(number)},
        )
        yield set(line) == LINE_KEYS, where, "has missing or unknown keys"
        whole = [type(line[key]) for key in ("place", "start", "end")] == [int] * 3
        there = whole and line["place"] == number
        yield there, where, "is not at the next place"
        printed = text[line["start"] : line["end"]]
        yield printed and printed == line["printed"], where, "was printed otherwise"
        read = [each for each in origins.get(where, ()) if product in each]
        away = [each for each in supposed["removed"] if each[1:3] == [product, place]]
        yield read or away, where, "is not read"
        for each in read:
            elsewhere = isinstance((*each, 0, 0)[2], dict) and each[2] != place
            yield not elsewhere or each in supposed["added"], where, "is misplaced"
    for note in label["notes"]:
        yield set(note) == {"start", "end", "why"}, "labels", "a note has other keys"
        yield note["why"].strip(), "labels", "a note gives no reason"
    at, end = 0, {"start": len(text), "end": len(text)}
    parts = sorted((*label["lines"], *label["notes"]), key=_start)
    for part in (*parts, end):
        left = text[at : part["start"]]
        yield at <= part["start"] <= part["end"], "labels", "lines or notes overlap"
        yield not left.strip(), "labels", f"{left!r} is left out"
        at = part["end"]


LINE_KEYS = {"place", "start", "end", "printed"}


def _start(part: Any) -> int:
    return int(part["start"])
