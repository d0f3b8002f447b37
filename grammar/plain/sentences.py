"""A text as its sentences: what asks, and what is only said before it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

_ENDS = re.compile(r"(?<=[?!])\s+(?=\S)|(?<=[^\W\d_]\.)\s+(?=[A-Z\"\u201c])")
_BREAKS = re.compile(rf"{_ENDS.pattern}|[:;]\s+|\s+[-\u2013\u2014]+\s+")
"""Where a text may break too: it may as well go on there."""
_ASKS = re.compile(
    r"(?:and |but |so |or |now |then |ok |in |on |for |with |to |at |by |from |under |"
    r"after )?"
    r"(?:which|what|why|how|who|whose|where|when|does|do|did|is|are|was|has|can|could|"
    r"will|would|should|shall|may|must|compare|rank|put|give|list|name|explain|tell|"
    r"show|judge|say|describe|isn't|doesn't|can't|won't)\b",
    re.IGNORECASE,
)
_JOINS = re.compile(
    r",?\s+(?:and|or|but|so)\s+(?=(?:if\s+(?:so|not)\s*,?\s+)?(?:which|what|why|how|who|"
    r"where|when|does|do|is|are|can|could|will|would|should)\b)|"
    r",\s+(?=(?:which|what|why|how|who|where|does|do|is|are|can|could|will|would)\b)",
    re.IGNORECASE,
)


_SUPPOSES = re.compile(
    r"(?:what|and|but)?\s*(?:if|suppose|say|imagine)\b", re.IGNORECASE
)


class Sentence(NamedTuple):
    """One sentence, and whether it asks something."""

    text: str
    asks: bool


def sentences(text: str, *, broken: bool = False) -> tuple[Sentence, ...]:
    """The sentences of a text, cut at what ends one, or at every break."""
    parts = [each.strip() for each in (_BREAKS if broken else _ENDS).split(text)]
    return tuple(Sentence(each, asks(each)) for each in parts if each.strip(" .?!"))


def asks(text: str) -> bool:
    """Whether a sentence is a question, or tells to do something."""
    if _SUPPOSES.match(text) and not _JOINS.search(text):
        return False
    return text.endswith("?") or bool(_ASKS.match(text))


def supposes(text: str) -> bool:
    """Whether a sentence only supposes something."""
    return bool(_SUPPOSES.match(text))


def divisions(text: str) -> Iterator[Sequence[str]]:
    """The ways in which a question may be several, the fewest parts first."""
    places = [(each.start(), each.end()) for each in _JOINS.finditer(text)][:4]
    for one in places:
        yield _cut(text, [one])
    if len(places) > 1:
        yield _cut(text, places)


def _cut(text: str, places: Sequence[tuple[int, int]]) -> Sequence[str]:
    starts = [0, *(end for _, end in places)]
    ends = [*(start for start, _ in places), len(text)]
    return [text[a:b].strip() for a, b in zip(starts, ends, strict=True)]
