"""Marks about names: `the gel (P)` and `P (my mask)`, a product told twice; quotes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.pieces import IDLE, Piece

_QUOTES = frozenset('"\u201c\u201d\xab\xbb')


def called(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, the sort of a product idle where its name stands beside it."""
    found = [*pieces]
    for sort in _told_twice(pieces):
        found[sort] = replace(pieces[sort], entry=IDLE, sense=None, other=())
    return found


def unquoted(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces without the quotes about a name, which part no list."""
    lost: set[int] = set()
    for at, piece in enumerate(pieces[1:-1], 1):
        around = pieces[at - 1], pieces[at + 1]
        if piece.sense is not None and all(e.words[0] in _QUOTES for e in around):
            lost |= {at - 1, at + 1}
    return [each for at, each in enumerate(pieces) if at not in lost]


def _told_twice(pieces: Sequence[Piece]) -> Iterator[int]:
    """The places of sorts that only say what the product beside them is."""
    real = [at for at, piece in enumerate(pieces) if not piece.does("small:article")]
    for one, mark, other, last in zip(real, real[1:], real[2:], real[3:], strict=False):
        if pieces[mark].words != ("(",) or pieces[last].words != (")",):
            continue
        first, second = pieces[one], pieces[other]
        if _is_product(first) and _name(first) == _name(second):
            # `the conditioner (P)`, where P is the only one.
            yield one if first.slip else other
        elif _is_sort(first) and _is_product(second):
            yield one
        elif _is_product(first) and _is_sort(second):
            yield other


def _name(piece: Piece) -> str:
    return piece.sense.text if piece.sense else ""


def _is_sort(piece: Piece) -> bool:
    kinds = piece.sense.kinds if piece.sense else frozenset[str]()
    return bool(kinds & {"kind", "sort"}) and "product" not in kinds


def _is_product(piece: Piece) -> bool:
    return piece.sense is not None and "product" in piece.sense.kinds
