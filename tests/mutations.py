"""Ways to falsify a trace, and how a forger would cover the tracks.

A mutation changes one thing. Then the forger may leave the rest as it is (`kept`),
compute every hash anew (`rehashed`), or compute anew everything that follows from
the nodes: hashes, sentences, standings, what the verdict says of them (`restated`).
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

from abluent.engine.checking import kernel
from bound_mutations import BOUND_MUTATIONS
from forging import Trace, rehashed, renamed, restate, texts
from mutating import MUTATIONS, NotHere, mutation, numbers, pick

COVERS = ("kept", "rehashed", "restated")
assert BOUND_MUTATIONS <= set(MUTATIONS)


def mutated(seed: int, trace: Trace) -> tuple[str, str, Trace]:
    """A mutant: the name of the mutation, how the tracks are covered, the trace."""
    dice = random.Random(seed)
    names = sorted(MUTATIONS)
    while True:
        name, cover = dice.choice(names), dice.choice(COVERS)
        mutant = deepcopy(trace)
        try:
            MUTATIONS[name](dice, mutant)
        except NotHere:
            continue
        if mutant == trace:
            continue
        if cover != "kept":
            mutant = rehashed(mutant)
        if cover == "restated":
            restate(mutant)
        return name, cover, mutant


def _leaf(dice: random.Random, data: Any) -> tuple[Any, Any]:
    """A container and a key or place in it that holds no container."""
    path = pick(dice, leaves(data))
    for key in path[:-1]:
        data = data[key]
    return data, path[-1]


def leaves(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path to everything that some JSON data says."""
    if not isinstance(data, dict | list) or (path and not data):
        yield path
        return
    for key, part in data.items() if isinstance(data, dict) else enumerate(data):
        yield from leaves(part, (*path, key))


def _other(dice: random.Random, trace: Trace, value: Any) -> Any:
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + dice.choice((-1, 1))
    if not isinstance(value, str):
        return "something"
    others = sorted({text for text in texts(trace) if len(text) < 40} - {value})
    return dice.choice([dice.choice(others), value + "x", value[:-1] or "y"])


def _rule_nodes(trace: Trace) -> list[Any]:
    return [n for n in trace["nodes"].values() if n["kind"] == "rule" and n["premises"]]


@mutation
def change_anything(dice: random.Random, trace: Trace) -> None:
    place, key = _leaf(dice, trace)
    place[key] = _other(dice, trace, place[key])


@mutation
def change_a_node(dice: random.Random, trace: Trace) -> None:
    place, key = _leaf(dice, pick(dice, trace["nodes"].values()))
    place[key] = _other(dice, trace, place[key])


@mutation
def delete_something(dice: random.Random, trace: Trace) -> None:
    place, key = _leaf(dice, trace)
    del place[key]


@mutation
def drop_a_list_element(dice: random.Random, trace: Trace) -> None:
    place = pick(dice, (each for each in _lists(trace) if each))
    place.pop(dice.randrange(len(place)))


@mutation
def repeat_a_list_element(dice: random.Random, trace: Trace) -> None:
    place = pick(dice, (each for each in _lists(trace) if each))
    place.append(deepcopy(dice.choice(place)))


@mutation
def swap_list_elements(dice: random.Random, trace: Trace) -> None:
    place = pick(dice, (each for each in _lists(trace) if len(each) > 1))
    one, two = dice.sample(range(len(place)), 2)
    place[one], place[two] = place[two], place[one]


def _lists(data: Any) -> Iterator[list[Any]]:
    if isinstance(data, list):
        yield data
    if isinstance(data, dict | list):
        for part in data.values() if isinstance(data, dict) else data:
            yield from _lists(part)


@mutation
def drop_a_premise(dice: random.Random, trace: Trace) -> None:
    premises = pick(dice, _rule_nodes(trace))["premises"]
    premises.pop(dice.randrange(len(premises)))


@mutation
def swap_premises(dice: random.Random, trace: Trace) -> None:
    nodes = [each for each in _rule_nodes(trace) if len(each["premises"]) > 1]
    dice.shuffle(pick(dice, nodes)["premises"])


