"""The sentences and rows that are made from the steps, and the names they want."""

import json
import re
from fractions import Fraction
from typing import Any

from .values import NUM, SPAN, canonical, read_value, span, want
from .world import Trace

PLACE = re.compile(r"\{\??(\w+)(?::(\w+))?\}")
FIGURE = re.compile(r"-?\d+(?:[./]\d+)?")


def name_of(trace: Trace, value: Any, how: str, place: str) -> str:
    """How a value is written."""
    key = canonical([value, how])
    want(key in trace["names"], place, f"there is no name for {key}")
    return str(trace["names"][key])


def fill(trace: Trace, template: str, values: dict[str, Any], place: str) -> str:
    """A template with the names of values at its places."""

    def named(found: re.Match[str]) -> str:
        if found[1] not in values:
            return found[0]
        return name_of(trace, values[found[1]], found[2] or "", place)

    return str(PLACE.sub(named, template))


def written(trace: Trace, data: Any, place: str) -> str:
    """An expression as it is written."""
    if not (isinstance(data, dict) and "op" in data):
        return name_of(trace, data, "", place)
    parts = [written(trace, part, place) for part in data["of"]]
    if data["op"] in ("min", "max"):
        return f"{data['op']}({', '.join(parts)})"
    if len(parts) == 1:
        return str(data["op"]) + parts[0]
    return "(" + f" {data['op']} ".join(parts) + ")"


def sentence(trace: Trace, node: dict[str, Any], place: str) -> str:
    """The sentence of a step."""
    kind = node["kind"]
    if kind == "compare":
        ends = [name_of(trace, node[end], "", place) for end in ("left", "right")]
        possible = " is possible" if node["perhaps"] else ""
        return f"{ends[0]} {node['op']} {ends[1]}{possible}"
    if kind == "compute":
        result = name_of(trace, node["result"], "", place)
        return f"{written(trace, node['expr'], place)} = {result}"
    if kind == "collect":
        result = name_of(trace, node["result"], "", place)
        return f"{node['function']} over {len(node['members'])} found = {result}"
    if kind == "rule":
        want(node["rule"] in trace["program"]["rules"], place, "is by no rule")
        says = trace["program"]["rules"][node["rule"]]["says"]
        if says:
            return fill(trace, says, node["bind"], place)
    sentences = trace["program"]["predicates"].get(node["atom"][0])
    want(sentences is not None, place, "its predicate has no sentence")
    values = {str(index): value for index, value in enumerate(node["atom"]) if index}
    return fill(trace, sentences[kind == "absent"], values, place)


def check_names(trace: Trace) -> None:
    """Every sentence can be made, and numbers read as themselves."""
    for name, node in trace["nodes"].items():
        sentence(trace, node, f"nodes/{name}")
    for key, text in trace["names"].items():
        check_name(key, text, f"names/{key}")


def check_name(key: str, text: str, place: str) -> None:
    """The key of a name is one, and the text of a number shows its figures."""
    try:
        data = json.loads(key)
    except (ValueError, RecursionError):
        data = None
    want(isinstance(data, list) and len(data) == 2, place, "is no key of a name")
    want(canonical(data) == key, place, "is no canonical text")
    want(isinstance(data[1], str), place, "is not written in a way")
    value = read_value(data[0], place)
    if not isinstance(value, tuple):
        return
    want(value[0] in (NUM, SPAN), place, "is no value")
    ends = span(value)
    wanted = [ends.low] if ends.low == ends.high else [ends.low, ends.high]
    shown = [end for end in wanted if isinstance(end, Fraction)]
    figures = FIGURE.findall(text)
    want(len(figures) == len(shown), place, "shows other figures than it has ends")
    for figure, end in zip(figures, shown, strict=True):
        want(is_near(figure, end), place, f"shows {figure} for {end}")


def is_near(figure: str, end: Fraction) -> bool:
    """Whether a figure is off by a thousandth part of an end at most."""
    if "/" in figure and not int(figure.partition("/")[2]):
        return False
    return abs(Fraction(figure) - end) <= abs(end) / 1000
