"""A sheet that pictures are drawn on: vector text, lines and a few plain shapes.

Nothing is told by colour alone. Whatever differs, differs in shape and in words, and
in lightness, so that a print in grey says the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any
from xml.sax.saxutils import escape

from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.text import one_line
from abluent.shell.ground import stages
from abluent.shell.ground.strand import WIDE, Piece, Strand, pieces
from abluent.shell.ground.typeface import FALLBACK, font_css, font_file
from abluent.shell.pictures.faces import Script
from abluent.shell.pictures.glyphs import without_symbols
from abluent.shell.pictures.text import (
    LEADING,
    advance,
    lines_of,
    runs,
    width,
)

INK, SOFT, RULE = "#12263a", "#3d5166", "#9fb0c0"
PAPER, WASH, BRASS = "#fbfaf6", "#dfe8ef", "#8a5a00"
HALF, FAINT = "#c2d2df", "#eef2f3"


@dataclass(frozen=True, slots=True)
class Look:
    """The colours of a picture, and whose it is."""

    ink: str = INK
    paper: str = PAPER
    film: str = "#c88a1e"
    handle: str = ""


_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of a line stands before its place."""
_UNDER = 0.45
"""How much of its colour a layer beneath another has."""
PLAIN = Look()
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
LEAST_CONTRAST = 4.5
"""How far ink and paper must be apart, as the guidelines for web content count it."""


