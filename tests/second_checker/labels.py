"""Labels: every character is read, or passed over for a reason."""

import re
from collections.abc import Iterator
from typing import Any

from .values import NUM, Value, want
from .world import Entry, World

ORIGIN = re.compile(r"label (.+) ([0-9]+)-([0-9]+)", re.DOTALL)


def is_product(value: Value) -> bool:
    """Whether a value is a product."""
    return isinstance(value, str) and value.startswith("product/")


def products_of(world: World) -> set[str]:
    """The products of all facts, goals, steps and origins."""
    trace = world.trace
    steps = trace["nodes"].values()
    found = [value for goal in trace["goals"] for value in goal["atom"][1:]]
    found += [value for node in steps for value in node.get("atom", ())[1:]]
    for entry in entries_of(world):
        found += entry.atom[1:]
        origin = ORIGIN.fullmatch(entry.origin)
        found += [origin[1]] if origin else []
    return {value for value in found if is_product(value)}


def entries_of(world: World) -> Iterator[Entry]:
    """All entries that are told."""
    for entries in world.told.values():
        yield from entries


def check_labels(world: World) -> None:
    """There is one label for each product, and each is accounted for."""
    names = [label["product"] for label in world.trace["labels"]]
    want(len(set(names)) == len(names), "labels", "a product has two labels")
    for product in sorted(products_of(world)):
        want(product in names, "labels", f"{product} has no label")
    by_origin: dict[str, list[Entry]] = {}
    for entry in entries_of(world):
        by_origin.setdefault(entry.origin, []).append(entry)
    for label in world.trace["labels"]:
        place = f"labels/{label['product']}"
        check_text(label, place)
        for line in label["lines"]:
            check_line(world, label["product"], line, by_origin, place)


def check_text(label: dict[str, Any], place: str) -> None:
    """Lines and notes do not overlap, and the rest is white space."""
    text, lines = label["text"], label["lines"]
    places = [line["place"] for line in lines]
    want(places == list(range(1, len(lines) + 1)), place, "its places are not counted")
    for line in lines:
        want(line["start"] < line["end"], place, "a line is empty")
        printed = text[line["start"] : line["end"]]
        want(printed == line["printed"], place, f"{line['printed']} is not printed")
    for note in label["notes"]:
        want(bool(note["why"].strip()), place, "a note has no reason")
    at = 0
    parts = sorted((part["start"], part["end"]) for part in [*lines, *label["notes"]])
    for start, end in [*parts, (len(text), len(text))]:
        want(at <= start <= end <= len(text), place, f"something overlaps at {start}")
        want(not text[at:start].strip(), place, f"passes over {text[at:start]!r}")
        at = end


def check_line(
    world: World,
    product: str,
    line: dict[str, Any],
    by_origin: dict[str, list[Entry]],
    place: str,
) -> None:
    """A line is read, at its place."""
    origin = f"label {product} {line['start']}-{line['end']}"
    here: Value = (NUM, str(line["place"]))
    read = [entry for entry in by_origin.get(origin, ()) if product in entry.atom[1:]]
    for entry in read:
        second = entry.atom[2] if len(entry.atom) > 2 else ""
        sure = isinstance(second, str) or second == here or entry.atom in world.added
        want(sure, place, f"{line['printed']} is read at another place")
    away = any(atom[1:3] == (product, here) for atom in world.removed)
    want(bool(read) or away, place, f"{line['printed']} is not read")
