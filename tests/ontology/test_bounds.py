"""How bounds meet, held against a plain oracle, and the smallest examples by hand."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from random import Random

import abluent.ontology
import pytest
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.grammar.rules.anew import written_anew
from bounds_worlds import (
    ALL,
    DISPUTED,
    NO,
    NONE,
    PART,
    QUESTIONS,
    YES,
    Answers,
    Bound,
    Cell,
    Edge,
    as_facts,
    read_off,
    settle,
    world,
)

RULES = Path(next(iter(abluent.ontology.__path__))) / "rules"
TIMES = int(os.environ.get("ABLUENT_WORLDS", "60"))
"""How many random worlds are tried; 4,000 were, with none that differed."""
LAST = ("yesInferred", "noInferred", "disputeInferred")


@cache
def program() -> Program:
    files = [RULES / "classes.rules", *sorted((RULES / "bounds").glob("*.rules"))]
    return load_program((each.name, each.read_text("utf-8")) for each in files)


def by_rules(edges: list[Edge], bounds: list[Bound]) -> Answers:
    model = evaluate(program(), as_facts(edges, bounds))
    return read_off({name: set(model.match(name, (None,) * 4)) for name in LAST})


@pytest.mark.parametrize("seed", range(TIMES))
def test_the_rules_settle_a_world_as_the_oracle_does(seed: int) -> None:
    """The same answer for every cell and question."""
    edges, bounds = world(Random(seed))
    assert by_rules(edges, bounds) == settle(edges, bounds)


@pytest.mark.parametrize("seed", range(TIMES // 3))
def test_nothing_of_lower_standing_changes_what_a_higher_one_settled(seed: int) -> None:
    """What is settled or disputed without the inferred stays so with it."""
    edges, bounds = world(Random(1000 + seed))
    high = [e for e in edges if e.standing != "inferred"]
    firm = by_rules(high, [b for b in bounds if b.standing != "inferred"])
    whole = by_rules(edges, bounds)
    assert {key: whole.get(key) for key in firm} == firm


# --- by hand ---------------------------------------------------------------------

W, S = Cell("weak", "film"), Cell("strong", "film")


def claim(name: str, side: str, effect: str, standing: str, *agents: str) -> Bound:
    who = frozenset(agents)
    films = frozenset({"film"})
    return Bound(name, who, films, frozenset(), side == "least", effect, standing)


EDGE = Edge(W, S, "commonPractice")
EXAMPLES = {
    "a handbook says all and a measurement at most part": (
        [],
        [
            claim("h", "least", ALL, "handbook", "strong"),
            claim("m", "most", PART, "measured", "strong"),
        ],
        {(S, PART): YES, (S, ALL): NO},
    ),
    "two measurements part, and practice does not settle it": (
        [],
        [
            claim("m1", "least", ALL, "measured", "strong"),
            claim("m2", "most", PART, "measured", "strong"),
            claim("p", "least", ALL, "commonPractice", "strong"),
        ],
        {(S, PART): YES, (S, ALL): DISPUTED},
    ),
    "nor does practice about a weaker agent": (
        [EDGE],
        [
            claim("m1", "least", ALL, "measured", "strong"),
            claim("m2", "most", PART, "measured", "strong"),
            claim("p", "least", ALL, "commonPractice", "weak"),
        ],
        {(W, PART): YES, (S, PART): YES, (S, ALL): DISPUTED},
    ),
    "a measured bound on the strong holds of the weak": (
        [EDGE],
        [
            claim("p", "least", ALL, "commonPractice", "weak"),
            claim("m", "most", PART, "measured", "strong"),
        ],
        {(W, PART): YES, (W, ALL): NO, (S, PART): YES, (S, ALL): NO},
    ),
    "measurements refute an edge of practice": (
        [EDGE],
        [
            claim("c", "least", ALL, "measured", "weak"),
            claim("u", "most", PART, "measured", "strong"),
        ],
        {(W, PART): YES, (W, ALL): YES, (S, ALL): NO},
    ),
    "the narrower of two measurements decides": (
        [],
        [
            claim("n", "most", PART, "measured", "strong"),
            claim("w", "least", ALL, "measured", "strong", "weak"),
        ],
        {(S, PART): YES, (S, ALL): NO, (W, PART): YES, (W, ALL): YES},
    ),
}


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_small_example_comes_out_as_said(name: str) -> None:
    """The smallest cases in which one reading of the order differs from another."""
    edges, bounds, wanted = EXAMPLES[name]
    assert by_rules(edges, bounds) == wanted
    assert settle(edges, bounds) == wanted


def test_no_bound_leaves_everything_open() -> None:
    assert by_rules([EDGE], [claim("n", "most", NONE, "measured", "other")]) == {
        (Cell("other", "film"), question): NO for question in QUESTIONS
    }


# --- the files ---------------------------------------------------------------------

NAMES = (
    ("measured", "Measured", "Law"),
    ("handbook", "Handbook", "Measured"),
    ("commonPractice", "CommonPractice", "Handbook"),
    ("inferred", "Inferred", "CommonPractice"),
)


def copy(number: int) -> str:
    """The rules of one standing, made from those of the first."""
    name, title, before = NAMES[number]
    text = (RULES / "bounds" / "measured.rules").read_text("utf-8")
    text = text.replace("Measured", "\0").replace("Law", before).replace("\0", title)
    ending = {"commonPractice": "practice"}.get(name, name)
    text = text.replace("-measured", f"-{ending}").replace("`measured`", f"`{name}`")
    return written_anew(text.replace("standing measured\n", f"standing {name}\n"))


@pytest.mark.parametrize("number", [1, 2, 3])
def test_the_rules_are_alike_for_every_standing(number: int) -> None:
    """One set of rules, once for each standing; change the first and copy it."""
    file = {"commonPractice": "common-practice"}.get(NAMES[number][0], NAMES[number][0])
    assert (RULES / "bounds" / f"{file}.rules").read_text("utf-8") == copy(number)
