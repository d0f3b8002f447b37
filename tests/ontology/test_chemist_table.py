"""A table of bounds that a reader signed as a chemist, without having seen this base.

Signed, no source: each row of `tests/cases/chemist_table.tsv` is what a cautious
formulator would put a name to from experience, with what else would do. It settles
nothing. The base was worked on with these rows seen, so that it agrees guards against
drift and is no independent check. The agents
were given as classes: the labels, the films and the conditions are stand-ins for them.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.base.roles import EFFECTS
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import ENDS, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, Product, World

CASES = Path(__file__).parents[1] / "cases" / "chemist_table.tsv"
SCALE = ("none", "part", "all")
DISAGREES = {
    "T012": "two studies part over C12 sulfates on a conditioner quat (E11, E12)",
    "T025": "how much of an acrylate left as the acid a detergent takes is not known",
    "T074": "nothing bounds from above what an amine oxide takes of a fatty alcohol",
    "T116": "near balance some of the anionic may be free, and then it takes an ester",
}
"""The rows that the base does not follow, and why."""


def rows() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream, delimiter="\t"))


@cache
def empty() -> World:
    return World(Base.load(), load_rulebook())


def judged(row: dict[str, str]) -> tuple[str, str]:
    """What the wash of a row takes at least and at most."""
    base = empty().known.base
    film = base.lookup(row["film"]) or row["film"]
    shelf = [Product("it", row["kind"], "EU", row["wash"])]
    shelf += [Product("left", "styler", "EU", row["left_by"])] * bool(row["left_by"])
    wash = WATER if row["wash"] == WATER else "it"
    case = Case.of(
        empty().with_products([each for each in shelf if each.kind]),
        [wash],
        [] if row["left_by"] else [film],
        ["left"] if row["left_by"] else [],
        stated=[each for each in row["conditions"].split(", ") if each],
    )
    (verdict,) = [each for each in verdicts(case) if each.film == film]
    least, most = (SCALE[EFFECTS.index(end)] for end in ENDS[verdict.role])
    return least, most


@pytest.mark.parametrize("row", rows(), ids=lambda r: f"{r['id']} {r['agent']}"[:50])
def test_the_verdict_is_one_that_was_signed(row: dict[str, str]) -> None:
    """As signed, or as tolerated by the signer; else it is named above."""
    least, most = judged(row)
    signed = [f"{row['at_least']} to {row['at_most']}", *row["tolerated"].split(", ")]
    agrees = f"{least} to {most}" in signed
    assert agrees is (row["id"] not in DISAGREES), f"{least} to {most}: {signed}"


def test_the_table_agrees_in_95_of_100() -> None:
    assert len(rows()) == 120
    assert len(DISAGREES) <= 0.05 * len(rows())
    assert set(DISAGREES) <= {row["id"] for row in rows()}