def contrast(first: str, second: str) -> float:
    """Return how far two colours are apart, from 1 to 21."""
    high, low = sorted(map(_light, (first, second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def is_darker(one: str, other: str) -> bool:
    """Return whether a colour is darker than another."""
    return _light(one) < _light(other)


def blend(under: str, over: str, share: float) -> str:
    """Return a colour with a share of another laid over it."""
    pairs = [(int(under[n : n + 2], 16), int(over[n : n + 2], 16)) for n in (1, 3, 5)]
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def look_of(ink: str = "", paper: str = "", handle: str = "") -> Look:
    """Return the look of a picture, its colours checked; empty ones are the usual.

    Raises:
        CommandError: a colour is none, or text in these could hardly be read.
    """
    ink, paper = ink or INK, paper or PAPER
    for colour in (ink, paper):
        if not _COLOUR.fullmatch(colour):
            what = f'"{colour}" is no colour'
            raise CommandError(Problem(what, hint="write it as #12263a"))
    far = contrast(ink, paper)
    if far < LEAST_CONTRAST:
        what = f"{ink} on {paper} can hardly be read: {far:.1f} to 1"
        hint = f"choose two that are {LEAST_CONTRAST} to 1 apart or more"
        raise CommandError(Problem(what, hint=hint))
    return Look(ink, paper, handle=handle.strip())


def _light(colour: str) -> float:
    parts = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
    red, green, blue = (
        p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@dataclass(frozen=True, slots=True)
class Style:
    """How text is set."""

    size: float
    bold: bool = False
    fill: str = INK
    anchor: str = "start"


class Sheet:
    """One picture in the making; the origin is the top left corner.

    Args:
        wide, high: in pixels.
        title: what the picture shows, for those who hear it.
        told: the whole content in words, for those who hear it.
    """

    def __init__(
        self,
        wide: float,
        high: float,
        title: str,
        told: str = "",
        paper: str = PAPER,
    ) -> None:
        import drawsvg

        self._svg = drawsvg
        self.wide, self.high = wide, high
        self._drawing = drawsvg.Drawing(wide, high, role="img", font_family=FALLBACK)
        self._drawing.append(drawsvg.Title(one_line(title)))
        if told:
            described = f"<desc>{escape(one_line(told))}</desc>"
            self._drawing.append(drawsvg.Raw(described))
        self._plain: set[str] = set()
        self._bold: set[str] = set()
        self._left_out: set[str] = set()
        self.box(0, 0, wide, high, fill=paper)

    def text(self, x: float, y: float, text: str, style: Style) -> None:
        """Set one line; `y` is its base line."""
        whole = one_line(text)
        shown = without_symbols(whole)
        self._left_out.update(set(whole) - set(shown))
        (self._bold if style.bold else self._plain).update(shown)
        parts = runs(shown)
        if len(parts) < 2 and all(part.script is None for part in parts):
            self._run(x, y, shown, style)
            return
        x -= width(shown, style.size, bold=style.bold) * _BEFORE[style.anchor]
        for part in parts:
            # A leading space would be dropped, so it is a step.
            word = part.text.lstrip(" ")
            gap = part.text[: len(part.text) - len(word)]
            x += advance(gap, style.size, bold=style.bold)
            self._run(x, y, word, replace(style, anchor="start"), part.script)
            x += advance(word, style.size, bold=style.bold)

    def _run(
        self, x: float, y: float, text: str, style: Style, script: Script | None = None
    ) -> None:
        how: dict[str, Any] = {}
        if script is not None:
            families = ", ".join(f"'{each}'" for each in script.families)
            how["font_family"] = f"{families}, sans-serif"
        self._drawing.append(
            self._svg.Text(
                text,
                style.size,
                x,
                y,
                fill=style.fill,
                text_anchor=style.anchor,
                font_weight=600 if style.bold else 400,
                **how,
            )
        )

    def paragraph(  # noqa: PLR0913 - a place, a width, a text and how it is set
        self,
        x: float,
        top: float,
        room: float,
        text: str,
        style: Style,
        *,
        most: int = 0,
    ) -> float:
        """Set a paragraph below `top`; return where it ends."""
        for line in lines_of(text, room, style.size, bold=style.bold, most=most):
            self.text(x, top + style.size, line, style)
            top += style.size * LEADING
        return top

    def box(self, x: float, y: float, wide: float, high: float, **how: Any) -> None:
        """Draw a rectangle."""
        how = {"fill": "none", **how}
        self._drawing.append(self._svg.Rectangle(x, y, wide, high, **how))

    def line(self, points: list[tuple[float, float]], **how: Any) -> None:
        """Draw a line through some points."""
        flat = [value for point in points for value in point]
        how = {"stroke": RULE, "stroke_width": 2, "fill": "none", **how}
        self._drawing.append(self._svg.Lines(*flat, **how))

    def strand(
        self, place: tuple[float, float], wide: float, strand: Strand, look: Look
    ) -> None:
        """Draw the mark of a verdict; see `ground/strand.py`.

        Args:
            place: the top left corner.
            wide: how wide; it is two fifths as high.
            strand: what to draw.
            look: the colours.
        """
        found = pieces(strand, scales=wide > 2 * WIDE)
        self._pieces(found, place, wide / WIDE, look)

    def stage(
        self, place: tuple[float, float], wide: float, words: Iterable[str], look: Look
    ) -> None:
        """Draw one stage of what happens on a strand; see `ground/stages.py`.

        Args:
            place: the top left corner.
            wide: how wide; it is half as high.
            words: what is drawn.
            look: the colours.
        """
        self._pieces(stages.stage_pieces(words), place, wide / stages.WIDE, look)

    def _pieces(
        self,
        found: Iterable[Piece],
        place: tuple[float, float],
        scale: float,
        look: Look,
    ) -> None:
        x, y = place
        dark, light = look.ink, look.paper
        group = self._svg.Group(transform=f"translate({x:g},{y:g}) scale({scale:g})")
        line: dict[str, Any] = {"fill": "none", "stroke": dark}
        how: dict[str, dict[str, Any]] = {
            "shaft": {"fill": dark},
            "scale": {"fill": "none", "stroke": light, "stroke_width": 1.5},
            "film": {"fill": look.film, "stroke": dark, "stroke_width": 1.2},
            "under": {
                "fill": blend(light, look.film, _UNDER),
                "stroke": dark,
                "stroke_width": 1.2,
            },
            "unknown": {
                "fill": "none",
                "stroke": look.film,
                "stroke_width": 5,
                "stroke_linecap": "round",
                "stroke_dasharray": "0.1 9.5",
            },
            "rising": {**line, "stroke_width": 2.5},
            "ring": {**line, "fill": light, "stroke_width": 1.8},
            "water": {**line, "stroke_width": 2.2},
            "speck": {**line, "fill": light, "stroke_width": 2.2},
            "grip": {**line, "stroke_width": 3.2},
        }
        for kind, path in found:
            group.append(self._svg.Path(d=path, class_=f"strand-{kind}", **how[kind]))
        self._drawing.append(group)

    def texts(self) -> str:
        """Every letter that was to be set."""
        return "".join(sorted(self._plain | self._bold | self._left_out))

    def bare(self) -> str:
        """Return the picture as SVG without its typeface."""
        return str(self._drawing.as_svg())

    def svg(self) -> str:
        """Return the picture as SVG that needs nothing else."""
        self._drawing.append_css(font_css(sorted(self._plain), sorted(self._bold)))
        return f"{self._drawing.as_svg()}\n"

    def png(self, wide: int = 0) -> bytes:
        """Return the picture as PNG, `wide` pixels wide; as drawn if zero."""
        import resvg_py

        return bytes(
            resvg_py.svg_to_bytes(
                svg_string=self.bare(),
                width=wide or None,
                font_files=[font_file(False), font_file(True)],
                sans_serif_family="Source Sans Pro",
            )
        )
