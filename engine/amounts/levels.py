"""How much of each ingredient a label can mean, in per cent by weight.

A label prints an order and seldom a figure. What follows from it is exact all the
same: the items above the 1 % line descend, those below it hold less than that each,
the law caps some, a figure may be printed, and all parts make 100. Each level is the
smallest interval that holds every value which some composition with these properties
gives to the ingredient, whatever the position of the line. It takes the law to be
kept, and what the law leaves unlisted (impurities, helps in making that are gone) to
weigh nothing.

Where no limit binds several ingredients together the bounds have a closed form
(`_closed`), argued there; otherwise, and for every proof, they are optima of
small linear programs in exact arithmetic (`_program`). Either way `prove` gives
the weighted sum of printed facts and law that shows the bound, with a composition
that reaches it, and `proof.bounds` verifies both knowing neither method.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Literal, NamedTuple

from abluent.engine.amounts._closed import Bound, closed_bounds
from abluent.engine.amounts._proofs import Certificate, Ground, prove
from abluent.engine.amounts._rows import Cap, Item, LineRule, Row, chain, rows_of
from abluent.engine.logic.terms import Quantity, interval

__all__ = ["Cap", "Certificate", "Item", "Level", "Levels", "LineRule", "levels"]

STANDINGS = ("lawOrStandard", "measured", "handbook", "commonPractice", "inferred")
Side = Literal["low", "high"]


class Level(NamedTuple):
    """The level of one item of a label, in per cent by weight.

    Args:
        place: its number on the label.
        symbol: the ingredient; `None` for a line that was not understood.
        low, high: the bounds.
        low_open, high_open: whether a bound is approached and never reached.
        low_standing, high_standing: the standing of the weakest fact that each bound
            needs, in the proof that stands highest.
        standing: the lesser of the two.
    """

    place: int
    symbol: str | None
    low: Fraction
    high: Fraction
    low_open: bool
    high_open: bool
    low_standing: str
    high_standing: str
    standing: str

    @property
    def quantity(self) -> Quantity:
        """The level as a term of the reasoner."""
        return interval(self.low, self.high, self.low_open, self.high_open)


class Levels:
    """The levels of one label, in the order of its items.

    Args:
        items: the items.
        rule: how the list ends.
        rows: what was taken to hold.
        set_aside: rows that could not all hold with the rest, and were left out.
        caps: the limits whose rows were taken to hold.
    """

    standings = STANDINGS

    def __init__(
        self,
        items: tuple[Item, ...],
        rule: LineRule,
        rows: tuple[Row, ...],
        *,
        set_aside: tuple[Row, ...] = (),
        caps: tuple[Cap, ...] = (),
    ) -> None:
        self.items, self.rule, self.rows = items, rule, rows
        self.set_aside, self.caps = set_aside, caps
        self._grounds: dict[int, Ground] = {}

    @property
    def by_custom(self) -> bool:
        """Whether what the trade usually puts in was taken to hold somewhere."""
        return any(cap.basis.standing == "commonPractice" for cap in self.caps)

    @cached_property
    def levels(self) -> tuple[Level, ...]:
        """The level of every item, worked out when first needed."""
        return _solve(self)

    def __iter__(self) -> Iterator[Level]:
        return iter(self.levels)

    def __len__(self) -> int:
        return len(self.items)

    def at(self, place: int) -> Level:
        """The level of the item at a place.

        Raises:
            KeyError: the label has no such place.
        """
        return self.levels[self._index(place)]

    def prove(self, place: int, side: Side) -> Certificate:
        """The proof of one bound, from facts of the standing that the level names.

        A lower bound is proven as the greatest value of minus the level.

        Raises:
            KeyError: the label has no such place.
        """
        at = self._index(place)
        level = self.levels[at]
        high = side == "high"
        standing = level.high_standing if high else level.low_standing
        rows = self.rows_at_least(standing)
        return prove(self.items, self.rule, rows, {at: Fraction(1 if high else -1)})

    def keep(self, ground: Ground) -> None:
        """Keep what all rows say, as that was looked at before."""
        self._grounds[len(self.rows)] = ground

    def ground_at_least(self, standing: str) -> Ground:
        """What the rows say that stand as high as a standing, or higher."""
        return self.ground_of(self.rows_at_least(standing))

    def ground_of(self, rows: Sequence[Row]) -> Ground:
        """What those rows say that stand as high as some standing."""
        # The lower the standing, the more rows: their number tells which they are.
        if len(rows) not in self._grounds:
            self._grounds[len(rows)] = Ground(self.items, rows)
        return self._grounds[len(rows)]

    def rows_at_least(self, standing: str) -> list[Row]:
        """The rows that stand as high as a standing of the scale, or higher."""
        return _standing_at_least(self.rows, standing, self.standings)

    def _index(self, place: int) -> int:
        for at, item in enumerate(self.items):
            if item.place == place:
                return at
        raise KeyError(place)


def levels(
    items: Iterable[Item],
    rule: LineRule,
    caps: Iterable[Cap] = (),
    practice: Iterable[Cap] = (),
) -> Levels:
    """The level of every item of a label.

    Args:
        items: the items in the order of the list.
        rule: how a list ends in the market of the product.
        caps: limits of law for the market, kind and date of the product.
        practice: figures of the trade, which bind nobody; give them to see what
            follows if the product is a usual one.

    A label may contradict itself or the law. Then the practice is set aside first,
    next that the list is complete, the caps, the order, and last the stated figures;
    see `Levels.set_aside`.
    """
    given, capped = tuple(items), tuple(caps)
    if not given:
        return Levels((), rule, ())
    aside: dict[str, Row] = {}
    for kept, limits, complete in _attempts(given, capped, (*capped, *practice)):
        rows = rows_of(kept, rule, limits, complete)
        ground = Ground(kept, rows)
        if ground.fits:
            left = [row for name, row in aside.items() if name not in _names(rows)]
            aside_rows, limited = tuple(left), tuple(limits)
            found = Levels(kept, rule, tuple(rows), set_aside=aside_rows, caps=limited)
            found.keep(ground)
            return found
        aside |= {row.name: row for row in prove(kept, rule, rows, {}).used}
    raise AssertionError("items without order, figures or limits always fit")


def _names(rows: Iterable[Row]) -> set[str]:
    return {row.name for row in rows}


def _attempts(
    items: tuple[Item, ...], caps: Sequence[Cap], every: Sequence[Cap]
) -> Iterator[tuple[tuple[Item, ...], Sequence[Cap], bool]]:
    """What to hold on to, from everything to next to nothing.

    A list that does not come to 100 is likelier an excerpt than a breach of the law.
    """
    yield items, every, True
    if len(every) > len(caps):
        yield items, caps, True
    yield items, caps, False
    yield items, (), False
    loose = tuple(item._replace(ordered=False) for item in items)
    yield loose, caps, True
    yield loose, (), False
    yield tuple(item._replace(stated=None) for item in loose), (), False


def _solve(known: Levels) -> tuple[Level, ...]:
    """The levels, each bound at the highest standing at which it is reached."""
    if not known.items:
        return ()
    scale = known.standings
    present = {row.basis.standing for row in known.rows}
    graded = [
        (each, _bounds(known, known.rows_at_least(each)))
        for each in scale
        if each in present
    ]
    final = graded[-1][1]
    return tuple(
        _level(
            item,
            final[at],
            _first(graded, at, 0, final[at][0]),
            _first(graded, at, 1, final[at][1]),
            scale,
        )
        for at, item in enumerate(known.items)
    )


def _first(
    graded: Sequence[tuple[str, list[tuple[Bound, Bound]]]],
    at: int,
    side: int,
    bound: Bound,
) -> str:
    return next(name for name, bounds in graded if bounds[at][side] == bound)


def _level(
    item: Item, bounds: tuple[Bound, Bound], low: str, high: str, scale: Sequence[str]
) -> Level:
    (least, low_open), (greatest, high_open) = bounds
    return Level(
        item.place,
        item.symbol,
        least,
        greatest,
        low_open,
        high_open,
        low,
        high,
        max(low, high, key=scale.index),
    )


def _standing_at_least(
    rows: Iterable[Row], standing: str, scale: Sequence[str]
) -> list[Row]:
    worst = scale.index(standing)
    return [row for row in rows if scale.index(row.basis.standing) <= worst]


def _bounds(known: Levels, rows: Sequence[Row]) -> list[tuple[Bound, Bound]]:
    """The bounds that some rows, which do not contradict, give every item."""
    items, size = known.items, len(known.items)
    closed: list[tuple[Bound | None, Bound | None]] | None = None
    ground = known.ground_of(rows)
    if not _pushed_up(rows):
        closed = closed_bounds(rows, chain(items), size)
    return [
        (
            low or _optimum(ground, at, -1),
            high or _optimum(ground, at, 1),
        )
        for at, (low, high) in enumerate(closed or [(None, None)] * size)
    ]


def _pushed_up(rows: Iterable[Row]) -> bool:
    """Whether a row bounds several items together from below."""
    return any(row.name.startswith("least ") and not row.single for row in rows)


def _optimum(ground: Ground, at: int, sign: int) -> Bound:
    found = ground.greatest({at: Fraction(sign)})
    assert found is not None, "the rows do not contradict"
    return sign * found[0], found[1]
