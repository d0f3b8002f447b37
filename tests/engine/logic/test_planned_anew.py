"""Plans that turn out far from what was expected, and what is done instead."""

from __future__ import annotations

import random

import pytest
from abluent.engine.logic._steps import Join, Sweep
from rule_models import model

COUNTED = """
unsaid
  because the a asks the f
      and the n comes to count of (the b where the a holds the b and the b meets the f)
  so      the a finds the f, the n
  rule    counted
"""


def test_a_count_that_was_planned_for_other_facts_is_planned_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Very many meet one of very few, which sizes alone do not tell.

    All groups are counted at once, and what is found first is what leads to little.
    """
    batches: list[int] = []
    run = Join.run

    def watched(self: Join, batch: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
        found = run(self, batch)
        batches.append(len(found))
        return found

    monkeypatch.setattr(Join, "run", watched)
    facts: list[tuple[object, ...]] = [("meets", f"b{n}", "f0") for n in range(1500)]
    facts += [("holds", f"a{n}", f"b{n + m}") for n in range(200) for m in range(2)]
    # What is asked about is of the same sort, and makes it seem to be met by few.
    facts += [("asks", f"a{n}", "f0") for n in range(200)]
    facts += [("asks", "a0", f"f{n}") for n in range(1, 3000)]
    found = model(COUNTED, *facts)
    assert set(found.match("finds")) >= {(f"a{n}", "f0", 2) for n in range(200)}
    assert ("a0", "f7", 0) in set(found.match("finds"))
    assert max(batches) < 20_000


AHEAD = """
unsaid
  because the list line the m, the salt
      and the salt isa "Salt"
      and the list line the k, the syrup
      and the syrup isa "Syrup"
      and the m is below the k
  so      the list ahead the m
  rule    ahead
"""


def test_many_lists_at_a_time_are_not_tried_where_few_agree(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A plan that finds too much is replaced by the cheapest, be it joins or masks.

    Of salts and syrups at any two places very few stand on one list, so that to go
    through all those for the lists they share takes far longer than to go by list.
    """
    batches: list[int] = []
    run = Sweep.run

    def watched(self: Sweep, batch: list[tuple[int, ...]]) -> dict[object, int]:
        batches.append(len(batch))
        return run(self, batch)

    monkeypatch.setattr(Sweep, "run", watched)
    # Each class is of few on the whole, and these two of many that stand on lists.
    classes = {f"x{n}": f"C{n % 1000}" for n in range(4000)}
    classes |= {f"salt{n}": "Salt" for n in range(30)}
    classes |= {f"syrup{n}": "Syrup" for n in range(30)}
    dice = random.Random(1)
    lists = [
        [
            f"{dice.choice(('salt', 'syrup', 'x'))}{dice.randrange(30)}"
            for _ in range(14)
        ]
        for _ in range(900)
    ]
    facts: list[tuple[object, ...]] = [("isa", *each) for each in classes.items()]
    facts += [
        ("line", f"p{n}", place, name)
        for n, each in enumerate(lists)
        for place, name in enumerate(each)
    ]
    found = model(AHEAD, *facts)
    assert set(found.match("ahead")) == {
        (f"p{n}", place)
        for n, each in enumerate(lists)
        for place, name in enumerate(each)
        if name.startswith("salt")
        and any(later.startswith("syrup") for later in each[place + 1 :])
    }
    assert sum(batches) < 5_000
