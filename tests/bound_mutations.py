"""Ways to falsify what a trace proves of quantities, and what proofs bind."""

from __future__ import annotations

import json
import random
from copy import deepcopy
from typing import Any

from forging import Trace
from mutating import MUTATIONS, mutation, numbers, pick

_OTHERS = set(MUTATIONS)


def _proof(dice: random.Random, trace: Trace) -> Any:
    """The proof of one end of an interval."""
    entry = pick(dice, trace["bounds"])
    return pick(dice, (entry[side] for side in ("low", "high") if entry[side]))


@mutation
def change_a_weight(dice: random.Random, trace: Trace) -> None:
    weights = pick(dice, _proof(dice, trace)["cases"])["weights"]
    name = pick(dice, weights)
    weights[name] = dice.choice(["0", "1", "1/2", "-1", f"{weights[name]}0"])


@mutation
def drop_a_row(dice: random.Random, trace: Trace) -> None:
    weights = pick(dice, _proof(dice, trace)["cases"])["weights"]
    del weights[pick(dice, weights)]


@mutation
def rename_a_row(dice: random.Random, trace: Trace) -> None:
    weights = pick(dice, _proof(dice, trace)["cases"])["weights"]
    old = pick(dice, weights)
    kind, _, where = old.partition(" ")
    new = dice.choice([f"{kind} {dice.randrange(1, 8)}", f"below {where}", f"{old} 2"])
    weights[new] = weights.pop(old)


@mutation
def move_a_case(dice: random.Random, trace: Trace) -> None:
    case = pick(dice, _proof(dice, trace)["cases"])
    case[dice.choice(["first", "last"])] += dice.choice((-2, -1, 1, 2))


@mutation
def drop_a_case(dice: random.Random, trace: Trace) -> None:
    cases = _proof(dice, trace)["cases"]
    cases.pop(pick(dice, range(len(cases))))


@mutation
def change_a_part(dice: random.Random, trace: Trace) -> None:
    parts = _proof(dice, trace)[dice.choice(["inside", "border"])]
    parts[pick(dice, parts)] = dice.choice(["0", "1", "50", "-1", "1/3"])


@mutation
def move_the_line(dice: random.Random, trace: Trace) -> None:
    _proof(dice, trace)["line"] += dice.choice((-2, -1, 1, 2))


@mutation
def exchange_two_proofs(dice: random.Random, trace: Trace) -> None:
    one, other = (pick(dice, trace["bounds"]) for _ in "ab")
    one["low"], other["high"] = other["high"], one["low"]


@mutation
def leave_a_bound_unproven(dice: random.Random, trace: Trace) -> None:
    entry = pick(dice, trace["bounds"])
    entry[dice.choice(["low", "high"])] = None


@mutation
def drop_an_entry(dice: random.Random, trace: Trace) -> None:
    trace["bounds"].pop(pick(dice, range(len(trace["bounds"]))))


@mutation
def set_more_aside(dice: random.Random, trace: Trace) -> None:
    pick(dice, trace["bounds"])["without"] = [dice.choice(["order", "stated", "whole"])]


@mutation
def change_a_limit(dice: random.Random, trace: Trace) -> None:
    limits = pick(dice, (each["limits"] for each in trace["bounds"] if each["limits"]))
    limit = limits[pick(dice, limits)]
    if dice.random() < 0.5:
        limit[dice.choice(["low", "high"])] = dice.choice([None, "0", "1", "5"])
    else:
        words = [w for f in trace["facts"] for w in f["atom"] if isinstance(w, str)]
        limit["shares"][dice.choice(words)] = dice.choice(["1", "1/2"])


@mutation
def move_an_end(dice: random.Random, trace: Trace) -> None:
    """One end of an interval, wherever the interval is told."""
    old = deepcopy(pick(dice, trace["bounds"])["atom"][-1])
    new = deepcopy(old)
    new["i"][dice.randrange(3)] = dice.choice(["0", "1", "-2", "35", None, "[]", "()"])
    for place in [*numbers(trace["nodes"]), *numbers(trace["facts"])]:
        if place == old:
            place["i"] = list(new["i"])
    for entry in trace["bounds"]:
        entry["atom"] = [new if part == old else part for part in entry["atom"]]
    key = json.dumps([new, ""], separators=(",", ":"))
    trace["names"].setdefault(key, " to ".join(filter(None, new["i"][:2])))


@mutation
def rename_a_line(dice: random.Random, trace: Trace) -> None:
    """What a place reads as, in the facts and nodes alike."""
    lines = [f["atom"] for f in trace["facts"] if f["atom"][0] == "line"]
    old = deepcopy(pick(dice, lines))
    new = [*old[:-1], pick(dice, lines)[-1]]
    for part in [*trace["facts"], *trace["nodes"].values()]:
        if part.get("atom") == old:
            part["atom"] = list(new)


@mutation
def change_a_figure(dice: random.Random, trace: Trace) -> None:
    """A mass, a charge, a limit or a printed figure that a proof rests on."""
    names = ("saltMass", "ionMass", "ionCharge", "high", "low", "stated", "freeBelow")
    fact = pick(dice, (f for f in trace["facts"] if f["atom"][0] in names))
    fact["atom"][-1] = {"n": dice.choice(["1", "2", "1/2", "300"])}


@mutation
def bind_null(dice: random.Random, trace: Trace) -> None:
    """Null would agree with another value in every premise."""
    nodes = [n for n in trace["nodes"].values() if n["kind"] in ("rule", "collect")]
    node = pick(dice, nodes)
    parts = [node] if node["kind"] == "rule" else node["members"]
    bind = pick(dice, (part["bind"] for part in parts if part["bind"]))
    bind[pick(dice, bind)] = None


BOUND_MUTATIONS = set(MUTATIONS) - _OTHERS
