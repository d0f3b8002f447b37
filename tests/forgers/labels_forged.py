"""Forgeries of labels, levels and cited works, told by the trace alone."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

from abluent.engine.checking import kernel
from forging import Trace, renamed
from mutating import NotHere, pick

from forgers.kinds import ALONE, STALE, alone, everywhere, recited, restated, swap, two


def label_of(dice: random.Random, trace: Trace) -> Any:
    return pick(dice, trace["labels"])


def origin(label: Any, line: Any) -> str:
    return f"label {label['product']} {line['start']}-{line['end']}"


@alone
def a_label_is_left_out(dice: random.Random, trace: Trace) -> None:
    trace["labels"].remove(label_of(dice, trace))


@alone
def a_line_is_left_out(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    line = pick(dice, label["lines"])
    label["lines"].remove(line)
    for place, each in enumerate(label["lines"], 1):
        each["place"] = place
    gone = origin(label, line)
    trace["facts"] = [f for f in trace["facts"] if f["origin"] != gone]
    recited(trace)


@alone
def a_line_is_not_read(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    gone = origin(label, pick(dice, label["lines"]))
    trace["facts"] = [f for f in trace["facts"] if f["origin"] != gone]
    recited(trace)


@alone
def a_label_goes_on(dice: random.Random, trace: Trace) -> None:
    label_of(dice, trace)["text"] += ", Dimethicone"


@alone
def a_line_was_printed_otherwise(dice: random.Random, trace: Trace) -> None:
    line = pick(dice, label_of(dice, trace)["lines"])
    line["printed"] = (
        "Sodium Chloride" if line["printed"] != "Sodium Chloride" else "Aqua"
    )


@alone
def two_lines_change_places(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    one, other = two(dice, label["lines"])
    swap(one, other, "place")


@alone
def two_lines_change_what_they_read_as(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    one, other = two(dice, label["lines"])
    names = {origin(label, one): origin(label, other)}
    names[origin(label, other)] = origin(label, one)
    trace.update(renamed(trace, names))
    restated(trace)


@alone
def a_level_is_narrower(dice: random.Random, trace: Trace) -> None:
    entry = pick(dice, trace["bounds"])
    old = entry["atom"][-1]
    if "i" not in old or None in old["i"]:
        raise NotHere
    low, high = map(Fraction, old["i"][:2])
    new = {"i": [str(low), str((low + high) / 2), old["i"][2]]}
    everywhere(trace, old, new)
    for key in trace["names"]:
        if kernel.canonical(new) in key:
            trace["names"][key] = " to ".join(new["i"][:2])
    restated(trace)


@alone
def a_limit_is_lower(dice: random.Random, trace: Trace) -> None:
    entry = pick(dice, [each for each in trace["bounds"] if each["limits"]])
    limit = entry["limits"][pick(dice, entry["limits"])]
    limit["high"] = "1/1000"


@alone
def a_weight_of_a_proof_is_another(dice: random.Random, trace: Trace) -> None:
    sides = [e[s] for e in trace["bounds"] for s in ("low", "high") if e[s]]
    cases = [case for side in sides for case in side["cases"] if case["weights"]]
    weights = pick(dice, cases)["weights"]
    weights[pick(dice, weights)] = "1/977"


@alone
def the_proof_of_a_level_is_left_out(dice: random.Random, trace: Trace) -> None:
    trace["bounds"].remove(pick(dice, trace["bounds"]))


@alone
def a_line_of_a_level_is_nowhere(dice: random.Random, trace: Trace) -> None:
    """So that no row is in force, and any parts would keep them all."""
    sides = [e[s] for e in trace["bounds"] for s in ("low", "high") if e[s]]
    pick(dice, sides)["line"] = -1


@alone
def a_cited_work_is_not_listed(dice: random.Random, trace: Trace) -> None:
    del trace["sources"][pick(dice, trace["sources"])]


@alone
def a_citation_is_blank(dice: random.Random, trace: Trace) -> None:
    trace["sources"][pick(dice, trace["sources"])] = " "


@alone
def something_is_supposed_that_is_not_so(dice: random.Random, trace: Trace) -> None:
    trace["supposed"]["removed"].append(pick(dice, trace["facts"])["atom"])


def _stale(dice: random.Random, trace: Trace) -> None:
    trace["question"] += dice.choice(["?", " in soft water", " from anything"])


ALONE[STALE] = _stale
