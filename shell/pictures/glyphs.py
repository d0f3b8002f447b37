"""Which letters of a picture cannot be drawn here, so that nobody posts an empty box.

Pictures carry one open typeface. A letter that it lacks is drawn with a typeface of
this machine that has it, and in a vector picture with one of the machine that shows
it. Where no typeface here has it, a box would stand there, and that is told.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import cache

from abluent.grammar.common.text import one_line
from abluent.shell.ground.typeface import font_file
from abluent.shell.pictures.text import carried

_JOINERS = "\u200d\ufe0f"  # what only joins or colours symbols
_NONE = "\U000fffff"  # a letter that no typeface has
_SIZE = 48


def undrawable(texts: Iterable[str]) -> list[str]:
    """Return the letters of some texts that nothing here can draw, each once."""
    letters = dict.fromkeys(letter for text in texts for letter in one_line(text))
    foreign = [each for each in letters if not carried(each) and each.isprintable()]
    return [each for each in foreign if _drawn(each) == _drawn(_NONE)]


def without_symbols(text: str) -> str:
    """Return a text without the symbols, such as emoji, that nothing here can draw.

    A letter of a name is kept: a name without it would be another.
    """
    if all(map(carried, text)):
        return text
    gone = {each for each in undrawable([text]) if _is_symbol(each)}
    if not gone:
        return text
    kept = "".join(" " if each in gone else each for each in text)
    return " ".join(kept.split())


def _is_symbol(letter: str) -> bool:
    return unicodedata.category(letter) in {"So", "Sk"} or letter in _JOINERS


def warning(texts: Iterable[str]) -> str:
    """Return what to say of the letters that cannot be drawn; empty if all can."""
    missing = undrawable(texts)
    if not missing:
        return ""
    named = " ".join(f"“{each}” (U+{ord(each):04X})" for each in missing[:8])
    more = f" and {len(missing) - 8} more" if len(missing) > 8 else ""
    boxes = not all(map(_is_symbol, missing))
    what = "an empty box would stand there" if boxes else "it is left out"
    return (
        f"No typeface on this machine draws {named}{more}: {what}. "
        "Install one that has them, such as a Noto font, or write it otherwise."
    )


@cache
def _drawn(letter: str) -> bytes:
    import resvg_py

    # Half a character is no text at all.
    shown = letter.encode("utf-8", "replace").decode("utf-8")
    shown = {"&": "&amp;", "<": "&lt;"}.get(shown, shown)
    svg = (
        f"<svg xmlns='http://www.w3.org/2000/svg' width='{2 * _SIZE}' "
        f"height='{2 * _SIZE}'><text x='8' y='{_SIZE * 1.4}' font-size='{_SIZE}' "
        f"font-family='Source Sans Pro'>{shown}</text></svg>"
    )
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            font_files=[font_file(False)],
            sans_serif_family="Source Sans Pro",
        )
    )
