"""The paper of a card: where its text may stand, and what lies behind it.

A phone lays its controls over the top, the right and the bottom of an upright picture.
There the picture has a ground of its own, so that the card on it looks whole.
"""

from __future__ import annotations

from typing import NamedTuple

from abluent.shell.pictures.shapes import Shape
from abluent.shell.pictures.sheet import Look, Sheet, Style, blend, is_darker

_AROUND = 44.0
_GROUND, _AT_NIGHT = 0.86, 0.16
"""How much ink is in the ground behind an upright card; little if the ink is light."""


class Frame(NamedTuple):
    """Where things may stand."""

    sheet: Sheet
    shape: Shape
    look: Look

    @property
    def left(self) -> float:
        """Where a line begins."""
        return self.shape.margins[3]

    @property
    def room(self) -> float:
        """How long a line may be."""
        return self.shape.wide - self.shape.margins[1] - self.shape.margins[3]

    def style(self, size: float, *, bold: bool = False) -> Style:
        """How text of a size is set."""
        return Style(size, bold=bold, fill=self.look.ink)

    def rule(self, y: float) -> None:
        """Draw a line across."""
        ends = [(self.left, y), (self.left + self.room, y)]
        self.sheet.line(ends, stroke=self.look.ink, stroke_width=2)


def framed(shape: Shape, look: Look, title: str, told: str) -> Frame:
    """Return an empty card of a shape.

    Args:
        shape: the shape.
        look: its colours.
        title: what it shows, for those who hear it.
        told: the whole content in words.
    """
    upright = shape.high > 1.6 * shape.wide
    share = _GROUND if is_darker(look.ink, look.paper) else _AT_NIGHT
    ground = blend(look.paper, look.ink, share) if upright else look.paper
    sheet = Sheet(shape.wide, shape.high, title, told, ground)
    if upright:
        top, _, end, left = shape.margins
        y = top - _AROUND * 1.4
        wide = shape.wide - left
        high = shape.high - top - end + _AROUND * 2.4
        sheet.box(left / 2, y, wide, high, fill=look.paper, rx=26)
    return Frame(sheet, shape, look)
