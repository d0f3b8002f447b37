"""Damaged questions, labels, shelves, traces and routines, a few in the gate.

`python -m tests.fuzz damaged --seconds 3600` goes on for as long as one likes; what
goes wrong is kept in `cases/damaged.jsonl` and tried again here, a test for each line;
while there is none, that is a skip.
"""

from __future__ import annotations

import json
from itertools import islice

import pytest

from fuzz.damaged import KEPT, KINDS, Damage, Tools, damages, problem, tools

SEED, NUMBER = 0, 100
WRONG_ONCE = [
    Damage(**json.loads(line)) for line in KEPT.read_text("utf-8").splitlines()
]


@pytest.fixture(scope="module")
def ready() -> Tools:
    return tools()


@pytest.mark.slow
def test_damaged_inputs_are_read_or_refused(ready: Tools) -> None:
    """Without a traceback, and without a raw control character in what is shown."""
    made = list(islice(damages(ready, SEED), NUMBER))
    assert {each.kind for each in made} == set(KINDS)
    wrong = [(each, text) for each in made if (text := problem(ready, each))]
    assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("damage", WRONG_ONCE, ids=lambda each: each.kind)
def test_what_went_wrong_once_does_not_again(ready: Tools, damage: Damage) -> None:
    assert problem(ready, damage) == ""
