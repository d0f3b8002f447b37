"""What stages on a strand are drawn with: a strand in section and what lies around it.

Each word of `SHAPES` adds one thing to a bare strand. The base says in these words how
a stage looks, and knows what it means; here they are shapes and no more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from abluent.shell.ground.strand import Piece

WIDE, HIGH = 240, 96
"""The box that a stage is drawn in."""
_LEFT, _RIGHT = 4, WIDE - 4
_UPPER, _LOWER = 37, 59  # the edges of the shaft
_THIN, _USUAL, _THICK = 4, 9, 17
_MIDDLE = WIDE // 2


def stage_pieces(words: Iterable[str]) -> Iterator[Piece]:
    """Yield what a stage is made of, in the order to draw it.

    Args:
        words: words of `SHAPES`.
    """
    yield Piece("shaft", f"M{_LEFT} {_UPPER}H{_RIGHT}V{_LOWER}H{_LEFT}Z")
    for x in range(_LEFT + 16, _RIGHT, 20):
        yield Piece("scale", f"M{x} {_UPPER}l-8 6M{x} {_LOWER}l-8 -6")
    for word in words:
        yield from SHAPES[word]()


def _coat(
    thick: int,
    start: int = _LEFT,
    end: int = _RIGHT,
    *,
    off: int = 1,
    kind: str = "film",
) -> Iterator[Piece]:
    """A layer of a thickness on both sides, so far off the shaft."""
    for near, far in (
        (_UPPER - off, _UPPER - off - thick),
        (_LOWER + off, _LOWER + off + thick),
    ):
        yield Piece(kind, f"M{start} {near}H{end}V{far}H{start}Z")


def _patches() -> Iterator[Piece]:
    for start, end in ((_LEFT, 44), (86, 122), (178, 214)):
        yield from _coat(_USUAL, start, end)


def _inner() -> Iterator[Piece]:
    yield from _coat(_USUAL, kind="under")


def _outer() -> Iterator[Piece]:
    yield from _coat(_USUAL, off=_USUAL + 2)


def _dotted() -> Iterator[Piece]:
    for y in (_UPPER - 7, _LOWER + 7):
        yield Piece("unknown", f"M{_LEFT + 5} {y}H{_RIGHT - 5}")


def _drops() -> Iterator[Piece]:
    """Low drops that sit on the strand."""
    for x in range(20, WIDE - 30, 40):
        yield Piece("film", f"M{x - 13} {_UPPER - 1}a13 9 0 0 1 26 0Z")
        yield Piece("film", f"M{x + 7} {_LOWER + 1}a13 9 0 0 0 26 0Z")


def _lifted() -> Iterator[Piece]:
    """Pieces of a layer that float off."""
    for x, y in ((24, 12), (104, 4), (186, 14), (62, 82), (146, 86)):
        yield Piece("film", f"M{x} {y}h26v8h-26Z")


def _rings(places: Iterable[tuple[int, int, int]]) -> Iterator[Piece]:
    for x, y, r in places:
        yield Piece(
            "ring", f"M{x - r} {y}a{r} {r} 0 1 0 {2 * r} 0a{r} {r} 0 1 0 {-2 * r} 0"
        )


def _lather() -> Iterator[Piece]:
    above = ((14, 17, 8), (40, 11, 10), (70, 18, 8), (94, 9, 8), (130, 15, 10))
    more = ((158, 9, 8), (178, 20, 7), (206, 12, 10), (230, 19, 7))
    below = ((20, 80, 9), (50, 86, 8), (80, 78, 7), (112, 85, 9), (140, 77, 7))
    last = ((170, 85, 9), (200, 78, 8), (228, 86, 7))
    yield from _rings((*above, *more, *below, *last))


def _little_lather() -> Iterator[Piece]:
    yield from _rings(((40, 9, 6), (150, 8, 6), (96, 88, 6)))


def _water() -> Iterator[Piece]:
    for y in (8, 18, 78, 88):
        waves = "".join("q10 -6 20 0t20 0" for _ in range(5))
        yield Piece("water", f"M18 {y}{waves}")


def _specks(places: Iterable[tuple[int, int]], kind: str = "speck") -> Iterator[Piece]:
    for x, y in places:
        yield Piece(kind, f"M{x} {y - 8}l8 8l-8 8l-8 -8Z")


def _within() -> Iterator[Piece]:
    yield from _specks(((40, 48), (90, 48), (150, 48), (200, 48)), "speck")


def _around() -> Iterator[Piece]:
    yield from _specks(((30, 28), (92, 28), (154, 28), (216, 28)), "speck")
    yield from _specks(((60, 68), (122, 68), (184, 68)), "speck")


_HELD = ((44, 15), (124, 15), (204, 15), (84, 81), (168, 81))


def _held() -> Iterator[Piece]:
    """Specks in a grip, away from the strand."""
    yield from _specks(_HELD)
    for x, y in _HELD:
        yield Piece("grip", f"M{x + 4} {y - 14}a14 14 0 1 0 0 28")


def _rising() -> Iterator[Piece]:
    for x in (36, 84, 132, 180):
        yield Piece("rising", f"M{x} 26q-7 -6 0 -11t0 -11")


SHAPES: Mapping[str, Callable[[], Iterator[Piece]]] = {
    "around": _around,
    "coat": lambda: _coat(_USUAL),
    "dotted": _dotted,
    "drops": _drops,
    "grip": _held,
    "half": lambda: _coat(_USUAL, _MIDDLE, _RIGHT),
    "inner": _inner,
    "lather": _lather,
    "lifted": _lifted,
    "outer": _outer,
    "patches": _patches,
    "rising": _rising,
    "some lather": _little_lather,
    "thick": lambda: _coat(_THICK),
    "thin": lambda: _coat(_THIN),
    "water": _water,
    "within": _within,
}
"""What can be drawn on, in and around a strand, by the words for it."""
