"""`X is the only Y that …`, `X are the only thing that …` as `only X …`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.noun import Noun, Part
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_LEADS = ("is", "are", "the")


def alone(
    parts: Sequence[Part], pieces: Sequence[Piece], verbal: frozenset[str]
) -> list[Part]:
    """The parts of a clause, with a noun that is said to be alone as `only` it.

    Args:
        parts: the parts.
        pieces: the pieces that they are made of.
        verbal: the sections of words that say what is done.
    """
    for at, one in enumerate(parts):
        if not isinstance(one, Noun):
            continue
        size, last = _said_alone(parts[at + 1 : at + 3], pieces, one)
        rest = [p for p in parts[at + 1 + size :] if isinstance(p, Piece)]
        if size and any(p.entry.section in verbal for p in rest):
            merged = replace(one, quantity=q.Quantity.ONLY, last=last)
            return [*parts[:at], merged, *parts[at + 1 + size :]]
    return list(parts)


def _said_alone(
    after: Sequence[Part], pieces: Sequence[Piece], one: Noun
) -> tuple[int, int]:
    """How many parts after a noun say that it is alone, and where they end."""
    first = after[0] if after else None
    second = after[1] if len(after) > 1 else None
    if isinstance(first, Noun):
        leading = pieces[first.first : first.last + 1][:1]
        led = bool(leading) and leading[0].words[0] in _LEADS
        only = first.quantity is q.Quantity.ONLY and led
        return (1, first.last) if only else (0, 0)
    if first is None:
        return 0, 0
    if isinstance(second, Noun):
        if first.does("verb:be", "quantity:only"):
            if second.quantity is q.Quantity.ONLY:
                return 2, second.last
    if first.does("quantity:only") and first.words[0] in ("is", "the"):
        return 1, one.last + 1
    if isinstance(second, Piece) and first.role == "verb:be":
        if second.does("quantity:only"):
            return 2, one.last + 2
    return 0, 0
