"""What somebody says was tried and did not help: `tried W four times`.

It is no part of what is asked after it, unless that is why: which washes take it off is
asked of the others, and not after so many rounds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import rounds_of
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import UNKNOWN, Piece

_TRIED = words_in("have tried")
_WHICH = ("ask:which", "ask:what", "ask:advise", "ask:define")
_BACK = ("ask:why", "ask:compare", "ask:whether", "small:than", "verb:leave")
_ENDS = frozenset(".?!;")


def without_tried(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, what was tried in vain left unread where it is asked what helps."""
    found = [*pieces]
    sentences = [*_sentences(pieces)]
    vain = [each for each in sentences if _is_in_vain(pieces, each)]
    asked = [pieces[at] for each in sentences if each not in vain for at in each]
    if any(e.does(*_BACK) for e in asked) or not any(map(_asks_which, asked)):
        return found
    if any(one.does("small:pronoun") and _acts(e) for one, e in pairwise(asked)):
        # `what does it take off`: the wash that was tried.
        return found
    for at in (at for each in vain for at in each):
        if _is_of_washing(pieces[at]):
            found[at] = replace(pieces[at], entry=UNKNOWN, sense=None, other=())
    return found


def _sentences(pieces: Sequence[Piece]) -> Iterator[range]:
    """The places of each sentence."""
    first = 0
    for at, piece in enumerate(pieces):
        if piece.words[0] in _ENDS:
            yield range(first, at)
            first = at + 1
    yield range(first, len(pieces))


def _is_in_vain(pieces: Sequence[Piece], sentence: range) -> bool:
    """Whether a sentence tells of a wash that was tried, or of what still stays."""
    own = [pieces[at] for at in sentence]
    done = any(each.words[0] in _TRIED for each in own)
    vain = any({"tried", "still"} & {*each.words} for each in own)
    return done and vain and not any(each.entry.section == "ask" for each in own)


def _asks_which(piece: Piece) -> bool:
    return piece.does(*_WHICH) or piece.words == ("what",)


def _acts(piece: Piece) -> bool:
    return piece.entry.section in ("verb", "heads")


def _is_of_washing(piece: Piece) -> bool:
    """Whether a piece is a wash or tells how often it was taken."""
    kinds = piece.sense.kinds if piece.sense else frozenset[str]()
    return "wash" in kinds or rounds_of(piece) > 1
