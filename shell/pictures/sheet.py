"""A sheet that pictures are drawn on: vector text, lines and a few plain shapes.

Nothing is told by colour alone. Whatever differs, differs in shape and in words, and
in lightness, so that a print in grey says the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from xml.sax.saxutils import escape

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS, GONE
from abluent.grammar.common.text import one_line
from abluent.shell.pictures.text import FALLBACK, LEADING, font_css, font_file, lines_of

INK, SOFT, RULE = "#12263a", "#3d5166", "#9fb0c0"
PAPER, WASH, BRASS = "#fbfaf6", "#dfe8ef", "#8a5a00"
HALF, FAINT = "#c2d2df", "#eef2f3"


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

    def __init__(self, wide: float, high: float, title: str, told: str = "") -> None:
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
        self.box(0, 0, wide, high, fill=PAPER)

    def text(self, x: float, y: float, text: str, style: Style) -> None:
        """Set one line; `y` is its base line."""
        shown = one_line(text)
        (self._bold if style.bold else self._plain).update(shown)
        self._drawing.append(
            self._svg.Text(
                shown,
                style.size,
                x,
                y,
                fill=style.fill,
                text_anchor=style.anchor,
                font_weight=600 if style.bold else 400,
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

    def circle(self, x: float, y: float, radius: float, **how: Any) -> None:
        """Draw a circle."""
        how = {"fill": "none", "stroke": INK, "stroke_width": 2, **how}
        self._drawing.append(self._svg.Circle(x, y, radius, **how))

    def sign(self, x: float, y: float, radius: float, role: Role, ink: str) -> None:
        """Draw the sign of a verdict.

        What is filled of a disc surely goes. Where the rim is dashed, it is not known
        whether that part goes; where it is whole and nothing is filled, it stays.

        Args:
            x, y: the middle.
            radius: of the disc.
            role: what a verdict says.
            ink: the colour to draw with.
        """
        stroke = max(2.0, radius / 5)
        how = {"stroke": ink, "stroke_width": stroke}
        dashes = {"stroke_dasharray": f"{stroke} {stroke * 1.2}"}
        least, most = ENDS[role]
        if least is most:
            self.circle(x, y, radius, fill=ink if role in GONE else "none", **how)
        else:
            below = dashes if least is Role.NONE_OF_IT else {}
            above = dashes if most is Role.ALL_OF_IT else {}
            self._half(x, y, radius, 0, fill="none", **how, **below)
            self._half(x, y, radius, 1, fill="none", **how, **above)
        if least is Role.PART_OF_IT:
            self._half(x, y, radius, 0, fill=ink)
        if role is Role.AT_MOST_PARTLY:
            self.line([(x - radius, y), (x + radius, y)], **how)
        if role is Role.NO_WASH_NEEDED:
            self.circle(x, y, radius * 1.5, **how)

    def _half(self, x: float, y: float, radius: float, upper: int, **how: Any) -> None:
        """Draw the lower half of a disc, or the upper one."""
        path = self._svg.Path(**how)
        path.M(x - radius, y).A(radius, radius, 0, 0, upper, x + radius, y)
        self._drawing.append(path)

    def svg(self) -> str:
        """Return the picture as SVG that needs nothing else."""
        self._drawing.append_css(font_css(sorted(self._plain), sorted(self._bold)))
        return f"{self._drawing.as_svg()}\n"

    def png(self, wide: int = 0) -> bytes:
        """Return the picture as PNG, `wide` pixels wide; as drawn if zero."""
        import resvg_py

        return bytes(
            resvg_py.svg_to_bytes(
                svg_string=str(self._drawing.as_svg()),
                width=wide or None,
                font_files=[font_file(False), font_file(True)],
                sans_serif_family="Source Sans Pro",
            )
        )
