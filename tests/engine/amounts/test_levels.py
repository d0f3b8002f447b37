"""Levels are exact: never too narrow, never too wide, and each bound is proven."""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Any

import pytest
from abluent.engine.amounts._proofs import prove
from abluent.engine.amounts._rows import Row, chain, rows_of
from abluent.engine.amounts.levels import Cap, Item, Level, Levels, LineRule, levels
from abluent.engine.logic.facts import Basis
from abluent.engine.logic.terms import Interval
from certificates import faults, problems, rows
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

LAW = Basis("lawOrStandard", ("label-law",))
PRACTICE = Basis("commonPractice", ("common-practice",))
US = LineRule("us", free_at_threshold=True, basis=LAW)
EU = LineRule("eu", free_at_threshold=False, basis=LAW)


def plain(count: int) -> list[Item]:
    """A label of so many ingredients and nothing else."""
    return [Item(place, f"i{place}") for place in range(1, count + 1)]


def cap(symbols: str, high: str, low: str | None = None) -> Cap:
    """A limit of law on some ingredients together."""
    shares = tuple((symbol, Fraction(1)) for symbol in symbols.split())
    least = None if low is None else Fraction(low)
    return Cap(f"cap-{high}", shares, Fraction(high), least, LAW)


def written(level: Level) -> str:
    """A level as an interval."""
    left, right = "(" if level.low_open else "[", ")" if level.high_open else "]"
    return f"{left}{level.low}, {level.high}{right}"


# -- sentences ------------------------------------------------------------------


def test_order_alone_bounds_the_nth_item_by_100_over_n() -> None:
    """W90: the fifth of an ordered list is at most a fifth of the whole."""
    assert [written(level) for level in levels(plain(5), EU)] == [
        "[20, 100)",
        "(0, 50)",
        "(0, 100/3)",
        "(0, 25)",
        "(0, 20]",
    ]


def test_a_later_item_may_exceed_an_earlier_one_below_the_line_only() -> None:
    """Behind an item below 1 %, all are below 1 %: the order there is free."""
    stated = [*plain(3), Item(4, "i4", stated=Fraction(1, 2)), *plain(6)[4:]]
    assert written(levels(stated, EU).at(6)) == "(0, 1)"
    assert written(levels(stated, US).at(6)) == "(0, 1]"


def test_exactly_one_per_cent_is_free_in_the_us_and_in_order_in_the_eu() -> None:
    """L07: at a stated 1 % the markets part on what may stand before it."""
    items = [Item(1, "i1"), Item(2, "i2"), Item(3, "i3", stated=1)]
    assert written(levels(items, EU).at(2)) == "[1, 99/2]"
    assert written(levels(items, US).at(2)) == "(0, 99/2]"


def test_a_cap_below_one_per_cent_marks_the_line() -> None:
    """L12: after an item capped at 0.6 % all are below the line."""
    found = levels(plain(6), EU, [cap("i3", "0.6")])
    assert written(found.at(3)) == "(0, 3/5]"
    assert written(found.at(5)) == "(0, 1)"


def test_a_cap_of_exactly_one_per_cent_bounds_later_items_by_one_and_not_below() -> (
    None
):
    """L12: phenoxyethanol at 1.0 % leaves later items at most 1 %, not under it."""
    assert written(levels(plain(6), EU, [cap("i3", "1")]).at(5)) == "(0, 1]"


def test_a_cap_above_one_per_cent_marks_no_line() -> None:
    """L12: benzoate may reach 2.5 % in a rinse-off, so what follows may too."""
    assert written(levels(plain(6), EU, [cap("i3", "2.5")]).at(5)) == "(0, 5/2]"


def test_an_alphabetical_list_gives_no_order() -> None:
    """Without order every item may be nearly all or nearly nothing."""
    loose = [Item(place, f"i{place}", ordered=False) for place in (1, 2, 3)]
    assert {written(level) for level in levels(loose, EU)} == {"(0, 100)"}


def test_the_sum_closes_an_unordered_list_with_stated_figures() -> None:
    """Drug facts state their actives; the rest share what is left."""
    items = [
        Item(1, "active", stated=Interval(2, 3), ordered=False),
        Item(2, "base", ordered=False),
    ]
    assert [written(each) for each in levels(items, US)] == ["[2, 3]", "[97, 98]"]


def test_an_unread_line_opens_the_sum_and_keeps_the_order() -> None:
    """A line that was not understood may hide anything, but takes its share."""
    items = [Item(1, "i1"), Item(2, None), Item(3, "i3")]
    assert [written(each) for each in levels(items, EU)] == [
        "(0, 100)",
        "[0, 100)",
        "(0, 50]",
    ]


