"""Every cell of the published removal evidence, film family by wash class.

`tests/cases/removal_matrix.tsv` holds the cells as they were published, with the
evidence ids, and what each demands of a verdict. The agents and films are single
ingredients; the wash is water and the agent, the water is hard.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import Verdict, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, Product, World

CASES = Path(__file__).parents[1] / "cases" / "removal_matrix.tsv"
PRACTICE = "by common practice"
WEAK = {"commonPractice", "inferred"}


def cells() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream, delimiter="\t"))


@cache
def world() -> World:
    agents = {cell["agent"] for cell in cells()} - {WATER}
    shelf = [Product(f"only {a}", "wash", "EU", f"Aqua, {a}") for a in sorted(agents)]
    return World(Base.load(), load_rulebook(), shelf, "hard")


def judged(cell: dict[str, str]) -> Verdict:
    agent, base = cell["agent"], world().base
    film = base.lookup(cell["film"])
    assert film, f"{cell['film']} is not in the base"
    wash = agent if agent == WATER else f"only {agent}"
    (verdict,) = verdicts(Case.of(world(), [wash], [film]))
    return verdict


def told(verdict: Verdict) -> set[str]:
    """The evidence ids of the claims that a verdict or its dispute rests on."""
    base = world().base
    both = [verdict] + ([verdict.dispute] if verdict.dispute else [])
    claims = {claim for part in both for claim in part.claims}
    return {e for claim in claims for e in base.record(claim).texts("evidence")}


@pytest.mark.slow
@pytest.mark.parametrize(
    "cell", cells(), ids=lambda c: f"{c['family']} / {c['wash_class']}"[:70]
)
def test_cell(cell: dict[str, str]) -> None:
    """The verdict is one that the published cell allows, with its doubt."""
    verdict = judged(cell)
    allowed = cell["verdicts"].split(" | ")
    shown = world().base.label(verdict.value)
    if shown not in allowed:
        assert PRACTICE in allowed, f"{shown}, but {cell['published']}"
        assert verdict.standing in WEAK
        assert any("easure" in text for text in (*verdict.caveats, *verdict.reasons))
    if cell["disputed"]:
        assert verdict.disputed
    if cell["published"] == "supported, partial" and shown == "clears":
        assert verdict.disputed


def test_every_published_study_is_cited_somewhere() -> None:
    """Each evidence id of the matrix stands on a claim of the base."""
    base = world().base
    claims = [s for s in base.symbols if base.record(s).space == "claim"]
    known = {e for claim in claims for e in base.record(claim).texts("evidence")}
    assert {f"E{n:02}" for n in range(1, 38)} <= known


@pytest.mark.slow
def test_the_claims_cite_the_evidence_of_the_cell() -> None:
    """Where a cell names its evidence, the verdict rests on some of it.

    Cells whose ids only report that nothing was read, and those that water alone
    decides, are left out: their verdicts rest on the general claim.
    """
    missed = [
        f"{cell['family']} / {cell['wash_class']}: {cell['evidence']}"
        for cell in cells()
        if cell["evidence"] and not told(judged(cell)) & set(cell["evidence"].split())
    ]
    assert len(missed) <= len(cells()) // 10, "\n".join(missed)
