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
    "16:9": Shape(1920, 1080, 50, 38, (76, 96, 56, 96)),
    "9:16": Shape(1080, 1920, 46, 32, (250, 130, 350, 84)),
    "1:1": Shape(1080, 1080, 40, 29, (60, 68, 48, 68)),
    "A4": Shape(1240, 1754, 28, 25, (90, 90, 80, 90)),
}
"""At a phone's width of 390, the body of 9:16 is 16 high and that of 1:1 is 14; 16:9 is
meant for a screen, where its body is 10 on a phone held upright and 22 on its side. A4
is a sheet to print, at 150 dots an inch: its body is 13 points and more."""
SHEET = "A4"
"""The shape that is printed: it has every reason, and its sources by name."""
