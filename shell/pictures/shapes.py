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
    "16:9": Shape(1920, 1080, 60, 60, (70, 90, 50, 90)),
    "9:16": Shape(1080, 1920, 46, 34, (250, 130, 350, 84)),
    "1:1": Shape(1080, 1080, 40, 34, (60, 68, 48, 68)),
    "A4": Shape(1240, 1754, 28, 25, (90, 90, 80, 90)),
}
"""At a phone's width of 360 no text of a picture is below 11: the body of 9:16 is 15
high, that of 1:1 is 13 and that of 16:9 is 11, and the small print of each is 11. A4 is
a sheet to print, at 150 dots an inch: its body is 13 points and more."""
SHEET = "A4"
"""The shape that is printed: it has every reason, and its sources by name."""