def test_an_allergen_of_the_perfume_is_not_added_twice() -> None:
    """What may be part of another item neither needs room nor leaves a gap."""
    inside = Item(3, "linalool", ordered=False, counted=False)
    found = levels([Item(1, "i1"), Item(2, "perfume"), inside], EU)
    assert written(found.at(1)) == "(0, 100)"
    assert written(found.at(3)) == "(0, 100]"


def test_what_may_be_missing_may_be_nothing() -> None:
    """`may contain` leaves open that the item is there at all."""
    items = [Item(1, "i1"), Item(2, "i2", ordered=False, certain=False)]
    assert [written(each) for each in levels(items, EU)] == ["(0, 100]", "[0, 100)"]


def test_a_limit_on_a_sum_binds_its_members_together() -> None:
    """C01: two quats share 2.5 %, so the later one has at most half of it."""
    found = levels(plain(5), EU, [cap("i2 i3", "2.5")])
    assert [written(found.at(at)) for at in (2, 3, 4)] == [
        "(0, 5/2)",
        "(0, 5/4]",
        "(0, 5/4]",
    ]


def test_figures_of_the_trade_narrow_only_when_given_and_say_so() -> None:
    """T rows bind nobody: bounds that need them stand as common practice."""
    usual = Cap("t18", (("i2", Fraction(1)),), Fraction(15), Fraction(8), PRACTICE)
    plainly, usually = levels(plain(4), EU), levels(plain(4), EU, practice=[usual])
    assert written(plainly.at(2)) == "(0, 50)"
    assert written(usually.at(2)) == "[8, 15]"
    assert usually.at(2).standing == "commonPractice"
    assert usually.at(3).low_standing == "lawOrStandard"
    assert usually.at(3).high_standing == "commonPractice"


def test_a_list_that_cannot_come_to_the_whole_is_taken_as_an_excerpt() -> None:
    """A capped item alone is not all of a product: something is left out."""
    found = levels(plain(1), EU, [cap("i1", "0.6")])
    assert [row.name for row in found.set_aside] == ["sum at least"]
    assert written(found.at(1)) == "(0, 3/5]"


def test_a_label_against_the_law_says_what_was_set_aside() -> None:
    """A figure above a cap stands, and the cap is named and left out."""
    items = [Item(1, "i1"), Item(2, "i2", stated=5)]
    found = levels(items, EU, [cap("i2", "0.6")])
    assert "cap cap-0.6" in {row.name for row in found.set_aside}
    assert written(found.at(2)) == "[5, 5]"


def test_figures_out_of_order_set_the_order_aside_before_themselves() -> None:
    """Printed figures outrank the place in the list."""
    items = [Item(1, "i1", stated=2), Item(2, "i2", stated=5), Item(3, "i3")]
    found = levels(items, EU)
    assert "order 1 2" in {row.name for row in found.set_aside}
    assert [written(each) for each in found] == ["[2, 2]", "[5, 5]", "[93, 93]"]


def test_no_items_have_no_levels() -> None:
    """An empty label is no error."""
    assert len(levels([], EU)) == 0


# -- against the definition ------------------------------------------------------

PERCENT = st.fractions(0, 100, max_denominator=4)


@st.composite
def compositions(draw: st.DrawFn) -> tuple[list[Item], LineRule, list[Fraction]]:
    """A composition with a label that a maker may lawfully print for it."""
    parts = draw(st.lists(st.integers(1, 4000), min_size=1, max_size=7))
    whole = [Fraction(100 * part, sum(parts)) for part in parts]
    rule = draw(st.sampled_from([US, EU]))
    free = [level for level in whole if level < 1 or (rule is US and level == 1)]
    kept = sorted((level for level in whole if level not in free), reverse=True)
    printed = kept + draw(st.permutations(free))
    items = []
    for place, level in enumerate(printed, start=1):
        stated = draw(st.sampled_from([None, level, Interval(level / 2, level + 1)]))
        items.append(Item(place, f"i{place}", stated=stated))
    return items, rule, printed


@settings(deadline=None)
@given(compositions(), st.lists(st.integers(0, 6), max_size=4), st.integers(0, 5))
def test_no_lawful_composition_falls_outside(
    made: tuple[list[Item], LineRule, list[Fraction]], capped: list[int], more: int
) -> None:
    """Start from what is in the bottle: its levels lie within what the label says."""
    items, rule, true = made
    members = sorted({at for at in capped if at < len(items)})
    total = sum((true[at] for at in members), Fraction(0))
    shares = tuple((f"i{at + 1}", Fraction(1)) for at in members)
    caps = [Cap("cap", shares, total + more, basis=LAW)]
    found = levels(items, rule, caps)
    assert not found.set_aside
    for level, value in zip(found, true, strict=True):
        assert level.low < value or (level.low == value and not level.low_open)
        assert value < level.high or (level.high == value and not level.high_open)


