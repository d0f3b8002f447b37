"""The mark of a verdict: a strand of hair along its length, with its film on it.

What is drawn of the film surely stays; what is dotted may stay or go, as nobody knows;
where the strand is bare, the film is gone. The film has two halves: the first is the
part that goes soonest. In text the same two halves are one letter each.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS


class Half(Enum):
    """What is known of one half of a film after a wash."""

    STAYS = "="
    NOBODY_KNOWS = "?"
    GONE = "-"


class Strand(NamedTuple):
    """The two halves of a film; `rises` if it goes by itself."""

    first: Half
    second: Half
    rises: bool = False

    @property
    def text(self) -> str:
        """The mark in letters."""
        return "~~" if self.rises else f"{self.first.value}{self.second.value}"


LEFT = Strand(Half.STAYS, Half.STAYS)
"""What surely is left."""
MAY_BE_LEFT = Strand(Half.NOBODY_KNOWS, Half.NOBODY_KNOWS)
"""What may be left."""

_FIRST = {Role.PART_OF_IT: Half.GONE, Role.ALL_OF_IT: Half.GONE}
_SECOND = {Role.NONE_OF_IT: Half.STAYS, Role.PART_OF_IT: Half.STAYS}


def strand_of(role: Role) -> Strand:
    """Return the mark of a verdict."""
    least, most = ENDS[role]
    if role is Role.NO_WASH_NEEDED:
        return Strand(Half.GONE, Half.GONE, rises=True)
    kept = Half.STAYS if most is Role.NONE_OF_IT else Half.NOBODY_KNOWS
    gone = Half.GONE if least is Role.ALL_OF_IT else Half.NOBODY_KNOWS
    return Strand(_FIRST.get(least, kept), _SECOND.get(most, gone))


class Piece(NamedTuple):
    """A stroke or a filled shape of a mark, as an SVG path in a box of 120 by 48.

    `kind` is `shaft`, `scale`, `film`, `unknown` or `rising`.
    """

    kind: str
    path: str


WIDE, HIGH = 120, 48
EDGE = 4
"""How much of a mark is empty on its left and right."""
_LEFT, _RIGHT, _MIDDLE = EDGE, WIDE - EDGE, 60
_UPPER, _LOWER = 16, 32  # the edges of the shaft
_THICK = 8  # of the film


def pieces(strand: Strand, *, scales: bool) -> Iterator[Piece]:
    """Yield what a mark is made of, in the order to draw it.

    Args:
        strand: what to draw.
        scales: whether the scales of the strand are drawn, where it is large.
    """
    yield Piece("shaft", f"M{_LEFT} {_UPPER}H{_RIGHT}V{_LOWER}H{_LEFT}Z")
    if scales:
        for x in range(_LEFT + 10, _RIGHT, 14):
            yield Piece("scale", f"M{x} {_UPPER}l-6 5M{x} {_LOWER}l-6 -5")
    halves: tuple[tuple[Half, int, int], ...]
    halves = ((strand.first, _LEFT, _MIDDLE), (strand.second, _MIDDLE, _RIGHT))
    if strand.first is strand.second:
        halves = ((strand.first, _LEFT, _RIGHT),)
    for half, start, end in halves:
        if half is not Half.GONE:
            yield from _film(half, start, end)
    if strand.rises:
        for x in (30, 60, 90):
            yield Piece("rising", f"M{x} 12q-4 -3 0 -6t0 -5")


def _film(half: Half, start: int, end: int) -> Iterator[Piece]:
    kind = "film" if half is Half.STAYS else "unknown"
    for near, far in ((_UPPER - 1, _UPPER - 1 - _THICK), (_LOWER + 1, _LOWER + 9)):
        if half is Half.STAYS:
            yield Piece(kind, f"M{start} {near}H{end}V{far}H{start}Z")
        else:
            middle = (near + far) / 2
            yield Piece(kind, f"M{start + 5} {middle}H{end - 6}")


def strand_svg(strand: Strand, wide: float, *, said: str = "") -> str:
    """Return a mark as SVG that a style sheet colours by the classes of its pieces.

    Args:
        strand: what to draw.
        wide: in pixels.
        said: what it says to who cannot see it; nothing if words stand beside it.
    """
    from xml.sax.saxutils import quoteattr

    heard = f"role='img' aria-label={quoteattr(said)}" if said else "aria-hidden='true'"
    drawn = "".join(
        f"<path class='strand-{each.kind}' d='{each.path}'/>"
        for each in pieces(strand, scales=wide > WIDE)
    )
    high = round(wide * HIGH / WIDE)
    return (
        f"<svg class='strand' viewBox='0 0 {WIDE} {HIGH}' width='{wide:g}' "
        f"height='{high}' {heard} focusable='false'>{drawn}</svg>"
    )
