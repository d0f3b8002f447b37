"""What the proofs of bounds rest on, as the checker finds it in the facts."""

from __future__ import annotations

import json
from typing import Any

import pytest
from abluent.engine.amounts._law import legal_caps, lifting
from abluent.engine.amounts.bounded import Bounded, level_bounds
from abluent.engine.amounts.certified import LIMIT, certified
from abluent.engine.amounts.charge_balance import excess_bounds
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.checking import follows, quantities, replay
from abluent.engine.checking.label_limits import Limits, Told
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.encode import atom_json, fact_json
from abluent.engine.reading.labels import label_facts
from hypothesis import given, settings
from hypothesis import strategies as st

BASE = Base.load()
DAY = "2026-01-31"
SCALE = ["lawOrStandard", "measured", "handbook", "commonPractice", "inferred"]
KINDS = BASE.instances("ProductKind")
CAPPED = sorted(
    {
        ingredient
        for limit in map(BASE.record, BASE.instances("ConcentrationLimit"))
        for each in limit.links("appliesTo")
        for ingredient in (BASE.instances(each) if BASE.is_class(each) else [each])
    }
)


def told(facts: list[Fact], about: dict[str, list[str]]) -> Told:
    """The facts as a checker finds them, with the classes of ingredients."""
    trace = {"facts": list(map(fact_json, facts)), "program": {"standings": SCALE}}
    isa = [("isa", thing, kind) for thing, kinds in about.items() for kind in kinds]
    known = [replay.atom(atom_json(f.predicate, f.args)) for f in facts]
    return Told(trace, follows.Follows((), follows.filed([*known, *isa])), "product/p")


@pytest.mark.slow
@pytest.mark.parametrize("market", ["eu", "us", None])
def test_the_checker_finds_the_same_limits_to_bind(market: str | None) -> None:
    """For every ingredient that some limit names, in every kind of product."""
    compared = 0
    for ingredient in CAPPED:
        about = {ingredient: BASE.classes_of(ingredient)}
        records = lifting(BASE, about, market, DAY)
        scopes = [s for each in records for s in BASE.record(each).links("scope")]
        facts = BASE.facts_about(records, LIMIT)
        facts += BASE.facts_about(scopes, {"coversKind", "mayCoverKind"})
        facts += [Fact("soldIn", ("product/p", market))] if market else []
        for kind in KINDS:
            caps = legal_caps(BASE, about, market, kind, DAY)
            found = told([*facts, Fact("kind", ("product/p", kind))], about)
            mine = {cap.name.split(":", maxsplit=1)[0] for cap in caps}
            theirs = set(Limits(found).binding(ingredient))
            # Facts do not tell that a part of the mass counts where its size is not
            # known; there the checker may hold a limit to bind that bounds nothing.
            apart = any(BASE.record(each).text("countedAs") for each in records)
            assert mine == theirs or (apart and mine < theirs), (ingredient, kind)
            compared += len(theirs)
    assert compared > (100 if market == "eu" else -1)


NAMES = st.lists(
    st.sampled_from(
        [
            "Sodium Lauryl Sulfate",
            "Sodium Laureth Sulfate 9%",
            "Sodium Oleate",
            "Cetrimonium Chloride",
            "Behentrimonium Chloride 1.2%",
            "Cocotrimonium Bromide",
            "Stearamidopropyl Dimethylamine",
            "Cocamidopropyl Betaine (and) Glycerin",
            "Phenoxyethanol",
            "Potassium Sorbate",
            "Sodium Benzoate",
            "Salicylic Acid",
            "Climbazole",
            "Dimethicone",
            "Disodium EDTA",
            "Parfum",
            "Linalool",
            "CI 77891",
            "Zzyxq Vvorblek",
        ]
    ),
    max_size=7,
    unique=True,
)


def faults(text: str, kind: str, market: str, practice: bool) -> list[str]:
    """What the checker says of all bounds of a label."""
    read = label_facts("product/p", kind, market, text, BASE)
    label = LabelFacts(read.facts, BASE, DAY)
    found: list[Bounded] = [
        *excess_bounds(label, practice=practice),
        *level_bounds(label, label.listed, practice=practice),
    ]
    bounds = certified(found)
    facts = [*read.facts, *bounds.facts, *(each.fact for each in found)]
    trace: dict[str, Any] = {
        "facts": list(map(fact_json, dict.fromkeys(facts))),
        "program": {"standings": SCALE},
        "bounds": list(bounds.entries),
    }
    trace = json.loads(json.dumps(trace))
    known = [replay.atom(each["atom"]) for each in trace["facts"]]
    isa = [("isa", i, kind) for i, kinds in label.listed.items() for kind in kinds]
    model = follows.Follows((), follows.filed([*known, *isa]))
    return [
        f"{at}: {wrong}"
        for holds, at, wrong in quantities.tests(trace, model)
        if not holds
    ]


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(
    NAMES,
    st.sampled_from(["wash", "conditioner", "leave-in", "oil", "other"]),
    st.sampled_from(["EU", "US", ""]),
    st.booleans(),
)
def test_every_bound_of_a_random_label_is_accepted(
    names: list[str], kind: str, market: str, practice: bool
) -> None:
    """Blends, figures, unread lines and contradictions included."""
    assert faults(", ".join(["Aqua", *names]), kind, market, practice) == []


def test_what_contradicts_itself_is_set_aside_and_said_to_be() -> None:
    """Figures in the wrong order, and parts that make more than the whole."""
    for text in (
        "Aqua, Sodium Lauryl Sulfate 2%, Glycerin 5%, Parfum",
        "Aqua 70%, Sodium Lauryl Sulfate 60%, Glycerin",
        "Phenoxyethanol, Aqua, Parfum",
        "Phenoxyethanol",
    ):
        assert faults(text, "wash", "EU", True) == [], text


def test_a_custom_of_another_sort_of_product_is_refused() -> None:
    """8 % of anionic surfactant is usual where they lead, and not below a betaine."""
    usual = {
        "t18-everyday-anionic": ["cocamidopropyl-betaine", "sodium-laureth-sulfate"],
        "t29-edta": ["disodium-edta", "parfum"],
    }
    for record, lines in usual.items():
        about = {each: BASE.classes_of(each) for each in lines}
        named = next(e for e in lines if e not in {"parfum", "cocamidopropyl-betaine"})
        cap = {"shares": {named: "1"}}
        cap |= {e: str(BASE.record(record).number(e)) for e in ("low", "high")}
        for order, holds in ((lines, False), (lines[::-1], True)):
            facts = [Fact("line", ("product/p", n, e)) for n, e in enumerate(order, 1)]
            facts += [Fact("kind", ("product/p", "wash"))]
            facts += BASE.facts_about([record], LIMIT)
            assert Limits(told(facts, about)).holds(record, cap) is holds
            loose = [*facts, Fact("unordered", ("product/p",))]
            assert not Limits(told(loose, about)).holds(record, cap)
