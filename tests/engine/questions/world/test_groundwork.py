"""What follows from a base alone: kept between runs, and never for another base."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.questions.answers.verdicts import verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf

RULE = """
"so it is here"
  because the wash product
      and the wash kind wash
  so      the wash setAside dimethicone
  rule    bay-washes-clear-nothing, standing commonPractice, source common-practice
"""


@pytest.fixture(scope="module")
def load(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., World]:
    """Load the demo shelf in a cache of its own, over further rules if given."""
    folder = tmp_path_factory.mktemp("cache")

    def load(*rules: Path) -> World:
        shelf = demo_shelf()
        return World(
            Base.load(cache_folder=folder),
            load_rulebook(rules, cache_folder=folder),
            products(shelf),
            [*shelf.conditions.values()],
        )

    return load


def _told(world: World) -> list[tuple[object, ...]]:
    """Every verdict on three washes, with all that is said of it."""
    names = ["Tideline Wash", "Harbour Cream"]
    case = Case.of(world, names[:1], sources=names[1:])
    return [
        (row.goal, row.standing, row.reasons, row.proof.root.key)
        for row in verdicts(case)
    ]


@pytest.mark.slow
def test_a_second_run_begins_where_the_first_ended(load: Callable[..., World]) -> None:
    """It works nothing out again, and its answers and proofs are the same."""
    first = load()
    assert not first.known.shared.model.recalled
    told = _told(first)
    assert first.known.shared.model.has_grown
    first.known.shared.keep()
    second = load()
    assert second.known.shared.model.recalled
    assert _told(second) == told
    assert not second.known.shared.model.has_grown
    assert not second.program.recipes.grown
    assert "facts" not in vars(second.known.shared)
    assert second.known.common == first.known.common


@pytest.mark.slow
def test_other_rules_begin_anew(load: Callable[..., World], tmp_path: Path) -> None:
    """What follows by some rules is nothing to others."""
    path = tmp_path / "own.rules"
    path.write_text(RULE, encoding="utf-8")
    plain = load()
    _told(plain)
    plain.known.shared.keep()
    ruled = load(path)
    assert not ruled.known.shared.model.recalled
    case = Case.of(ruled, ["Tideline Wash"])
    (wash,) = (row[0] for row in case.model.match("product"))
    assert case.model.holds("setAside", (wash, "dimethicone"))
    ruled.known.shared.keep()
    again = Case.of(load(), ["Tideline Wash"])
    assert not again.model.holds("setAside", (wash, "dimethicone"))


@pytest.mark.slow
def test_every_predicate_is_as_if_evaluated_whole(load: Callable[..., World]) -> None:
    """For some washes of the demo shelf, over one and the same common part."""
    world = load()
    for name in list(world.products)[:6:2]:
        case = Case.of(world, [name], sources=["Harbour Cream"])
        whole = evaluate(world.program, case.facts)
        for predicate in world.program.arities:
            found = set(case.model.match(predicate))
            assert found == set(whole.match(predicate)), (name, predicate)


def test_a_shelf_that_grows_shares_what_is_known(load: Callable[..., World]) -> None:
    """A world made of another has the same common part."""
    world = load()
    assert isinstance(Case.of(world, ["water"]), Case)
    assert world.with_products([]).known.shared is world.known.shared
