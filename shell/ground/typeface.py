"""The typeface of pictures and pages: one open font, of which each carries its letters.

So they look alike everywhere. Where the font is not installed a page names the faces
that come next, and a picture cannot be drawn.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterable
from functools import cache
from importlib.util import find_spec

FAMILY = "Source Sans Pro"
FALLBACK = f"'{FAMILY}', 'Source Sans 3', 'Segoe UI', 'DejaVu Sans', sans-serif"
_PLAIN = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180))))
_SIGNS = "\u2010\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2192\u2212\u03b1\u03b2"
OF_A_PAGE = _PLAIN + _SIGNS
"""The letters that every page carries, whatever it says; others are the machine's."""


def font_file(bold: bool) -> str:
    """Return the path of the font."""
    import font_source_sans_pro as fonts

    folder = fonts.font_directory
    return f"{folder}/SourceSansPro-{'Semibold' if bold else 'Regular'}.ttf"


@cache
def page_font_css() -> str:
    """Return style rules that hold the letters of a page; empty without the font."""
    if find_spec("font_source_sans_pro") is None or find_spec("fontTools") is None:
        return ""
    return font_css([OF_A_PAGE], [OF_A_PAGE])


def font_css(plain: Iterable[str], bold: Iterable[str]) -> str:
    """Return style rules that hold the letters of some texts."""
    return "".join(
        _face("".join(texts), weight == 600, weight)
        for texts, weight in ((plain, 400), (bold, 600))
    )


def _face(text: str, bold: bool, weight: int) -> str:
    from fontTools import subset
    from fontTools.ttLib import TTFont

    if not text:
        return ""
    options = subset.Options(flavor="woff", hinting=False, desubroutinize=True)
    options.layout_features = ["kern"]
    font = TTFont(font_file(bold), recalcTimestamp=False)
    chooser = subset.Subsetter(options)
    chooser.populate(text=text)
    chooser.subset(font)
    font.flavor = "woff"
    out = io.BytesIO()
    font.save(out)
    data = base64.b64encode(out.getvalue()).decode("ascii")
    source = f"url(data:font/woff;base64,{data})"
    return f"@font-face{{font-family:'{FAMILY}';font-weight:{weight};src:{source}}}"
