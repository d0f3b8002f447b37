"""Names and phrases brought to one form, so that case and punctuation don't matter."""

from __future__ import annotations

import re
import unicodedata

_GAPS = re.compile(r"[\W_]+")


def fold(text: str) -> str:
    """Lower case, accents off, and one space for every run of punctuation."""
    if not text.isascii():
        parts = unicodedata.normalize("NFKD", text)
        text = "".join(c for c in parts if not unicodedata.combining(c))
    return _GAPS.sub(" ", text.casefold()).strip()


def singulars(phrase: str) -> list[str]:
    """The folded phrase and what it may be the plural of, likeliest first."""
    forms = [phrase]
    if phrase.endswith("ies"):
        forms.append(phrase[:-3] + "y")
    if phrase.endswith("es"):
        forms.append(phrase[:-2])
    if phrase.endswith("s"):
        forms.append(phrase[:-1])
    return forms
