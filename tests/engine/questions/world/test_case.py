"""A case that begins with another is what it would be by itself."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.contract import CONTESTED, LEAVES, LINE, TYPE, VERDICT
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.proof.proofs import Prover
from abluent.engine.questions.answers.verdicts import verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf
from hypothesis import given, settings
from hypothesis import strategies as st

WASHES = ("Tideline Wash", "Breakwater Wash", "Gullwing Silk Wash", "Shallows Wash")
ADDED = (
    "cetrimonium-chloride",
    "dimethicone",
    "phenoxyethanol",
    "sodium-laureth-sulfate",
    "decyl-glucoside",
    "sodium-stearate",
)
RETYPED = ("cetearyl-alcohol", "sodium-c14-16-olefin-sulfonate")
SUPPOSED = Basis(origin="the supposition")


@cache
def world() -> World:
    shelf = demo_shelf()
    return World(Base.load(), load_rulebook(), products(shelf))


@st.composite
def labels(draw: st.DrawFn) -> tuple[str, list[Fact]]:
    """One label of the shelf with lines struck out, put in and moved."""
    name = draw(st.sampled_from([*WASHES, "Harbour Cream"]))
    facts = list(world().read(name).facts)
    lines = [fact for fact in facts if fact.predicate == LINE]
    rest = [fact for fact in facts if fact.predicate != LINE]
    kept = draw(st.lists(st.sampled_from(lines), unique=True, min_size=1))
    symbols = [fact.args[2] for fact in kept]
    for extra in draw(st.lists(st.sampled_from(ADDED), unique=True, max_size=2)):
        symbols.insert(draw(st.integers(0, len(symbols))), extra)
    made = [
        Fact(LINE, (product_symbol(name), place, symbol), SUPPOSED)
        for place, symbol in enumerate(dict.fromkeys(symbols), 1)
    ]
    return name, [*rest, *made]


@pytest.mark.long
@given(st.lists(labels(), min_size=1, max_size=3), st.sampled_from(["", *RETYPED]))
@settings(max_examples=15, deadline=None)
def test_what_is_worked_out_from_another_case_is_what_follows(
    changes: list[tuple[str, list[Fact]]], retyped: str
) -> None:
    """The same verdicts, films, disputes and proofs, whatever came before."""
    begun = world().remembering()
    first = Case.of(begun, WASHES, sources=["Harbour Cream"])
    verdicts(first)
    changed = begun
    if retyped:
        kind = Fact(TYPE, (retyped, "SiliconeFluid"), SUPPOSED)
        changed = changed.with_type(retyped, kind)
    for name, facts in changes:
        changed = changed.with_facts(name, facts)
        revised = Case.of(changed, WASHES, sources=["Harbour Cream"])
        anew = evaluate(changed.program, revised.facts)
        for predicate in (VERDICT, LEAVES, CONTESTED):
            found = set(revised.model.match(predicate))
            assert found == set(anew.match(predicate))
        prover = Prover(anew)
        for row in sorted(anew.match(VERDICT), key=repr)[:6]:
            one = revised.prover.prove(VERDICT, row)
            assert one.root.key == prover.prove(VERDICT, row).root.key


def test_a_case_is_kept_only_where_it_is_asked_to_be() -> None:
    plain = world()
    assert Case.of(plain, ["Tideline Wash"]) is not Case.of(plain, ["Tideline Wash"])
    begun = plain.remembering()
    case = Case.of(begun, ["Tideline Wash"])
    changed = begun.with_facts("Tideline Wash", world().read("Tideline Wash").facts)
    assert changed.known.common is case.world.known.common
