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
from abluent.engine.base.roles import EFFECTS
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
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
    agents = {(c["agent"], kind_of(c)) for c in cells() if c["agent"] != WATER}
    shelf = [Product(f"only {a}", kind, "EU", f"Aqua, {a}") for a, kind in agents]
    return World(Base.load(), load_rulebook(), shelf, "hard")


def kind_of(cell: dict[str, str]) -> str:
    """What the agent of a cell is sold in: an acid rinses only in a rinse."""
    return {"acid rinse": "rinse", "conditioner-only (cationic)": "conditioner"}.get(
        cell["wash_class"], "wash"
    )


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
    claims = {claim for part in parts(verdict) for claim in part.claims}
    return {e for claim in claims for e in base.record(claim).texts("evidence")}


def parts(verdict: Verdict) -> list[Explained]:
    """A verdict, and why each of its disputes is one."""
    return [verdict, *verdict.disputes]


POINTS = {
    "clears": (2, 2),
    "partly clears": (1, 1),
    "does not clear": (0, 0),
    "open": (0, 2),
    "no wash needed": (2, 2),
}
"""What the words of the published cells say of the least and the most taken."""


def ends(verdict: Verdict) -> tuple[int, int]:
    least, most = ENDS[verdict.role]
    return EFFECTS.index(least), EFFECTS.index(most)


@pytest.mark.slow
@pytest.mark.parametrize(
    "cell", cells(), ids=lambda c: f"{c['family']} / {c['wash_class']}"[:70]
)
def test_cell(cell: dict[str, str]) -> None:
    """Neither end contradicts the published cell, and one bounds it where it can.

    A cell that practice alone speaks of may be bounded otherwise, by practice, if it
    says that nobody measured it. A name of several grades may leave both ends open.
    """
    verdict = judged(cell)
    low, high = ends(verdict)
    allowed = [POINTS[each] for each in cell["verdicts"].split(" | ") if each in POINTS]
    agrees = any(low <= most and high >= least for least, most in allowed)
    if not agrees:
        assert PRACTICE in cell["verdicts"], f"{verdict.value}: {cell['published']}"
        assert verdict.standing in WEAK
        assert any("easure" in text for text in (*verdict.caveats, *verdict.reasons))
    if (low, high) == (0, 2) and (0, 2) not in allowed:
        assert several_grades(verdict) or (cell["family"], cell["wash_class"]) in OPEN
    if cell["disputed"]:
        assert verdict.disputed or (low, high) != (2, 2)


def several_grades(verdict: Verdict) -> bool:
    model = verdict.case.model
    return len(list(model.match("reading", (verdict.film, None, None)))) > 1


_MILDER = (
    "anionic sulfate-free (sulfonate, sulfosuccinate, isethionate, taurate, "
    "acyl amino acid)"
)
OPEN = {
    ("calcium / magnesium in hair", "chelant"),
    ("calcium soap scum", "chelant"),
    ("calcium soap scum", _MILDER),
}
"""Cells that stay open: how much chelant there is decides, and what was measured of
lime soap was its prevention, by taurates and ether sulfates."""


def test_every_published_study_is_cited_somewhere() -> None:
    """Each evidence id of the matrix stands on a claim of the base."""
    base = world().base
    claims = [s for s in base.symbols if base.record(s).space == "claim"]
    known = {e for claim in claims for e in base.record(claim).texts("evidence")}
    assert {f"E{n:02}" for n in range(1, 38)} <= known


_CONDITIONER, _WATER = "conditioner-only (cationic)", "water only"
UNCITED = {
    "PEG silicone, soluble": {_CONDITIONER, _WATER},
    "amino silicone": {_CONDITIONER, _WATER},
    "calcium / magnesium in hair": {"soap in hard water", "chelant"},
    "calcium soap scum": {_MILDER, "chelant"},
    "cationic surfactant (quat)": {"amphoteric only", _WATER},
    "fixative, neutralised acrylate / PVP": {_WATER},
    "mineral oil / petrolatum / paraffin": {
        "anionic C12+ sulfate / ether sulfate",
        _MILDER,
    },
    "silicone fluid / dimethiconol": {
        "anionic short-chain C8-C10 ether sulfate",
        _CONDITIONER,
        _WATER,
    },
    "vegetable oil": {_WATER},
}
"""Cells that rest on other works than the matrix names: what it names reports that
nothing was found, speaks of a neighbour, or was read again and says nothing of removal;
and cells of water alone and of a conditioner, which rest on the general claim."""


@pytest.mark.slow
def test_the_claims_cite_the_evidence_of_the_cell() -> None:
    """Where a cell names its evidence, the verdict rests on some of it.

    The cells for which it does not are named one by one, so that no other can join.
    """
    missed = [
        (cell["family"], cell["wash_class"])
        for cell in cells()
        if cell["evidence"] and not told(judged(cell)) & set(cell["evidence"].split())
    ]
    named = [(family, wash) for family in UNCITED for wash in UNCITED[family]]
    assert sorted(missed) == sorted(named)
