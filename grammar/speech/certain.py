"""Whether the first reading is answered at once, though it is not free of all doubt.

A reading that takes every word that matters, beside others that each leave something
aside, is what was meant: asking back would only cost a step. What is answered so is
shown as it was read.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import records, replace
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Lexicon, Piece, is_of_its_name
from abluent.grammar.phrase.reading import Reading
from abluent.grammar.query import tree as q
from abluent.grammar.speech.denials import DENYING, denials
from abluent.grammar.speech.parting import matters

_DOUBTED = 3.0
"""What speaks against a reading so much that it is never answered without asking."""
_ACTS = (
    *("verb:clear", "turned:clear", "heads:clear", "heads:turned", "turned:rinse"),
    *("verb:leave", "verb:contain", "verb:be", "verb:stay"),
)
"""What tells what is asked of the names where they alone were put together."""


def settled(
    pieces: Sequence[Piece], readings: Sequence[Reading], lexicon: Lexicon
) -> list[Reading]:
    """The readings, the first sure if it is exact and none beside it is."""
    if not readings or readings[0].sure:
        return [*readings]
    first, *rest = readings
    if not _is_exact(pieces, first, lexicon) or not all(each.unread for each in rest):
        return [*readings]
    return [replace(first, sure=True, mended=())]


def _is_exact(pieces: Sequence[Piece], reading: Reading, lexicon: Lexicon) -> bool:
    """Whether a reading leaves nothing aside and mends nothing but a short name."""
    every = [at for at, piece in enumerate(pieces) if matters(piece)]
    slips = [pieces[at] for at in reading.used if pieces[at].slip]
    told = reading.doubt <= 0 or any(pieces[at].does(*_ACTS) for at in reading.used)
    return (
        not reading.unread
        and not reading.taken
        and reading.used.issuperset(every)
        and reading.doubt <= _DOUBTED
        and told
        and not _is_loose(pieces, reading.query)
        and all(is_of_its_name(each, lexicon) for each in slips)
    )


_MORE = ("verb:hide", "ask:define", "ask:what", "contrast:better", "contrast:same")
_LEADING = ("small:so", "small:because", "small:if", "small:but", "small:unless")


def _is_loose(pieces: Sequence[Piece], query: q.Query) -> bool:
    """Whether small words of a text may say more than a question does.

    So may a denial, one of two that is asked for, a step, and letters of names.
    """
    if isinstance(query, q.Define | q.Argue | q.Compare):
        return True
    sides = isinstance(query, q.Which | q.What) or any(
        isinstance(each, q.Or) for each in records(query)
    )
    roles = {each.role for each in pieces}
    denied = not roles.isdisjoint(DENYING) and not any(denials(query))
    either = "small:or" in roles and not sides
    versus = any(each.words[0] in _VERSUS for each in pieces)
    shaped = any(each.entry.section == "pattern" for each in pieces)
    stops = [at for at, each in enumerate(pieces) if each.words[0] in _STOPS]
    shaped = shaped or any(at < len(pieces) - 1 for at in stops)
    more = not roles.isdisjoint((*_MORE, *_LEADING, "small:pronoun"))
    return denied or either or versus or shaped or more


_VERSUS = words_in("versus")
_STOPS = frozenset(".;:!?")
"""What parts sentences: a reading across one is filled, and asked about."""
