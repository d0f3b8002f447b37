"""Relations kept as rows and as bits are the same relations."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from abluent.engine.logic._bits import Row, Swept, mask_of, members, transposed
from abluent.engine.logic._relation import Relation
from hypothesis import given
from hypothesis import strategies as st

NUMBERS = st.integers(0, 12) | st.integers(500, 1500)
PAIRS = st.sets(st.tuples(NUMBERS, NUMBERS), max_size=25)
SINGLES = st.sets(st.tuples(NUMBERS), max_size=25)
COLUMNS = st.sampled_from([0, 1])


def as_bits(rows: set[Row], column: int) -> Relation:
    """A relation of two columns kept as the masks of one of them."""
    masks: dict[Any, int] = {}
    for row in rows:
        key = row[1 - column]
        masks[key] = masks.get(key, 0) | 1 << row[column]
    made = Relation(2)
    made.merge([Swept(masks, column)])
    assert not made.is_rows
    return made


def single_bits(rows: set[Row]) -> Relation:
    """A relation of one column kept as a mask."""
    made = Relation(1)
    made.merge([Swept({(): mask_of(number for (number,) in rows)}, 0)])
    return made


@given(st.sets(st.integers(0, 3000), max_size=60) | st.sets(st.integers(0, 40)))
def test_masks_hold_their_members(numbers: set[int]) -> None:
    """A mask gives back what it was made of, smallest first, dense or sparse."""
    assert members(mask_of(numbers)) == sorted(numbers)


@given(PAIRS)
def test_transposing_twice_changes_nothing(rows: set[Row]) -> None:
    """Masks read the other way and back are the masks."""
    masks: dict[int, int] = {}
    for key, number in rows:
        masks[key] = masks.get(key, 0) | 1 << number
    assert transposed(transposed(masks)) == masks


READINGS: dict[str, Callable[[Relation, list[Row]], Any]] = {
    "all": lambda r, b: sorted(r),
    "size": lambda r, b: len(r),
    "holds": lambda r, b: [row[:2] in r for row in b],
    "first": lambda r, b: [sorted(r.find((0,), row[0])) for row in b],
    "second": lambda r, b: [sorted(r.find((1,), row[0])) for row in b],
    "both": lambda r, b: [sorted(r.find((0, 1), row[:2])) for row in b],
    "kept": lambda r, b: sorted(r.filter(b, (0,), (1,), False)),
    "dropped": lambda r, b: sorted(r.filter(b, (1,), (0,), True)),
    "kept whole": lambda r, b: sorted(r.filter(b, (0, 1), (1, 0), False)),
    "dropped whole": lambda r, b: sorted(r.filter(b, (0, 1), (1, 0), True)),
    "any": lambda r, b: r.filter(b, (), (), False),
    "none": lambda r, b: r.filter(b, (), (), True),
    "joined": lambda r, b: sorted(r.extend(b, (0,), (0,), (1,))),
    "joined back": lambda r, b: sorted(r.extend(b, (1,), (1,), (0,))),
    "crossed": lambda r, b: sorted(r.extend(b, (), (), (1, 0))),
    "count": lambda r, b: (r.count(b, (0,), (0,)), r.count(b, (), ())),
    "part": lambda r, b: sorted(r.part((1,)).rows()),
    "joined once": lambda r, b: sorted(r.part((0,)).extend(b, (), (), (0,))),
    "masks": lambda r, b: r.masks((1,), 0),
    "whole": lambda r, b: r.masks((), 1),
    "terms": lambda r, b: sorted(r.decoded([range(2000), [-n for n in range(2000)]])),
}


@pytest.mark.slow
@pytest.mark.parametrize("reading", READINGS.values(), ids=READINGS)
@given(rows=PAIRS, batch=PAIRS, column=COLUMNS)
def test_two_columns_read_alike(
    reading: Callable[[Relation, list[Row]], Any],
    rows: set[Row],
    batch: set[Row],
    column: int,
) -> None:
    """Every reading gives the same from rows and from bits."""
    bindings = sorted(batch)
    plain, bits = Relation(2, set(rows)), as_bits(rows, column)
    assert reading(plain, bindings) == reading(bits, bindings)


@given(SINGLES, SINGLES)
def test_one_column_reads_alike(rows: set[Row], batch: set[Row]) -> None:
    """A mask alone is a relation of one column."""
    bindings = sorted(batch)
    plain, bits = Relation(1, set(rows)), single_bits(rows)
    for each in (plain, bits):
        assert set(each) == rows
        assert sorted(each.filter(bindings, (0,), (0,), False)) == sorted(rows & batch)
        assert sorted(each.filter(bindings, (0,), (0,), True)) == sorted(batch - rows)
        assert sorted(each.extend([(7,)], (), (), (0,))) == sorted(
            (7, *r) for r in rows
        )
        assert set(each.decoded([range(2000)])) == rows


@pytest.mark.slow
@given(PAIRS, PAIRS, PAIRS, COLUMNS, COLUMNS)
def test_changes_reach_everything_derived(
    rows: set[Row], more: set[Row], less: set[Row], one: int, other: int
) -> None:
    """After merging and removing, old indexes and masks are still right."""
    for made in (Relation(2, set(rows)), as_bits(rows, one)):
        made.masks((0,), 1), made.masks((1,), 0), made.masks((), 0), made.part((1,))
        made.extend([(3,)], (0,), (0,), (1,)), made.extend([(3,)], (1,), (0,), (0,))
        before = made.copy()
        fresh = made.merge([list(more), as_bits(more, other).found()])
        assert set(fresh) == more - rows
        made.remove(less)
        expected = Relation(2, (rows | more) - less)
        probe = [(number,) for number in (*range(13), 500, 900)]
        for column in (0, 1):
            keys, payload = (column,), (1 - column,)
            found = sorted(made.extend(probe, keys, (0,), payload))
            assert found == sorted(expected.extend(probe, keys, (0,), payload))
            assert made.masks(keys, 1 - column) == expected.masks(keys, 1 - column)
            assert made.masks((), column) == expected.masks((), column)
            part = set(made.part((column,)).rows())
            assert part == {(row[column],) for row in expected}
        assert set(made) == set(expected)
        assert set(before) == rows
        assert set(made.minus(before)) == set(expected) - rows
        assert set(before.minus(made)) == rows - set(expected)


def test_rows_of_three_columns_are_indexed_by_any() -> None:
    """Keys of one column are bare, of several a row; copies go their own way."""
    made = Relation(3, {(1, 2, 3), (1, 2, 4), (2, 2, 3)})
    assert sorted(made.find((0, 1), (1, 2))) == [(1, 2, 3), (1, 2, 4)]
    assert sorted(made.extend([(3,)], (2,), (0,), (0, 1))) == [(3, 1, 2), (3, 2, 2)]
    copy = made.copy()
    copy.merge([[(5, 2, 3)]])
    copy.remove({(1, 2, 3)})
    assert sorted(copy.extend([(3,)], (2,), (0,), (0,))) == [(3, 2), (3, 5)]
    assert sorted(made.extend([(3,)], (2,), (0,), (0,))) == [(3, 1), (3, 2)]
