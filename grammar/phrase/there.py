"""`because there is no F in it`: it has no F, said of what was spoken of."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import Entry, phrases_in
from abluent.grammar.phrase.pieces import Piece

_NO, _IT = Entry("quantity", "no"), Entry("small", "pronoun")
_HAS = Entry("verb", "contain")
_NEAR = 3
"""How many pieces may stand between `there is no` and `in it`."""


def with_holders(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, `there is no F in it` as `it has no F`."""
    found: list[Piece] = []
    for at, piece in enumerate(pieces):
        if not _tells(piece, pieces[at + 1 : at + 1 + _NEAR]):
            found.append(piece)
            continue
        start = piece.start
        it = Piece(_IT, ("it",), start, start)
        has = Piece(_HAS, ("has",), start, start)
        found += [it, has, replace(piece, words=("no",))]
    return found


def _tells(piece: Piece, after: Sequence[Piece]) -> bool:
    """Whether a piece is `there is no`, and `in it` stands near after it."""
    told = piece.entry == _NO and piece.words[0].startswith("there")
    return told and any(e.words in phrases_in("in what was named") for e in after)
