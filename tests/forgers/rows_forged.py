"""Forgeries of rows and goals, told by the trace alone."""

from __future__ import annotations

import random
from contextlib import suppress
from copy import deepcopy
from typing import Any

from forging import Trace
from mutating import NotHere, pick

from forgers.kinds import BROKEN, OWN, alone, each_row, rows, swap, two


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
        trace["verdict"]["answers"] = list(each_row(trace))


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
        trace["verdict"]["answers"] = list(each_row(trace))


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
    trace["verdict"]["answers"] = list(each_row(trace))