@mutation
def exchange_a_premise(dice: random.Random, trace: Trace) -> None:
    premises = pick(dice, _rule_nodes(trace))["premises"]
    premises[dice.randrange(len(premises))] = pick(dice, trace["nodes"])


@mutation
def rename_a_word_everywhere(dice: random.Random, trace: Trace) -> None:
    atom = pick(dice, trace["facts"])["atom"]
    old = pick(dice, (each for each in atom if isinstance(each, str)))
    words = [w for f in trace["facts"] for w in f["atom"] if isinstance(w, str)]
    changed = renamed(trace, {old: dice.choice([*words, "nobody"])})
    trace.clear()
    trace.update(changed)


@mutation
def rename_a_word_in_a_node(dice: random.Random, trace: Trace) -> None:
    key = pick(dice, trace["nodes"])
    words = [w for f in trace["facts"] for w in f["atom"] if isinstance(w, str)]
    old = pick(dice, sorted(set(texts(trace["nodes"][key])) & set(words)))
    trace["nodes"][key] = renamed(trace["nodes"][key], {old: dice.choice(words)})


@mutation
def change_a_number(dice: random.Random, trace: Trace) -> None:
    part = dice.choice(
        [trace["nodes"], trace["facts"], trace["program"], trace["names"]]
    )
    place = pick(dice, numbers(part))
    key = "n" if "n" in place else "i"
    if key == "n":
        place["n"] = dice.choice(["0", "1", "7/2", "-3", "5"])
    else:
        place["i"][dice.randrange(3)] = dice.choice(["0", "1", None, "[)", "(]", "3"])


@mutation
def change_a_number_everywhere(dice: random.Random, trace: Trace) -> None:
    chosen = deepcopy(pick(dice, numbers(trace["nodes"])))
    new = dice.choice(["0", "1", "7/2", "-3", "5"])
    for place in numbers([trace["nodes"], trace["facts"], trace["goals"]]):
        if place == chosen and "n" in place:
            place["n"] = new
    trace["names"].setdefault(json.dumps([{"n": new}, ""], separators=(",", ":")), new)


@mutation
def move_a_span(dice: random.Random, trace: Trace) -> None:
    label = pick(dice, trace["labels"])
    part = pick(dice, [*label["lines"], *label["notes"]])
    part[dice.choice(["start", "end"])] += dice.choice((-2, -1, 1, 2))


@mutation
def drop_a_line(dice: random.Random, trace: Trace) -> None:
    label = pick(dice, trace["labels"])
    line = label["lines"].pop(dice.randrange(len(label["lines"])))
    origin = f"label {label['product']} {line['start']}-{line['end']}"
    trace["facts"] = [each for each in trace["facts"] if each["origin"] != origin]
    if dice.random() < 0.5:
        note = {"start": line["start"], "end": line["end"], "why": "aside"}
        label["notes"].append(note)
    for place, each in enumerate(label["lines"], 1):
        each["place"] = place


@mutation
def reword_a_label(dice: random.Random, trace: Trace) -> None:
    label = pick(dice, trace["labels"])
    at = dice.randrange(len(label["text"]))
    label["text"] = label["text"][:at] + dice.choice("x,. 1") + label["text"][at + 1 :]


@mutation
def forge_an_absence(dice: random.Random, trace: Trace) -> None:
    fact = pick(dice, trace["facts"])
    pattern = [fact["atom"][0], *(None for _ in fact["atom"][1:])]
    node = {"kind": "absent", "atom": pattern, "form": "not"}
    key = kernel.named(node)
    trace["nodes"][key] = node
    trace["program"]["predicates"].setdefault(fact["atom"][0], ["so", "not so"])
    premises = pick(dice, _rule_nodes(trace))["premises"]
    premises[dice.randrange(len(premises))] = key


