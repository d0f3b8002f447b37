"""A strand with a film as thick as there is of it: what is sure, and what may be."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from abluent.shell.pictures.framed import Frame

_SHAFT, _STEP = 0.24, 13.0
_THIN = 5.0
"""How thick the least film is drawn, so that it is seen."""
_DOTS: dict[str, Any] = {
    "stroke_width": 7,
    "stroke_linecap": "round",
    "stroke_dasharray": "0.1 15",
}


def draw_film(
    frame: Frame,
    amount: tuple[Fraction, Fraction],
    top: Fraction,
    place: tuple[float, float],
    size: tuple[float, float],
) -> None:
    """Draw a strand with its film on both sides, as thick as there is of it."""
    (x, y), (wide, tall) = place, size
    shaft, middle = tall * _SHAFT, y + tall / 2
    most = (tall - shaft) / 2
    sure, may = (max(_THIN, float(a / top) * most) if a else 0.0 for a in amount)
    look = frame.look
    frame.sheet.box(x, middle - shaft / 2, wide, shaft, fill=look.ink)
    for side in (-1, 1):
        edge = middle + side * shaft / 2
        if sure:
            begin = min(edge, edge + side * sure)
            how: dict[str, Any] = {"stroke": look.ink, "stroke_width": 1.5}
            frame.sheet.box(x, begin, wide, sure, fill=look.film, **how)
        for at in _dotted(sure, may):
            ends = [(x + 5, edge + side * at), (x + wide - 5, edge + side * at)]
            frame.sheet.line(ends, stroke=look.film, **_DOTS)


def _dotted(sure: float, may: float) -> list[float]:
    """How far from the shaft lines of dots stand between two thicknesses."""
    lines = round((may - sure) / _STEP) or int(may > sure)
    return [sure + (may - sure) * (n + 0.5) / lines for n in range(lines)]
