"""Forgeries that hang together and that only the base can tell."""

from __future__ import annotations

import random
import re
from contextlib import suppress
from copy import deepcopy
from fractions import Fraction
from typing import Any

from abluent.engine.checking import kernel, reword
from forging import Trace
from mutating import NotHere, numbers, pick

from forgers.kinds import (
    BROKEN,
    by_base,
    each_row,
    everywhere,
    nodes_of,
    recited,
    restated,
    rows,
    two,
)
from forgers.labels_forged import label_of, origin


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
        trace["verdict"]["answers"] = list(each_row(trace))


@by_base
def the_verdicts_change_their_words(dice: random.Random, trace: Trace) -> None:
    goals = [g for g in trace["goals"] if not g["part"] and g["row"] is not None]
    words = sorted({t for g in goals for t in g["atom"][1:] if isinstance(t, str)})
    one, other = two(dice, [kernel.canonical([each, ""]) for each in words])
    swap_names(trace["names"], one, other)
    trace["verdict"]["answers"] = list(each_row(trace))


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
    trace["verdict"]["answers"] = list(each_row(trace))


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
    trace["verdict"]["answers"] = list(each_row(trace))


@by_base
def the_terms_of_a_row_are_called_otherwise(dice: random.Random, trace: Trace) -> None:
    called = trace["terms"][pick(dice, trace["terms"])]
    one, other = two(dice, range(len(called)))
    called[one], called[other] = called[other], called[one]
    trace["verdict"]["answers"] = list(each_row(trace))


@by_base
def the_scale_is_turned(dice: random.Random, trace: Trace) -> None:
    trace["program"]["standings"].reverse()
    restated(trace)
