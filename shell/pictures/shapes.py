"""The shapes of a picture: for a phone, a screen, a sheet."""

from __future__ import annotations

from typing import NamedTuple


class Shape(NamedTuple):
    """A shape of a picture, in pixels.

    `body` and `small` are the least sizes of its text; `margins` are those of top,
    right, bottom and left, wide enough for what a phone lays over a picture.
    """

    wide: int
    high: int
    body: float
    small: float
    margins: tuple[float, float, float, float]


SHAPES = {
    "16:9": Shape(1920, 1080, 63, 63, (56, 80, 40, 80)),
    "9:16": Shape(1080, 1920, 40, 36, (250, 130, 350, 84)),
    "1:1": Shape(1080, 1080, 38, 36, (56, 62, 44, 62)),
    "A4": Shape(1240, 1754, 28, 25, (90, 90, 80, 90)),
}
"""At a phone's width of 375 no text of a picture is below 12: the body of 9:16 and
1:1 is 13 high and that of 16:9 is 12, and the small print of each is 12. A4 is
a sheet to print, at 150 dots an inch: its body is 13 points and more."""
BROAD = "16:9"
"""The shape that is broad and low: what is drawn there has little room above it."""
SHEET = "A4"
"""The shape that is printed: it has every reason, and its sources by name."""
