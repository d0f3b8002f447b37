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
from abluent.grammar.speech.parting import is_name, matters
from abluent.grammar.speech.roles import only_said, said_clauses
from abluent.grammar.speech.tails import within_tails

_DOUBTED = 3.0
"""What speaks against a reading so much that it is never answered without asking."""
_ACTS = (
    *("verb:clear", "turned:clear", "heads:clear", "heads:turned", "turned:rinse"),
    *("verb:leave", "verb:contain", "verb:be", "verb:stay"),
)
"""What tells what is asked of the names where they alone were put together."""


def settled(
    text: str, pieces: Sequence[Piece], readings: Sequence[Reading], lexicon: Lexicon
) -> list[Reading]:
    """The readings, the first sure if it is exact and none beside it is.

    What the text only says, and the question does not speak of, is told as not used.
    """
    if not readings or readings[0].sure:
        return [*readings]
    first, *rest = readings
    if not _is_exact(pieces, first, lexicon) or not all(each.unread for each in rest):
        return [*readings]
    said = [each for each in said_clauses(pieces) if not first.used.issuperset(each)]
    unused = tuple(
        text[pieces[min(each)].start : pieces[max(each)].end].strip(" ,.;:?!")
        for each in said
    )
    return [replace(first, sure=True, mended=(), unused=unused)]


def _is_exact(pieces: Sequence[Piece], reading: Reading, lexicon: Lexicon) -> bool:
    """Whether a reading leaves nothing aside and mends nothing but a short name."""
    said = only_said(pieces)
    asked = [at for at in range(len(pieces)) if at not in said | within_tails(pieces)]
    slips = [pieces[at] for at in reading.used if pieces[at].slip]
    told = reading.doubt <= 0 or any(pieces[at].does(*_ACTS) for at in reading.used)
    return (
        not reading.unread
        and not reading.taken
        and reading.used.issuperset(at for at in asked if matters(pieces[at]))
        and reading.doubt <= _DOUBTED
        and told
        and not _is_loose(_alone(pieces, asked), reading.query, known=bool(said))
        and (not said or _is_clear(pieces, reading, said))
        and all(is_of_its_name(each, lexicon) for each in slips)
    )


def _alone(pieces: Sequence[Piece], asked: Sequence[int]) -> list[Piece]:
    """The pieces that ask, without the marks at either end."""
    real = [at for at in asked if pieces[at].entry.section != "mark"]
    ends = (min(real), max(real)) if real else (1, 0)
    return [pieces[at] for at in asked if ends[0] <= at <= ends[1]]


def _is_clear(pieces: Sequence[Piece], reading: Reading, said: frozenset[int]) -> bool:
    """Whether what is only said names one thing at most, so that `it` is that one."""
    named = {pieces[at].sense for at in said if is_name(pieces[at])}
    spoken = {pieces[at].sense for at in reading.used}
    verbs = ("verb", "turned", "heads", "contrast", "number")
    told = any(pieces[at].entry.section in verbs for at in said & reading.used)
    return len(named) <= 1 and named <= spoken and not told


_MORE = ("verb:hide", "ask:define", "ask:what", "contrast:better", "contrast:same")
_LEADING = ("small:so", "small:because", "small:if", "small:but", "small:unless")


def _is_loose(pieces: Sequence[Piece], query: q.Query, *, known: bool) -> bool:
    """Whether small words of a text may say more than a question does.

    So may a denial, one of two that is asked for, a step, and letters of names. What
    `it` stands for is `known` where one thing was told of before.
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
    leading = (*_MORE, *_LEADING, *(() if known else ("small:pronoun",)))
    # `it won't come out, help`: what does is asked.
    helpless = bool(pieces) and pieces[-1].words[0] in words_in("cries")
    more = helpless or not roles.isdisjoint(leading)
    return denied or either or versus or shaped or more


_VERSUS = words_in("versus")
_STOPS = frozenset(".;:!?")
"""What parts sentences: a reading across one is filled, and asked about."""