@mutation
def deny_a_goal(dice: random.Random, trace: Trace) -> None:
    goal = pick(dice, (each for each in trace["goals"] if each["holds"]))
    node = {"kind": "absent", "atom": goal["atom"], "form": "not"}
    key = kernel.named(node)
    trace["nodes"] = {key: node}
    trace["goals"] = [{**goal, "root": key, "holds": False, "row": 0}]
    row = {**trace["verdict"]["answers"][goal["row"]], "holds": False, "proof": key}
    trace["verdict"]["answers"] = [row]


@mutation
def claim_an_absent_goal(dice: random.Random, trace: Trace) -> None:
    goal = pick(dice, (each for each in trace["goals"] if not each["holds"]))
    if None in goal["atom"]:
        raise NotHere
    fact = {**pick(dice, trace["facts"]), "atom": goal["atom"]}
    node = {"kind": "fact", **fact}
    key = kernel.named(node)
    trace["nodes"][key] = node
    del trace["nodes"][goal["root"]]
    trace["facts"].append(fact)
    goal["root"] = key


@mutation
def change_a_citation(dice: random.Random, trace: Trace) -> None:
    name = pick(dice, trace["sources"])
    trace["sources"][name] += ", page 7"


@mutation
def cite_another_source(dice: random.Random, trace: Trace) -> None:
    fact = pick(dice, trace["facts"])
    new = [pick(dice, trace["sources"])]
    for node in trace["nodes"].values():
        if node.get("atom") == fact["atom"] and node["kind"] == "fact":
            node["sources"] = new
    fact["sources"] = new


@mutation
def raise_a_standing(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    fact = pick(dice, trace["facts"])
    for node in trace["nodes"].values():
        if node.get("atom") == fact["atom"] and node["kind"] == "fact":
            node.update(standing=best, memory=False)
    fact.update(standing=best, memory=False)


@mutation
def raise_a_rule(dice: random.Random, trace: Trace) -> None:
    rule = pick(dice, trace["program"]["rules"].values())
    rule.update(standing=trace["program"]["standings"][0], memory=False)


@mutation
def drop_a_condition(dice: random.Random, trace: Trace) -> None:
    name = pick(dice, trace["program"]["rules"])
    body = trace["program"]["rules"][name]["body"]
    at = pick(dice, range(len(body)))
    body.pop(at)
    for node in trace["nodes"].values():
        if node.get("rule") == name and len(node["premises"]) > at:
            node["premises"].pop(at)


@mutation
def drop_a_rule(dice: random.Random, trace: Trace) -> None:
    rules = trace["program"]["rules"]
    del rules[pick(dice, rules)]


@mutation
def drop_a_fact(dice: random.Random, trace: Trace) -> None:
    trace["facts"].pop(pick(dice, range(len(trace["facts"]))))


@mutation
def invent_a_fact(dice: random.Random, trace: Trace) -> None:
    fact = deepcopy(pick(dice, trace["facts"]))
    words = [w for f in trace["facts"] for w in f["atom"][1:]]
    fact["atom"][dice.randrange(1, len(fact["atom"]))] = dice.choice(words)
    trace["facts"].append(fact)


@mutation
def suppose_a_fact_away(dice: random.Random, trace: Trace) -> None:
    fact = trace["facts"].pop(pick(dice, range(len(trace["facts"]))))
    trace["supposed"]["removed"].append(fact["atom"])


@mutation
def drop_a_member(dice: random.Random, trace: Trace) -> None:
    nodes = [n for n in trace["nodes"].values() if n["kind"] == "collect"]
    members = pick(dice, nodes)["members"]
    members.pop(dice.randrange(len(members)))


@mutation
def drop_a_goal(dice: random.Random, trace: Trace) -> None:
    goal = trace["goals"].pop(pick(dice, range(len(trace["goals"]))))
    trace["verdict"]["answers"].pop(goal["row"])
    for each in trace["goals"]:
        each["row"] -= each["row"] > goal["row"]
    kept = kernel.below(trace["nodes"], [each["root"] for each in trace["goals"]])
    trace["nodes"] = {key: trace["nodes"][key] for key in kept}
