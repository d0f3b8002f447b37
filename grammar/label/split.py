"""Cutting a text that holds several names without a sign between them.

Every cut asks a `Namer`: a text is only cut where the names on both sides are known
and the whole is not. What nobody knows stays whole.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from abluent.grammar.label.names import Namer, identify
from abluent.grammar.label.words import LabelWords, shadow

_WORD = re.compile(r"\S+")
_UNSLASHED = re.compile(r"[^\s/](?:[^/]*[^\s/])?")
_LONGEST = 9
_LONGEST_UNKNOWN = 4
# A run longer than any name may hold words that nobody knows and be cut all the same.
_LONG_RUN = 9
_UNKNOWN_WORD = 3
_LONGEST_ASIDE = 100


@dataclass(frozen=True, slots=True)
class Run:
    """The stretches of the names in a text, and what joins them.

    `joined` is `word`, `slash`, or empty where nothing does.
    """

    names: tuple[tuple[int, int], ...]
    joined: Literal["", "word", "slash"] = ""


def run_on(text: str, words: LabelWords, namer: Namer, *, last: bool = False) -> Run:
    """The names in a run, or the whole where it is one name.

    Args:
        text: a name or a run of names, cleaned.
        words: the words of labels; those that join two names are dropped.
        namer: tells names.
        last: whether the text ends a list, so that an "and" in it parts two names
            though only one may be known.
    """
    spans = [found.span() for found in _WORD.finditer(text)]
    whole = Run(((spans[0][0], spans[-1][1]),) if spans else ())
    single = len(spans) < 2 and "/" not in text
    if single or identify(text, namer) is not None:
        return whole
    if joined := _at_connectors(text, spans, words, namer, last):
        return Run(tuple(joined), "word")
    if joined := _at_slashes(text, namer):
        return Run(tuple(joined), "slash")
    if namer.readable(text):
        return whole
    pieces = _cheapest(text, spans, namer)
    return Run(tuple(pieces)) if pieces else whole


def _at_connectors(
    text: str,
    spans: Sequence[tuple[int, int]],
    words: LabelWords,
    namer: Namer,
    last: bool,
) -> list[tuple[int, int]]:
    """Cut at every `and` or `&`, if a name is known on both sides of each."""
    groups: list[list[tuple[int, int]]] = [[]]
    for start, end in spans:
        word = text[start:end]
        # `E` is the letter of a vitamin, `e` joins two names.
        joins = len(word) > 1 or not word.isupper()
        if joins and shadow(word) in words.connectors:
            groups.append([])
        else:
            groups[-1].append((start, end))
    stretches = [(group[0][0], group[-1][1]) for group in groups if group]
    if len(groups) == 1:
        return []
    named = [s for s in stretches if not _is_aside(text[slice(*s)], words)]
    known = [identify(text[slice(*s)], namer) is not None for s in named]
    short = all(len(group) <= _LONGEST_UNKNOWN for group in groups)
    return named if all(known) or (last and short and any(known)) else []


def _at_slashes(text: str, namer: Namer) -> list[tuple[int, int]]:
    """Cut at every slash, if it parts names of different things."""
    if "/" not in text or namer.readable(text):
        return []
    names = [found.span() for found in _UNSLASHED.finditer(text)]
    things = [identify(text[slice(*span)], namer) for span in names]
    return names if len(set(things)) > 1 and None not in things else []


def _is_aside(text: str, words: LabelWords) -> bool:
    short = len(text) <= _LONGEST_ASIDE
    return short and words.aside.fullmatch(shadow(text)) is not None


def _cheapest(
    text: str, spans: Sequence[tuple[int, int]], namer: Namer
) -> list[tuple[int, int]]:
    """The fewest known names that make up the run, by dynamic programming.

    In a run longer than any name, words in between may be unknown; they then stay
    together as one name.
    """
    count = len(spans)
    long_run = count > _LONG_RUN
    cost: list[int | None] = [0] + [None] * count
    back: list[tuple[int, bool]] = [(0, False)] * (count + 1)
    for end in range(1, count + 1):
        for start in range(max(0, end - _LONGEST), end):
            before = cost[start]
            if before is None:
                continue
            piece = text[spans[start][0] : spans[end - 1][1]]
            known = identify(piece, namer) is not None
            if not known and not (long_run and start == end - 1):
                continue
            price = before + (1 if known else _UNKNOWN_WORD)
            reached = cost[end]
            if reached is None or price < reached:
                cost[end], back[end] = price, (start, known)
    return [] if cost[count] is None else _walk_back(spans, back)


def _walk_back(
    spans: Sequence[tuple[int, int]], back: Sequence[tuple[int, bool]]
) -> list[tuple[int, int]]:
    pieces: list[tuple[int, int, bool]] = []
    end = len(spans)
    while end:
        start, known = back[end]
        if pieces and not known and not pieces[-1][2]:
            pieces[-1] = (start, pieces[-1][1], False)
        else:
            pieces.append((start, end, known))
        end = start
    known_pieces = sum(known for _, _, known in pieces)
    if known_pieces < 2:
        return []
    return [(spans[start][0], spans[end - 1][1]) for start, end, _ in reversed(pieces)]