@st.composite
def labels(draw: st.DrawFn) -> tuple[list[Item], LineRule, list[Cap]]:
    """A small label with everything that labels have, whether or not it can be."""
    items = []
    for place in range(1, draw(st.integers(1, 6)) + 1):
        known = draw(st.integers(0, 11)) > 0
        low, width = draw(PERCENT), draw(PERCENT)
        stated = draw(st.sampled_from([None, None, None, low / 8, "range"]))
        items.append(
            Item(
                place,
                f"i{place}" if known else None,
                Interval(low / 4, low / 4 + width, low_open=True)
                if stated == "range"
                else stated,
                ordered=draw(st.integers(0, 4)) > 0,
                certain=draw(st.integers(0, 5)) > 0,
                counted=draw(st.integers(0, 5)) > 0,
            )
        )
    caps = []
    for number in range(draw(st.integers(0, 2))):
        members = draw(st.lists(st.integers(1, 6), min_size=1, max_size=3, unique=True))
        share = draw(st.sampled_from([Fraction(1), Fraction(17, 20)]))
        shares = tuple((f"i{at}", share) for at in members)
        least = draw(st.sampled_from([None, None, Fraction(1, 2)]))
        caps.append(Cap(f"c{number}", shares, 1 + draw(PERCENT) / 10, least, LAW))
    return items, draw(st.sampled_from([US, EU])), caps


@pytest.mark.slow
@settings(deadline=None)
@given(labels())
def test_every_bound_is_proven_and_reached(
    label: tuple[list[Item], LineRule, list[Cap]],
) -> None:
    """The certificate of every bound holds, so no bound is too wide or too narrow."""
    found = levels(*label)
    for level in found:
        for side, bound, is_open in (
            ("low", -level.low, level.low_open),
            ("high", level.high, level.high_open),
        ):
            proof = found.prove(level.place, "high" if side == "high" else "low")
            assert (proof.bound, proof.approached) == (bound, is_open)
            assert faults(proof, label[2]) == []


@pytest.mark.slow
@settings(max_examples=25, deadline=None)  # each compares some hundred programs
@given(labels())
def test_levels_agree_with_a_solver_of_linear_programs(
    label: tuple[list[Item], LineRule, list[Cap]],
) -> None:
    """HiGHS, as in SciPy, finds the same bounds over all positions of the line."""
    found = levels(*label)
    for at, level in enumerate(found):
        assert float(level.low) == pytest.approx(_highs(found, at, 1), abs=1e-6)
        assert float(level.high) == pytest.approx(-_highs(found, at, -1), abs=1e-6)


def _highs(found: Levels, at: int, sign: int) -> float:
    """The least `sign * level`, by HiGHS; strict rows count as their closure."""
    size = len(found)
    best = float("inf")
    for line in range(len(chain(found.items)) + 1):
        rows = [row for row in found.rows if row.holds_at(line)]
        matrix = [[float(row.terms.get(i, 0)) for i in range(size)] for row in rows]
        # A hair's breadth inside strict rows, so that an empty case stays empty.
        bounds = [float(row.bound) - 1e-7 * row.strict for row in rows]
        cost = [float(sign * (i == at)) for i in range(size)]
        result = linprog(cost, A_ub=matrix, b_ub=bounds, bounds=(None, None))
        if result.status == 0:
            best = min(best, result.fun)
    return best


def test_random_compositions_never_leave_the_levels_and_come_near_every_bound() -> None:
    """Sampling from the inside: every sample is within, and none is idle."""
    chance = random.Random(5)
    found = levels(plain(4), EU, [cap("i3", "0.6")])
    seen: list[list[float]] = [[], [], [], []]
    for _ in range(4000):
        cut = sorted(chance.random() for _ in range(3))
        parts = [100 * p for p in _spread(cut)]
        if _lawful(found.rows, parts, len(plain(4))):
            for values, part in zip(seen, parts, strict=True):
                values.append(part)
    assert len(seen[0]) > 5
    for level, values in zip(found, seen, strict=True):
        assert level.low <= min(values)
        assert max(values) <= level.high


def _spread(cut: Sequence[float]) -> list[float]:
    """Four parts of one, the last three small enough to be lawful now and then."""
    ends = [0.0, *(each / 80 for each in cut)]
    small = [b - a for a, b in pairwise(ends)]
    return [1 - sum(small), *small]


def _lawful(rows: Sequence[Row], parts: Sequence[float], lines: int) -> bool:
    return any(
        all(
            sum(float(c) * parts[at] for at, c in row.terms.items())
            <= float(row.bound) + 1e-9
            for row in rows
            if row.holds_at(line)
        )
        for line in range(lines + 1)
    )


# -- the check itself -------------------------------------------------------------


CAPPED = [cap("i3", "1")]


