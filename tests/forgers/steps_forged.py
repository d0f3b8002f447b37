"""Forgeries of steps, told by the trace alone."""

from __future__ import annotations

import random
from contextlib import suppress

from abluent.engine.checking import kernel
from forging import Trace
from mutating import NotHere, pick

from forgers.kinds import BROKEN, alone, each_row, nodes_of, recited, restated


@alone
def a_premise_is_another_step(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, [n for n in nodes_of(trace, "rule") if n["premises"]])
    at = dice.randrange(len(node["premises"]))
    mine = trace["nodes"][node["premises"][at]]
    others = [
        key
        for key, each in trace["nodes"].items()
        if each["kind"] in ("fact", "absent")
        and each["atom"][0] != mine.get("atom", [""])[0]
    ]
    node["premises"][at] = pick(dice, others)
    restated(trace)


@alone
def a_premise_is_left_out(dice: random.Random, trace: Trace) -> None:
    _without_one(dice, trace, "rule", "premises")


@alone
def a_rule_concludes_something_else(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, [n for n in nodes_of(trace, "rule") if len(n["atom"]) > 1])
    at = dice.randrange(1, len(node["atom"]))
    words = [t for f in trace["facts"] for t in f["atom"][1:] if t != node["atom"][at]]
    node["atom"][at] = pick(dice, words)
    restated(trace)


@alone
def a_variable_has_another_value(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, [n for n in nodes_of(trace, "rule") if n["bind"]])
    name = pick(dice, node["bind"])
    words = [
        t for f in trace["facts"] for t in f["atom"][1:] if t != node["bind"][name]
    ]
    old, new = node["bind"][name], pick(dice, words)
    node["bind"][name] = new
    node["atom"] = [new if each == old else each for each in node["atom"]]
    restated(trace)


@alone
def what_follows_is_said_to_be_absent(dice: random.Random, trace: Trace) -> None:
    goal = pick(dice, [each for each in trace["goals"] if each["holds"]])
    node = {"kind": "absent", "atom": goal["atom"], "form": "not"}
    trace["nodes"]["0" * 16] = node
    goal["root"] = "0" * 16
    trace["program"]["predicates"].setdefault(goal["atom"][0], ["so", "not so"])
    restated(trace)


@alone
def an_absence_is_wider_than_it_is(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, nodes_of(trace, "absent"))
    told = {fact["atom"][0] for fact in trace["facts"]}
    if node["atom"][0] not in told or None in node["atom"]:
        raise NotHere
    node["atom"] = [node["atom"][0], *(None for _ in node["atom"][1:])]
    trace["names"]['[null,""]'] = "anything"
    restated(trace)


@alone
def a_fact_is_used_that_is_not_told(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, nodes_of(trace, "fact"))
    entry = {key: part for key, part in node.items() if key != "kind"}
    trace["facts"].remove(entry)
    recited(trace)


@alone
def a_comparison_is_turned(dice: random.Random, trace: Trace) -> None:
    node = pick(
        dice, [n for n in nodes_of(trace, "compare") if n["left"] != n["right"]]
    )
    if node["op"] not in ("<", ">"):
        raise NotHere
    node["left"], node["right"] = node["right"], node["left"]
    node["perhaps"] = False
    restated(trace)


@alone
def a_sum_comes_to_more(dice: random.Random, trace: Trace) -> None:
    node = pick(dice, nodes_of(trace, "compute", "collect"))
    node["result"] = {"n": "17"}
    trace["names"]['[{"n":"17"},""]'] = "17"
    restated(trace)


@alone
def a_member_is_left_out(dice: random.Random, trace: Trace) -> None:
    _without_one(dice, trace, "collect", "members")


def _without_one(dice: random.Random, trace: Trace, kind: str, part: str) -> None:
    """Leave one of its premises or members out of a step."""
    node = pick(dice, [n for n in nodes_of(trace, kind) if n[part]])
    node[part].pop(dice.randrange(len(node[part])))
    restated(trace)


@alone
def a_number_is_shown_as_another(dice: random.Random, trace: Trace) -> None:
    shown = {
        kernel.canonical([each, ""])
        for node in nodes_of(trace, "fact", "rule")
        for each in node["atom"]
        if isinstance(each, dict)
    }
    key = pick(dice, sorted(shown & set(trace["names"])))
    trace["names"][key] = "99"
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(each_row(trace))


@alone
def a_step_is_added_that_nothing_rests_on(dice: random.Random, trace: Trace) -> None:
    fact = pick(dice, trace["facts"])
    node = {"kind": "fact", **fact}
    name = kernel.named(node)
    if name in trace["nodes"]:
        raise NotHere
    trace["nodes"][name] = node
