"""Hyphens at the ends of lines: part of the name, or put there by the printer."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import product

from abluent.grammar.label.clean import BREAK, Clean
from abluent.grammar.label.names import Namer, identify

_AROUND = re.compile(rf"[^,;•·|\n()]*{BREAK}[^,;•·|\n()]*")
_MOST_TRIED = 4
_LONGEST = 200


def settle_breaks(cleaned: Clean, namer: Namer) -> Clean:
    """Keep or drop each hyphen at the end of a line.

    A name that is known with or without its hyphens decides. Otherwise a hyphen
    stays before a digit, and before a capital that follows a small letter.
    """
    if BREAK not in cleaned.text:
        return cleaned
    kept: set[int] = set()
    for found in _AROUND.finditer(cleaned.text):
        kept.update(_kept(cleaned.text, found.start(), found.end(), namer))
    return _rebuilt(cleaned, kept)


def _kept(text: str, start: int, end: int, namer: Namer) -> Iterable[int]:
    breaks = [at for at in range(start, end) if text[at] == BREAK]
    if len(breaks) <= _MOST_TRIED and end - start <= _LONGEST:
        for choice in product((False, True), repeat=len(breaks)):
            kept = {at for at, keep in zip(breaks, choice, strict=True) if keep}
            name = "".join(
                ("-" if at in kept else "") if text[at] == BREAK else text[at]
                for at in range(start, end)
            )
            if identify(name.strip(), namer) is not None:
                return kept
    return [at for at in breaks if _looks_kept(text, at)]


def _looks_kept(text: str, at: int) -> bool:
    before, after = text[at - 1 : at], text[at + 1 : at + 2]
    locant = before.isdigit() and after.isalpha()
    return locant or after.isdigit() or (before.islower() and after.isupper())


def _rebuilt(cleaned: Clean, kept: set[int]) -> Clean:
    order = [at for at, char in enumerate(cleaned.text) if char != BREAK or at in kept]
    moved = {at: new for new, at in enumerate(order) if at in cleaned.alike}
    return Clean(
        "".join("-" if at in kept else cleaned.text[at] for at in order),
        [cleaned.starts[at] for at in order],
        [cleaned.ends[at] for at in order],
        frozenset(moved.values()),
    )
