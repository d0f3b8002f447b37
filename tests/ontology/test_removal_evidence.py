"""The published removal evidence, E01 to E37, each as a test.

`tests/cases/removal_evidence.tsv` puts each finding as a wash and a film, with the
verdict and the doubt that it demands and words that must be told with it, under the
conditions of the study. Findings
that are about no wash and film are checked as recorded, with their figure.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import Verdict, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, Product, World

pytestmark = pytest.mark.slow

CASES = Path(__file__).parents[1] / "cases" / "removal_evidence.tsv"

# Evidence about no wash and film: what was measured, and where it is recorded.
RECORDED = {
    "E12": ("e12-c12-stays", "twice"),
    "E23": ("e23-warmth", "Warmer"),
    "E24": ("e24-load", "residue by weight"),
    "E26": ("e26-coconut", "Coconut oil enters"),
    "E31": ("e31-disperser-prevents", "80 %"),
    "E33": ("e33-clarifying", "strong-detergent"),
    "E35": ("e35-measurable", "30 to 5000 ppm"),
    "E36": ("e36-protein-loss", "7 times"),
    "E37": ("e37-dilution", "falls below"),
}


def cases() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream, delimiter="\t"))


@cache
def base() -> Base:
    return Base.load()


def judged(case: dict[str, str]) -> Verdict:
    film = base().lookup(case["film"])
    assert film, f"{case['film']} is not in the base"
    shelf = [Product("it", case["kind"] or "wash", "EU", case["wash"])]
    world = World(base(), load_rulebook(), shelf, case["conditions"].split(", "))
    (verdict,) = verdicts(
        Case.of(world, [WATER if case["wash"] == WATER else "it"], [film])
    )
    return verdict


def told(verdict: Verdict) -> str:
    parts = [verdict, *verdict.disputes]
    return " ".join(t for part in parts for t in (*part.reasons, *part.caveats))


@pytest.mark.parametrize(
    "case", cases(), ids=lambda c: f"{c['evidence']} {c['film']} / {c['wash'][:40]}"
)
def test_the_verdict_follows_the_evidence(case: dict[str, str]) -> None:
    """Verdict, doubt and the words that a reader must be told."""
    verdict = judged(case)
    assert base().label(verdict.value) in case["verdict"].split("|")
    said = {Role.PART_OF_IT: "part", Role.ALL_OF_IT: "all"}
    assert ", ".join(said[each] for each in verdict.contested) == case["disputed"]
    assert re.search(case["told"], told(verdict)), told(verdict)


@pytest.mark.parametrize("evidence", sorted(RECORDED))
def test_a_finding_about_no_wash_and_film_is_recorded(evidence: str) -> None:
    """With its figure, its source and its standing."""
    claim, words = RECORDED[evidence]
    record = base().record(claim)
    assert evidence in record.texts("evidence")
    assert words in (record.text("statement") or "")
    assert record.basis.sources
    assert record.basis.standing


def test_every_piece_of_evidence_is_tested() -> None:
    """Each of the 37 stands in the table or among the recorded findings."""
    here = {case["evidence"] for case in cases()} | set(RECORDED)
    assert here == {f"E{number:02}" for number in range(1, 38)}
