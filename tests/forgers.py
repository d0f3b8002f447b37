"""False traces by someone who knows the format: each says what is not so.

A forger changes one statement of a true trace and then everything that hangs on it:
names of steps, goals, rows, cited works, digest. `ALONE` are kinds that contradict
themselves, and are refused by their own rules and facts; `BY_BASE` hang together, and
are refused by the base. A kind that finds nothing to forge raises `NotHere`.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from copy import deepcopy
from fractions import Fraction
from typing import Any

from abluent.engine.checking import kernel, reword
from forging import Trace, rehashed, renamed
from mutating import NotHere, numbers, pick

Forger = Callable[[random.Random, Trace], None]
ALONE: dict[str, Forger] = {}
BY_BASE: dict[str, Forger] = {}
STALE = "the digest is left as it was"
BROKEN = (KeyError, ValueError, IndexError, TypeError, AttributeError, kernel.Bad)


def alone(forger: Forger) -> Forger:
    ALONE[forger.__name__.replace("_", " ")] = forger
    return forger


def by_base(forger: Forger) -> Forger:
    BY_BASE[forger.__name__.replace("_", " ")] = forger
    return forger


def forged(kind: str, seed: int, true: Trace) -> Trace:
    """A forgery of a kind, with all that hangs on it made anew.

    Raises:
        NotHere: there is nothing of the sort in the trace.
    """
    trace = deepcopy(true)
    {**ALONE, **BY_BASE}[kind](random.Random(seed), trace)
    if kernel.canonical(trace) == kernel.canonical(true):
        raise NotHere
    if kind != STALE:
        trace["digest"] = digest(trace)
    return trace


def digest(trace: Trace) -> str:
    return kernel.digest({key: part for key, part in trace.items() if key != "digest"})


def rows(trace: Trace) -> list[Any]:
    found: list[Any] = trace["verdict"]["answers"]
    if not found:
        raise NotHere
    return found


def two(dice: random.Random, some: Any) -> list[Any]:
    some = list(some)
    if len(some) < 2:
        raise NotHere
    return dice.sample(some, 2)


def swap(one: Any, other: Any, key: str) -> None:
    if one[key] == other[key]:
        raise NotHere
    one[key], other[key] = other[key], one[key]


def nodes_of(trace: Trace, *kinds: str) -> list[Any]:
    return [node for node in trace["nodes"].values() if node["kind"] in kinds]


# -- what hangs on a change


def restated(trace: Trace) -> None:
    """Make anew what follows from the steps: their names, the goals, the rows."""
    made = rehashed(trace)
    trace.update(made)
    kept: dict[str, None] = {}
    for goal in trace["goals"]:
        with suppress(*BROKEN):
            below = kernel.below(trace["nodes"], [goal["root"]])
            kept.update(dict.fromkeys(below))
            _stand(trace, goal, below)
    trace["nodes"] = {name: trace["nodes"][name] for name in kept}
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(_rows(trace))
    recited(trace)


def recited(trace: Trace) -> None:
    parts = (*trace["facts"], *trace["program"]["rules"].values())
    cited = {name for part in parts for name in part["sources"]}
    listed = trace["sources"]
    trace["sources"] = {name: listed.get(name, "A Handbook, 1961") for name in cited}


def _stand(trace: Trace, goal: Any, below: list[str]) -> None:
    scale, rules, nodes = trace["program"]["standings"], trace["program"]["rules"], {}
    for name in below:
        node = trace["nodes"][name]
        part = rules[node["rule"]] if node["kind"] == "rule" else node
        if part.get("standing") in scale:
            nodes[name] = 2 * scale.index(part["standing"]) + part["memory"]
    lowest = max(nodes.values(), default=-1)
    goal["weakest"] = sorted(name for name, rank in nodes.items() if rank == lowest)
    goal["standing"] = scale[lowest // 2] if nodes else ""
    goal["memory"] = bool(nodes) and lowest % 2 == 1
    root = trace["nodes"][goal["root"]]
    goal["atom"], goal["holds"] = root["atom"], root["kind"] != "absent"


OWN = ("holds", "standing", "memory", "proof")


def _rows(trace: Trace) -> Iterator[Any]:
    words = reword.Words(trace["names"], trace["program"])
    row: dict[str, Any] = {}
    for goal in trace["goals"]:
        predicate, *terms = goal["atom"]
        called = trace["terms"].get(predicate) or [
            f"term {n}" for n in range(1, len(terms) + 1)
        ]
        said = {
            name: words.name(term)
            for name, term in zip(called, terms, strict=True)
            if term is not None
        }
        said |= {key: goal[key] for key in OWN[:3]} | {"proof": goal["root"]}
        if goal["part"]:
            own = {k: v for k, v in said.items() if k in OWN or k not in row}
            row.setdefault(predicate, []).append(own)
        elif goal["row"] is not None:
            if row:
                yield row
            row = said
    if row:
        yield row


def everywhere(trace: Trace, old: Any, new: Any) -> None:
    """Change a value wherever it stands in atoms and bindings, and its name."""
    for part in ("facts", "nodes", "goals", "supposed", "bounds"):
        trace[part] = _changed(trace[part], old, new)
    trace["program"]["rules"] = _changed(trace["program"]["rules"], old, new)
    for text, said in list(trace["names"].items()):
        if kernel.canonical(old) in text:
            key = text.replace(kernel.canonical(old), kernel.canonical(new))
            trace["names"].setdefault(key, said)


def _changed(data: Any, old: Any, new: Any) -> Any:
    if data == old and type(data) is type(old):
        return new
    if isinstance(data, list):
        return [_changed(each, old, new) for each in data]
    if isinstance(data, dict):
        return {key: _changed(part, old, new) for key, part in data.items()}
    return data


# -- rows, by the trace alone


def parts_of(row: Any) -> list[str]:
    return [key for key, said in row.items() if isinstance(said, list)]


@alone
def a_row_says_another_term(dice: random.Random, trace: Trace) -> None:
    row = dice.choice(rows(trace))
    key = pick(dice, [k for k, v in row.items() if isinstance(v, str) and k not in OWN])
    row[key] = pick(dice, sorted(set(trace["names"].values()) - {row[key]}))


@alone
def two_rows_change_a_part(dice: random.Random, trace: Trace) -> None:
    one, other = two(dice, rows(trace))
    key = pick(dice, [k for k in one if one[k] != other.get(k, one[k])])
    swap(one, other, key)


@alone
def a_part_of_a_row_disappears(dice: random.Random, trace: Trace) -> None:
    row = dice.choice(rows(trace))
    del row[pick(dice, row)]


@alone
def two_parts_of_a_row_change_places(dice: random.Random, trace: Trace) -> None:
    parted = [row for row in rows(trace) if len(parts_of(row)) > 1]
    row = pick(dice, parted)
    one, other = two(dice, parts_of(row))
    row[one], row[other] = row[other], row[one]


@alone
def a_dispute_appears_or_disappears(dice: random.Random, trace: Trace) -> None:
    row = pick(dice, [each for each in rows(trace) if parts_of(each)])
    key = dice.choice(parts_of(row))
    part = dice.choice(row[key])
    if dice.random() < 0.5:
        row[key].remove(part)
    else:
        part["holds"] = not part["holds"]


@alone
def a_key_is_made_up(dice: random.Random, trace: Trace) -> None:
    dice.choice(rows(trace))["products that contain no sulfate"] = "all"


@alone
def a_headline_is_made_up(dice: random.Random, trace: Trace) -> None:
    trace["verdict"]["headline"] = dice.choice(["yes", "refuted by nothing", "no"])


@alone
def a_row_stands_higher(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    row = pick(
        dice, [r for r in rows(trace) if (r["standing"], r["memory"]) != (best, False)]
    )
    row.update(standing=best, memory=False)


@alone
def a_row_disappears(dice: random.Random, trace: Trace) -> None:
    rows(trace).pop(dice.randrange(len(rows(trace))))


@alone
def a_row_is_said_twice(dice: random.Random, trace: Trace) -> None:
    rows(trace).append(deepcopy(dice.choice(rows(trace))))


@alone
def a_row_holds_though_it_does_not(dice: random.Random, trace: Trace) -> None:
    row = dice.choice(rows(trace))
    row["holds"] = not row["holds"]


@alone
def a_truth_is_written_as_a_number(dice: random.Random, trace: Trace) -> None:
    row = dice.choice(rows(trace))
    row["holds"] = int(row["holds"])


@alone
def a_goal_goes_to_another_row(dice: random.Random, trace: Trace) -> None:
    parts = [goal for goal in trace["goals"] if goal["part"]]
    other = [goal["row"] for goal in parts]
    goal = pick(dice, parts)
    goal["row"] = pick(dice, [row for row in other if row != goal["row"]])


@alone
def two_goals_change_their_roots(dice: random.Random, trace: Trace) -> None:
    one, other = two(dice, trace["goals"])
    swap(one, other, "root")
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(_rows(trace))


@alone
def the_parts_of_two_rows_are_mixed(dice: random.Random, trace: Trace) -> None:
    """An end of one row is given to another, rows and all."""
    parts = [goal for goal in trace["goals"] if goal["part"]]
    one, other = two(dice, parts)
    if one["row"] == other["row"]:
        raise NotHere
    goals = trace["goals"]
    at, there = goals.index(one), goals.index(other)
    goals[at], goals[there] = {**other, "row": one["row"]}, {**one, "row": other["row"]}
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(_rows(trace))


@alone
def a_goal_names_its_weakest_step_otherwise(dice: random.Random, trace: Trace) -> None:
    goal = pick(dice, [each for each in trace["goals"] if each["weakest"]])
    goal["weakest"].pop(dice.randrange(len(goal["weakest"])))


@alone
def a_goal_stands_higher(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    goal = pick(
        dice, [each for each in trace["goals"] if each["standing"] not in ("", best)]
    )
    goal.update(standing=best, memory=False)
    trace["verdict"]["answers"] = list(_rows(trace))


# -- steps, by the trace alone


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
    node = pick(dice, [n for n in nodes_of(trace, "rule") if n["premises"]])
    node["premises"].pop(dice.randrange(len(node["premises"])))
    restated(trace)


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
    node = pick(dice, [n for n in nodes_of(trace, "collect") if n["members"]])
    node["members"].pop(dice.randrange(len(node["members"])))
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
        trace["verdict"]["answers"] = list(_rows(trace))


@alone
def a_step_is_added_that_nothing_rests_on(dice: random.Random, trace: Trace) -> None:
    fact = pick(dice, trace["facts"])
    node = {"kind": "fact", **fact}
    name = kernel.named(node)
    if name in trace["nodes"]:
        raise NotHere
    trace["nodes"][name] = node


# -- labels, levels and works, by the trace alone


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


# -- what the base says: the trace hangs together, and is false


@by_base
def a_value_is_another_everywhere(dice: random.Random, trace: Trace) -> None:
    """Facts, steps, goals and rows agree on it."""
    told = {t for f in trace["facts"] for t in f["atom"][1:] if isinstance(t, str)}
    shown = {t for g in trace["goals"] for t in g["atom"][1:] if isinstance(t, str)}
    old = pick(dice, sorted(each for each in told & shown if not product(each)))
    new = pick(dice, sorted(each for each in told - {old} if not product(each)))
    everywhere(trace, old, new)
    restated(trace)


def product(word: str) -> bool:
    return word.startswith(reword.LABELLED)


@by_base
def a_number_is_another_everywhere(dice: random.Random, trace: Trace) -> None:
    """A day, a count or a place."""
    told = [fact for fact in trace["facts"] if not _label(fact)]
    old = deepcopy(pick(dice, (n for n in numbers(told) if "n" in n)))
    new = {"n": str(Fraction(old["n"]) + 21)}
    everywhere(trace, old, new)
    trace["names"][kernel.canonical([new, ""])] = new["n"]
    restated(trace)


@by_base
def a_word_is_written_as_another(dice: random.Random, trace: Trace) -> None:
    """Rows and sentences say it, steps and facts stay."""
    words = {
        kernel.canonical([t, ""]) for g in trace["goals"] for t in g["atom"][1:] if t
    }
    key = pick(dice, sorted(words & set(trace["names"])))
    others = sorted(set(trace["names"].values()) - {trace["names"][key]})
    trace["names"][key] = pick(dice, others)
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(_rows(trace))


@by_base
def the_verdicts_change_their_words(dice: random.Random, trace: Trace) -> None:
    goals = [g for g in trace["goals"] if not g["part"] and g["row"] is not None]
    words = sorted({t for g in goals for t in g["atom"][1:] if isinstance(t, str)})
    one, other = two(dice, [kernel.canonical([each, ""]) for each in words])
    swap_names(trace["names"], one, other)
    trace["verdict"]["answers"] = list(_rows(trace))


def swap_names(names: Any, one: str, other: str) -> None:
    if names.get(one) == names.get(other) or not {one, other} <= names.keys():
        raise NotHere
    names[one], names[other] = names[other], names[one]


@by_base
def a_rule_reads_otherwise(dice: random.Random, trace: Trace) -> None:
    used = {n["rule"] for n in nodes_of(trace, "rule")}
    rule = trace["program"]["rules"][pick(dice, sorted(used))]
    rule["says"] = "whatever is sold as mild takes all of it"


@by_base
def a_predicate_reads_otherwise(dice: random.Random, trace: Trace) -> None:
    predicates = trace["program"]["predicates"]
    name = pick(dice, predicates)
    predicates[name] = [predicates[name][1], predicates[name][0]]
    if predicates[name][0] == predicates[name][1]:
        raise NotHere


@by_base
def a_rule_has_a_condition_less(dice: random.Random, trace: Trace) -> None:
    bound = {"not", "compare"}
    used = {n["rule"] for n in nodes_of(trace, "rule")}
    rules = trace["program"]["rules"]
    name = pick(dice, [r for r in used if {b[0] for b in rules[r]["body"]} & bound])
    body = rules[name]["body"]
    at = pick(dice, [n for n, part in enumerate(body) if part[0] in bound])
    body.pop(at)
    for node in nodes_of(trace, "rule"):
        if node["rule"] == name:
            node["premises"].pop(at)
    restated(trace)


@by_base
def a_rule_stands_higher(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    rules = trace["program"]["rules"].values()
    rule = pick(dice, [r for r in rules if r["standing"] not in ("", best)])
    rule.update(standing=best, memory=False)
    restated(trace)


@by_base
def a_rule_is_made_up(dice: random.Random, trace: Trace) -> None:
    rules = trace["program"]["rules"]
    rules["mine"] = {**deepcopy(rules[pick(dice, rules)]), "says": "it is so"}


@by_base
def everything_stands_as_law(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    parts = (*trace["facts"], *nodes_of(trace, "fact"))
    for part in (*parts, *trace["program"]["rules"].values()):
        if part["standing"]:
            part.update(standing=best, memory=False)
    restated(trace)


@by_base
def a_fact_stands_higher(dice: random.Random, trace: Trace) -> None:
    best = trace["program"]["standings"][0]
    lower = [f for f in trace["facts"] if f["standing"] not in ("", best)]
    _everyone(trace, pick(dice, lower), standing=best, memory=False)


@by_base
def a_fact_cites_another_work(dice: random.Random, trace: Trace) -> None:
    fact = pick(dice, [f for f in trace["facts"] if f["sources"]])
    work = pick(dice, [each for each in trace["sources"] if [each] != fact["sources"]])
    _everyone(trace, fact, sources=[work])


@by_base
def a_fact_is_from_elsewhere(dice: random.Random, trace: Trace) -> None:
    facts = [f for f in trace["facts"] if ".ttl" in f["origin"]]
    _everyone(trace, pick(dice, facts), origin="claims/measured.ttl: a trial of 1978")


def _everyone(trace: Trace, fact: Any, **change: Any) -> None:
    atom = fact["atom"]
    for part in (*trace["facts"], *nodes_of(trace, "fact")):
        if part["atom"] == atom:
            part.update(change)
    restated(trace)


@by_base
def a_citation_is_another(dice: random.Random, trace: Trace) -> None:
    trace["sources"][pick(dice, trace["sources"])] = "Journal of Washing, 1912"


@by_base
def a_fact_is_made_up(dice: random.Random, trace: Trace) -> None:
    facts = [f for f in trace["facts"] if len(f["atom"]) > 2 and not _label(f)]
    fact = deepcopy(pick(dice, [f for f in facts if isinstance(f["atom"][-1], str)]))
    told = [f["atom"] for f in trace["facts"]]
    words = sorted({t for a in told for t in a[1:] if isinstance(t, str)})
    fact["atom"][-1] = pick(dice, words)
    if fact["atom"] in told or fact in trace["facts"]:
        raise NotHere
    trace["facts"].append(fact)


def _label(fact: Any) -> bool:
    return bool(fact["origin"].startswith("label "))


@by_base
def a_goal_is_denied_and_its_rules_are_dropped(
    dice: random.Random, trace: Trace
) -> None:
    """An end or a row is no more, by leaving out what concludes it."""
    goal = pick(dice, [each for each in trace["goals"] if each["holds"]])
    name = goal["atom"][0]
    if [g for g in trace["goals"] if g["atom"][0] == name and g["holds"]] != [goal]:
        raise NotHere
    trace["facts"] = [f for f in trace["facts"] if f["atom"][0] != name]
    rules = trace["program"]["rules"]
    for each in [key for key, rule in rules.items() if rule["head"][0] == name]:
        del rules[each]
    trace["nodes"]["0" * 16] = {"kind": "absent", "atom": goal["atom"], "form": "not"}
    goal["root"] = "0" * 16
    trace["program"]["predicates"].setdefault(name, ["so", "not so"])
    restated(trace)


@by_base
def a_row_is_left_out_with_its_goals(dice: random.Random, trace: Trace) -> None:
    last = len(rows(trace)) - 1
    trace["goals"] = [goal for goal in trace["goals"] if goal["row"] != last]
    restated(trace)
    trace["verdict"]["answers"] = list(_rows(trace))


@by_base
def a_part_is_left_out_with_its_goal(dice: random.Random, trace: Trace) -> None:
    trace["goals"].remove(pick(dice, [g for g in trace["goals"] if g["part"]]))
    restated(trace)


@by_base
def a_goal_is_told_beside_the_answer(dice: random.Random, trace: Trace) -> None:
    goal = pick(dice, [g for g in trace["goals"] if g["part"]])
    goal.update(row=None, part=False)
    restated(trace)


@by_base
def the_question_is_another(dice: random.Random, trace: Trace) -> None:
    _asked(dice, trace, ("question", "canonical"))


@by_base
def the_question_is_understood_otherwise(dice: random.Random, trace: Trace) -> None:
    _asked(dice, trace, ("canonical",))


def _asked(dice: random.Random, trace: Trace, parts: tuple[str, ...]) -> None:
    """Of another thing, so that it comes to another answer."""
    others = ['"Shallows Wash"', '"Mooring Mask"', '"Cetyl Alcohol"']
    for part in parts:
        said = re.search(r'"[^"]*"|water|it', trace[part])
        if said is None:
            raise NotHere
        other = pick(dice, [each for each in others if each != said[0]])
        trace[part] = trace[part].replace(said[0], other)


@by_base
def a_caution_is_left_out(dice: random.Random, trace: Trace) -> None:
    trace["cautions"].remove(pick(dice, trace["cautions"]))


@by_base
def a_caution_is_made_up(dice: random.Random, trace: Trace) -> None:
    trace["cautions"].append("This wash is safe for everybody.")


@by_base
def a_supposition_is_slipped_in(dice: random.Random, trace: Trace) -> None:
    fact = deepcopy(pick(dice, [f for f in trace["facts"] if f["atom"][0] == "line"]))
    fact["atom"][2:] = [{"n": "99"}, "dimethicone"]
    fact["origin"] = "the supposition"
    trace["facts"].append(fact)
    trace["supposed"]["added"].append(fact["atom"])


@by_base
def a_line_is_supposed_away(dice: random.Random, trace: Trace) -> None:
    used = {kernel.canonical(n["atom"]) for n in nodes_of(trace, "fact")}
    lines = [f for f in trace["facts"] if f["atom"][0] == "line"]
    fact = pick(dice, [f for f in lines if kernel.canonical(f["atom"]) not in used])
    trace["facts"].remove(fact)
    trace["supposed"]["removed"].append(fact["atom"])


@by_base
def a_line_is_called_an_aside(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    line = pick(dice, label["lines"][-1:])
    label["lines"].remove(line)
    label["notes"].append({"start": line["start"], "end": line["end"], "why": "aside"})
    gone = origin(label, line)
    trace["facts"] = [f for f in trace["facts"] if f["origin"] != gone]
    recited(trace)


@by_base
def a_label_is_longer_by_an_aside(dice: random.Random, trace: Trace) -> None:
    label = label_of(dice, trace)
    end = len(label["text"])
    label["text"] += " free of silicone"
    label["notes"].append({"start": end, "end": len(label["text"]), "why": "aside"})


@by_base
def a_line_reads_as_something_else(dice: random.Random, trace: Trace) -> None:
    """The printed name stays, and what it was read as is another thing."""
    lines = [f for f in trace["facts"] if f["atom"][0] == "line" and _label(f)]
    one, other = two(dice, lines)
    old, new = one["atom"], [*one["atom"][:3], other["atom"][3]]
    for part in (*trace["facts"], *nodes_of(trace, "fact")):
        if part["atom"] == old:
            part["atom"] = new
    restated(trace)


@by_base
def a_line_is_printed_as_something_else(dice: random.Random, trace: Trace) -> None:
    """Of the same length, so that every span stays."""
    label = label_of(dice, trace)
    line = pick(dice, label["lines"])
    printed = line["printed"][:-1] + ("x" if line["printed"][-1] != "x" else "y")
    text = label["text"]
    label["text"] = text[: line["start"]] + printed + text[line["end"] :]
    line["printed"] = printed


@by_base
def two_products_change_their_names(dice: random.Random, trace: Trace) -> None:
    """Each label under the other's name, facts and rows with it."""
    one, other = two(dice, [label["product"] for label in trace["labels"]])
    names = trace["names"]
    swap_names(names, *(kernel.canonical([each, ""]) for each in (one, other)))
    trace["verdict"]["answers"] = list(_rows(trace))


@by_base
def the_terms_of_a_row_are_called_otherwise(dice: random.Random, trace: Trace) -> None:
    called = trace["terms"][pick(dice, trace["terms"])]
    one, other = two(dice, range(len(called)))
    called[one], called[other] = called[other], called[one]
    trace["verdict"]["answers"] = list(_rows(trace))


@by_base
def the_scale_is_turned(dice: random.Random, trace: Trace) -> None:
    trace["program"]["standings"].reverse()
    restated(trace)
