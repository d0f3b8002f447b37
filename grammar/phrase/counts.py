"""Numbers before a noun: so many of it, and how many that is."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

THINGS = words_in("things")


def counts_things(pieces: Sequence[Piece], at: int) -> bool:
    """`three things`, `three silicones`: so many, and no more."""
    if at + 1 >= len(pieces) or not pieces[at].value.isdigit():
        return False
    after = pieces[at + 1]
    if after.words[0] in THINGS:
        return True
    sense = after.sense
    if sense is None or not sense.one or not after.words[-1].endswith("s"):
        return False
    return "class" in sense.kinds and "kind" not in sense.kinds


def _is_count(pieces: Sequence[Piece], at: int, quantity: q.Quantity | None) -> bool:
    if quantity not in q.COUNTED or not pieces[at].value.isdigit():
        return False
    return at + 1 < len(pieces) and not pieces[at + 1].does("small:percent")


def number_of(
    pieces: Sequence[Piece], at: int, quantity: q.Quantity | None
) -> int | None:
    """The number after a quantity that is counted."""
    if quantity not in q.COUNTED:
        return None
    if pieces[at].words == ("one",):
        return 1
    counts = pieces[at].entry.section == "number" and _is_count(pieces, at, quantity)
    return int(pieces[at].value) if counts else None
