"""Levels in closed form.

At one position of the line the rows are an order `c1 >= c2 >= ... >= ck`, a box for
every item, sums that are at most something (all parts together, or those of one
limit), and the sum of all parts, which is at least 100.

Push every lower box bound up the order and every upper one down it; this excludes
nothing. The vectors of the lower bounds `L` and of the upper bounds `H` then keep
the order themselves, and every composition lies between them. The order and the
boxes are closed under the larger and the smaller of two vectors, item by item. So
the least vector in which item `p` has level `v` raises only those before it, to `v`:
`max(L, v)` up to `p` and `L` after it; and the greatest lowers only those after it.

Level `v` is possible only if the least vector keeps every sum that is at most
something and the greatest reaches 100 in all. Both sides grow with `v`: so `v` is at
most where the first of those sums is exhausted, and at least where the greatest
vector reaches 100. The sums are piecewise linear in `v` and solved piece by piece.

These conditions are enough as well. What lies between the two vectors is convex, and
all parts together run through everything from the sum of the least to that of the
greatest: rise until they reach 100. The sum of those that count then makes no more
than 100. The sum of a limit, though, might be broken on the way. So where a limit
binds several items, hold those at the least vector and raise only the others; if that
still reaches 100 the bound is exact, and if not, it is left to the linear programs.

Strict bounds are kept apart from equal ones by an infinitesimal: `< 1` is `1 - e`.
A number `a + b*e` is carried as the whole number `a*D*UNIT + b`, with `D` a common
denominator. A bound whose infinitesimal part is not zero is approached and never
reached.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import accumulate, pairwise
from math import lcm
from typing import NamedTuple, TypeAlias

from abluent.engine.amounts._rows import WHOLE, Row

# Greater than any sum of infinitesimals that a label can add up to.
UNIT = 1 << 96

# A numerator and a positive denominator, both whole, in units of the grid.
Ratio: TypeAlias = tuple[int, int]
# A value, and whether it is only approached.
Bound: TypeAlias = tuple[Fraction, bool]


def closed_bounds(
    rows: Sequence[Row], order: Sequence[int], size: int
) -> list[tuple[Bound | None, Bound | None]] | None:
    """The least and greatest level of every item.

    `None` for all says that the rows contradict; `None` for one bound, that the
    closed form does not settle it.

    Args:
        rows: every row; none but `sum at least` may bound several items from below.
        order: the indices of the items whose order counts.
        size: the number of items.
    """
    boxes = _Boxes(rows, size)
    lines = [_AtLine(boxes, order, line) for line in range(len(order) + 1)]
    possible = [(line, line.bounds()) for line in lines if line.possible]
    if not possible:
        return None
    found: list[tuple[Bound | None, Bound | None]] = []
    for at in range(size):
        low, low_line = _least((bounds[at][0], line) for line, bounds in possible)
        high, high_line = _most((bounds[at][1], line) for line, bounds in possible)
        found.append(
            (
                boxes.decode(low) if low_line.reaches(at, low) else None,
                boxes.decode(high) if high_line.reaches(at, high) else None,
            )
        )
    return found


def _least(pairs: Iterable[tuple[Ratio, _AtLine]]) -> tuple[Ratio, _AtLine]:
    best, where = _NOTHING
    for ratio, line in pairs:
        if where is None or ratio[0] * best[1] < best[0] * ratio[1]:
            best, where = ratio, line
    assert where is not None, "some position is possible"
    return best, where


def _most(pairs: Iterable[tuple[Ratio, _AtLine]]) -> tuple[Ratio, _AtLine]:
    negated = (((-ratio[0], ratio[1]), line) for ratio, line in pairs)
    (above, below), where = _least(negated)
    return (-above, below), where


_NOTHING: tuple[Ratio, None] = ((0, 1), None)
_UNSET: tuple[Ratio, Ratio] = ((0, 1), (0, 1))


def _lesser(one: Ratio, other: Ratio) -> Ratio:
    return one if one[0] * other[1] <= other[0] * one[1] else other


def _greater(one: Ratio, other: Ratio) -> Ratio:
    return one if one[0] * other[1] >= other[0] * one[1] else other


class _AtMost(NamedTuple):
    """`sum(weights * levels) <= bound`, in units of the grid."""

    weights: list[int]
    bound: int

    def used(self, levels: Sequence[int]) -> int:
        """What a vector takes of it."""
        return sum(w * c for w, c in zip(self.weights, levels, strict=True) if w)


class _Boxes:
    """The rows on one grid of whole numbers."""

    def __init__(self, rows: Sequence[Row], size: int) -> None:
        self.size = size
        self._scale = lcm(*(row.level.denominator for row in rows if row.single), 1)
        self._scale = lcm(self._scale, *(row.bound.denominator for row in rows))
        self.low = [-UNIT * UNIT] * size
        self.high = [UNIT * UNIT] * size
        self.above = [0] * size
        self.below = [0] * size
        self.sums: list[_AtMost] = []
        self.complete = False
        self.limited: set[int] = set()
        for row in rows:
            self._take(row)
        self.whole = self._grid(WHOLE, 0)

    def decode(self, ratio: Ratio) -> Bound:
        """What a ratio on the grid stands for."""
        level = (ratio[0] + UNIT // 2) // UNIT
        return Fraction(level, ratio[1] * self._scale), ratio[0] != level * UNIT

    def _grid(self, value: Fraction, infinitesimal: int) -> int:
        part, rest = divmod(value.numerator * self._scale, value.denominator)
        return (part if not rest or part >= 0 else part + 1) * UNIT + infinitesimal

    def _take(self, row: Row) -> None:
        if row.single:
            self._take_single(row)
        elif row.name == "sum at least":
            self.complete = True
        elif not row.name.startswith("order "):
            scale = lcm(*(share.denominator for share in row.terms.values()))
            weights = [0] * self.size
            for at, share in row.terms.items():
                weights[at] = int(share * scale)
            self.sums.append(_AtMost(weights, self._grid(row.bound * scale, 0)))
            if row.name != "sum at most":
                self.limited |= row.terms.keys()

    def _take_single(self, row: Row) -> None:
        ((at, coefficient),) = row.terms.items()
        if coefficient > 0:
            value = self._grid(row.level, -int(row.strict))
            if row.name.startswith("below "):
                self.below[at] = value
            else:
                self.high[at] = min(self.high[at], value)
        else:
            value = self._grid(row.level, int(row.strict))
            if row.name.startswith("above "):
                self.above[at] = value
            else:
                self.low[at] = max(self.low[at], value)


class _AtLine:
    """The rows with the line at one position: the first `line` items keep order."""

    def __init__(self, boxes: _Boxes, order: Sequence[int], line: int) -> None:
        self._boxes = boxes
        self._upper = list(order[:line])
        low, high = list(boxes.low), list(boxes.high)
        for at in order[:line]:
            low[at] = max(low[at], boxes.above[at])
        for at in order[line:]:
            high[at] = min(high[at], boxes.below[at])
        _press(high, self._upper)
        backwards = self._upper[::-1]
        for after, at in pairwise(backwards):
            low[at] = max(low[at], low[after])
        self._low, self._high = low, high
        self._rooms = [each.bound - each.used(low) for each in boxes.sums]
        self._spare = sum(high) - boxes.whole

    @property
    def possible(self) -> bool:
        """Whether the conditions leave any composition."""
        fits = all(a <= b for a, b in zip(self._low, self._high, strict=True))
        full = self._spare >= 0 or not self._boxes.complete
        return fits and full and all(room >= 0 for room in self._rooms)

    def bounds(self) -> list[tuple[Ratio, Ratio]]:
        """The bounds of every item that the conditions give."""
        # Those of the order are filled in below.
        found = [_UNSET] * self._boxes.size
        for at in {*range(self._boxes.size)}.difference(self._upper):
            found[at] = self._free(at)
        lows = [self._low[at] for at in self._upper]
        highs: list[Ratio] = [(self._high[at], 1) for at in self._upper]
        starts = _starts(lows)
        for each, room in zip(self._boxes.sums, self._rooms, strict=True):
            weights = [each.weights[at] for at in self._upper]
            highs = _raised(lows, weights, starts, room, highs)
        bottoms: list[Ratio] = [(low, 1) for low in lows]
        if self._boxes.complete:
            bottoms = _lowered(
                [self._high[at] for at in self._upper], self._spare, bottoms
            )
        for at, bottom, top in zip(self._upper, bottoms, highs, strict=True):
            found[at] = (bottom, top)
        return found

    def _free(self, at: int) -> tuple[Ratio, Ratio]:
        """The bounds of an item that others depend on only through sums."""
        low, high = self._low[at], self._high[at]
        top: Ratio = (high, 1)
        for each, room in zip(self._boxes.sums, self._rooms, strict=True):
            weight = each.weights[at]
            if weight:
                top = _lesser(top, (low * weight + room, weight))
        bottom = max(low, high - self._spare) if self._boxes.complete else low
        return (bottom, 1), top

    def reaches(self, at: int, level: Ratio) -> bool:
        """Whether some composition certainly has this level of this item."""
        if not (self._boxes.limited and self._boxes.complete):
            return True
        value, scale = level
        low = [scale * each for each in self._low]
        high = [scale * each for each in self._high]
        if at in self._upper:
            number = self._upper.index(at)
            for each in self._upper[: number + 1]:
                low[each] = max(low[each], value)
        low[at] = high[at] = value
        for each in self._boxes.limited:
            high[each] = low[each]
        _press(high, self._upper)
        kept = all(scale * each.bound >= each.used(low) for each in self._boxes.sums)
        return kept and sum(high) >= scale * self._boxes.whole


def _press(high: list[int], upper: Sequence[int]) -> None:
    """Push upper bounds down the order."""
    for before, at in pairwise(upper):
        high[at] = min(high[at], high[before])


def _raised(
    low: Sequence[int],
    weights: Sequence[int],
    starts: Sequence[int],
    room: int,
    caps: Sequence[Ratio],
) -> list[Ratio]:
    """The greatest level of every item in order, which lifts those before it.

    Lifting item `p` to `v` costs `weight * (v - L)` of each item from the first whose
    `L` is below `v` on. So start with the run of items that share its own `L`, and
    take in the run before while `v` still reaches above that.
    """
    counts = [0, *accumulate(weights)]
    costs = [0, *accumulate(a * w for a, w in zip(low, weights, strict=True))]
    found = []
    for number, cap in enumerate(caps):
        start = starts[number]
        while True:
            count = counts[number + 1] - counts[start]
            top = room + costs[number + 1] - costs[start]
            if start == 0 or (count and top <= low[start - 1] * count):
                break
            start = starts[start - 1]
        found.append(_lesser((top, count), cap) if count else cap)
    return found


def _lowered(high: Sequence[int], spare: int, floors: Sequence[Ratio]) -> list[Ratio]:
    """The least level of every item in order, which lowers those after it.

    The mirror image: start with the run of items that share its own `H`, and take in
    the run after while `v` still falls below that.
    """
    gains = [0, *accumulate(high)]
    ends = [len(high) - 1 - start for start in reversed(_starts(high[::-1]))]
    found = []
    for number, floor in enumerate(floors):
        end = ends[number]
        while True:
            count = end + 1 - number
            bottom = gains[end + 1] - gains[number] - spare
            if end + 1 == len(high) or bottom >= high[end + 1] * count:
                break
            end = ends[end + 1]
        found.append(_greater((bottom, count), floor))
    return found


def _starts(values: Sequence[int]) -> list[int]:
    """For every position, where the run of equal values that it lies in begins."""
    starts: list[int] = []
    for at, value in enumerate(values):
        same = at > 0 and values[at - 1] == value
        starts.append(starts[-1] if same else at)
    return starts
