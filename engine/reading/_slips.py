"""What is taken for what when names are scanned or typed, as the base has it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from abluent.engine.base import files

_SLIPS = "names/spelling_slips.toml"


@dataclass(frozen=True, slots=True)
class Alike:
    """Characters made equal, digits read as letters, and pairs taken for others.

    `scanned` are those of the pairs that scanners take for one another.
    `strokes` makes letters equal that a poor scan does not tell apart.
    `signs` finds a sign between two letters that stands for one of `sign_letters`.
    """

    table: dict[int, str]
    to_letters: dict[int, str]
    digits: frozenset[str]
    pairs: tuple[tuple[str, str], ...]
    scanned: tuple[tuple[str, str], ...]
    strokes: dict[int, str]
    sign_letters: dict[str, str]
    signs: re.Pattern[str]


@cache
def alike() -> Alike:
    """What the base says of slips, read once."""
    slips = files.shipped_table(_SLIPS)
    table = {ord(c): group[-1] for group in slips["alike"] for c in group}
    first = {
        c: next(letter for letter in group if letter.isalpha())
        for group in slips["alike"]
        for c in group
        if not c.isalpha() and any(map(str.isalpha, group))
    }
    to_letters = {ord(c): letter for c, letter in first.items() if c.isdigit()}
    sign_letters = {c: letter for c, letter in first.items() if not c.isdigit()}
    either = "|".join(map(re.escape, sign_letters)) or "(?!)"
    signs = re.compile(rf"(?<=[^\W\d_])(?:{either})(?=[^\W\d_])")
    taken = [(t["why"], (a, b)) for t in slips["taken"] for a, b in t["pairs"]]
    scanned = tuple(pair for why, pair in taken if why == "scanning")
    strokes = {ord(c): table[ord("l")] for c in slips["strokes"]}
    pairs = tuple(pair for _, pair in taken)
    digits = frozenset(map(chr, to_letters))
    return Alike(
        table, to_letters, digits, pairs, scanned, strokes, sign_letters, signs
    )