def test_a_certificate_says_why() -> None:
    """The bound after a capped marker rests on the order, the line and the cap."""
    found = levels(plain(6), EU, CAPPED)
    names = {row.name for row in found.prove(5, "high").used}
    assert names == {"order 3 4", "order 4 5", "cap cap-1", "below 5"}


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("cases", 0, "last"), 4),
        (("cases", 0, "first"), -1),
        (("cases", 0, "weights", "cap cap-1"), "-1"),
        (("cases", 0, "weights", "cap cap-1"), "1/2"),
        (("cases", 0, "weights", "cap cap-2"), "1"),
        (("cases", 1, "weights"), {}),
        (("cases",), []),
        (("inside", "5"), "2"),
        (("inside", "5"), "1/2"),
        (("inside",), {}),
        (("border",), {"5": "1"}),
        (("line",), 0),
        (("more",), 0),
    ],
)
def test_a_changed_proof_is_refused(path: tuple[str | int, ...], value: object) -> None:
    """Whatever matters cannot be changed unnoticed."""
    proof = levels(plain(6), EU, CAPPED).prove(5, "high")
    data = proof.as_data()
    known = rows(proof, CAPPED)
    assert problems(proof, data, known) == []
    place: Any = data
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    assert problems(proof, data, known) != []


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("order 3 4", {"bound": Fraction(1)}),
        ("below 5", {"bound": Fraction(2)}),
        ("below 5", {"last": 3}),
        ("cap cap-1", {"first": 6}),
        ("present 2", {"bound": Fraction(-2)}),
        ("sum at least", {"bound": Fraction(-1000)}),
    ],
)
def test_a_proof_from_other_rows_is_refused(name: str, change: Any) -> None:
    """The same weights prove nothing, or the parts break what is known."""
    proof = levels(plain(6), EU, CAPPED).prove(5, "high")
    known = rows(proof, CAPPED)
    changed = {**known, name: known[name]._replace(**change)}
    assert problems(proof, proof.as_data(), changed) != []


@pytest.mark.parametrize("change", [{"bound": Fraction(9, 10)}, {"approached": True}])
def test_a_proof_of_another_value_is_refused(change: Any) -> None:
    """The value is the one that is proven and reached."""
    proof = levels(plain(6), EU, CAPPED).prove(5, "high")
    assert faults(proof._replace(**change), CAPPED) != []


def test_a_contradiction_is_proven_case_by_case() -> None:
    """What no composition can meet has a certificate as well."""
    caps = [cap("i1", "0.6")]
    proof = prove(plain(1), EU, rows_of(plain(1), EU, caps), {0: Fraction(1)})
    assert proof.bound is None
    assert faults(proof, caps) == []


def test_places_need_not_run_from_one_without_gaps() -> None:
    """Rows and forms go by place."""
    items = [Item(3, "a"), Item(7, "b")]
    assert faults(levels(items, US).prove(7, "high")) == []


# -- exhaustively -------------------------------------------------------------------

UNITS = 20  # of 5 % each, under a line at 20 %


def lawful(parts: Sequence[int], line: int, free: bool) -> bool:
    """Whether parts, each something, may be printed in this order.

    The parts that reach the line descend and stand before those that do not; at
    exactly the line a part may stand among either where that much is free.
    """
    return any(
        all(a >= b for a, b in pairwise(parts[:above]))
        and all(part >= line for part in parts[:above])
        and all(part <= line if free else part < line for part in parts[above:])
        for above in range(len(parts) + 1)
    )


@pytest.mark.parametrize("free", [True, False])
@pytest.mark.parametrize("count", [2, 3, 4, 5])
@pytest.mark.parametrize("most", [None, 3, 7])
def test_every_composition_on_a_grid_lies_within_and_some_lie_at_the_bounds(
    count: int, free: bool, most: int | None
) -> None:
    """All ways to share out the whole in 5 %, and no level is left out or too wide.

    A limit may hold the second item; a bound lies on the grid or is only approached,
    so that some composition comes within a part of the grid for each item.
    """
    step = Fraction(100, UNITS)
    rule = LineRule("tried", Fraction(20), free, LAW)
    caps = [] if most is None else [cap("i2", str(most * step))]
    found = levels(plain(count), rule, caps)
    cuts = combinations(range(1, UNITS), count - 1)
    every = ([b - a for a, b in pairwise([0, *cut, UNITS])] for cut in cuts)
    kept = [
        parts
        for parts in every
        if lawful(parts, 4, free) and (most is None or parts[1] <= most)
    ]
    assert kept
    for at, level in enumerate(found):
        seen = [parts[at] * step for parts in kept]
        assert level.low <= min(seen) <= level.low + count * step
        assert level.high - count * step <= max(seen) <= level.high
        assert not (level.low_open and min(seen) == level.low)
        assert not (level.high_open and max(seen) == level.high)
