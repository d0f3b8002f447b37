"""What each clause of a text is there for: asked, claimed, or only said.

`P has two resins. Does W take it off?` asks one thing and says another. What is said as
a fact is not asked: a question read from it alone is put back, it is welded to none,
and where it is left aside that is told. What somebody else is said to say is a claim,
and so is all of a text that asks nothing by a word.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import phrases_in, words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.parting import Part, matters, parts

ASKED, CLAIMED, SAID = "asked", "claimed", "said"
_TELLING = ("verb", "turned", "heads", "contrast")
_REPORTED = words_in("reported")
_PACKS = words_in("packs")
_SUBJECTS = words_in("asked of")
_ENDS = frozenset(".!?;")


def roles_of(pieces: Sequence[Piece], clauses: Sequence[Part]) -> list[str]:
    """What each clause is there for.

    Args:
        pieces: of the text.
        clauses: its clauses, in order.
    """
    asked = _asked(pieces, clauses)
    if not any(asked):
        return [CLAIMED] * len(clauses)
    return [
        ASKED if asks else CLAIMED if _is_claimed(pieces, clauses, at) else SAID
        for at, asks in enumerate(asked)
    ]


def said_clauses(pieces: Sequence[Piece]) -> list[frozenset[int]]:
    """The places of each clause that only says something, where another asks."""
    clauses = parts(pieces)
    roles = roles_of(pieces, clauses) if len(clauses) > 1 else []
    return [
        frozenset(each.places)
        for role, each in zip(roles, clauses, strict=False)
        if role == SAID
    ]


def only_said(pieces: Sequence[Piece]) -> frozenset[int]:
    """The places of all clauses that only say something, where another asks."""
    return frozenset[int]().union(*said_clauses(pieces))


def said_last(
    pieces: Sequence[Piece], offered: Sequence[Offer], said: frozenset[int]
) -> list[Offer]:
    """The offers, those put back that ask what is only said."""
    if not said:
        return [*offered]
    merely = {
        _statement(each.query)
        for each in offered
        if is_of_said(pieces, each.used, said)
    }
    return [
        replace(each, doubt=max(each.doubt, 0.0) + _MERELY)
        if _statement(each.query) in merely and not _is_own(pieces, each.used, said)
        else each
        for each in offered
    ]


def _statement(query: q.Query) -> q.Query | q.Statement:
    return query.statement if isinstance(query, q.Claim | q.Whether) else query


def _is_own(
    pieces: Sequence[Piece], used: frozenset[int], said: frozenset[int]
) -> bool:
    """Whether a verb that is asked tells what a reading says."""
    return any(_is_verbal(pieces[at]) for at in used - said)


_MERELY = 12.0
"""What speaks against a reading that asks what is only said."""


def is_of_said(
    pieces: Sequence[Piece], used: frozenset[int], said: frozenset[int]
) -> bool:
    """Whether all that tells what a reading says stands where it is only said."""
    verbs = [at for at in used if _is_verbal(pieces[at])]
    telling = verbs or [at for at in used if pieces[at].entry.section == "ask"]
    return bool(telling) and said.issuperset(telling)


def _is_verbal(piece: Piece) -> bool:
    """Whether a piece tells what is said, and is more than `is`."""
    return piece.entry.section in _TELLING and piece.role != "verb:be"


def asked_by(pieces: Sequence[Piece], clause: Part) -> bool:
    """Whether a clause is asked: by a word in it, or by the mark after it."""
    own = [pieces[n] for n in clause.places]
    return asks_by_word(own) or _is_marked(pieces, clause)


def _asked(pieces: Sequence[Piece], clauses: Sequence[Part]) -> list[bool]:
    """Which clauses are asked: by a word in them, or in what their sentence asks."""
    found: list[bool] = []
    asking = False
    for at, each in enumerate(clauses):
        own = [pieces[n] for n in each.places]
        if at and _ends(pieces, clauses[at - 1], each):
            asking = False
        joined = each.link in ("and", "but", "") and not _is_aside(pieces, each)
        versus = any(e.words[0] in words_in("versus") for e in own)
        asks = any(map(matters, own)) and (asks_by_word(own) or versus)
        found.append((asking and joined) or asks)
        asking = asking or asks
    if any(found):
        marked = [_is_marked(pieces, each) for each in clauses]
        found = [one or other for one, other in zip(found, marked, strict=True)]
    return found


def _is_aside(pieces: Sequence[Piece], clause: Part) -> bool:
    """`…, P has F too`: what is put beside a question, after a comma alone."""
    first = clause.places[0]
    own = [pieces[n] for n in clause.places]
    told = any(each.does("verb:contain", "verb:lack") for each in own)
    return told and first > 0 and pieces[first - 1].words == (",",)


def _is_marked(pieces: Sequence[Piece], clause: Part) -> bool:
    """Whether a question mark stands right after a clause."""
    after = clause.places[-1] + 1
    if clause.link == "because":
        return False
    return after < len(pieces) and pieces[after].does("small:question")


def asks_by_word(own: Sequence[Piece]) -> bool:
    """Whether a clause asks by a word, as `does` at its head or `which` does."""
    head = next((at for at, each in enumerate(own) if not _is_light(each)), len(own))
    return any(_asks(own, at, head) for at in range(head, len(own)))


def _is_light(piece: Piece) -> bool:
    joint = piece.does("small:and", "small:so", "small:but")
    idle = piece.entry.section in ("idle", "mark") and not _is_does_it(piece)
    return joint or idle


def _is_does_it(piece: Piece) -> bool:
    return piece.words in phrases_in("does it")


def _asks(own: Sequence[Piece], at: int, head: int) -> bool:
    """Whether the word at a place asks."""
    piece = own[at]
    last = all(map(_is_light, own[at + 1 :]))
    led = not last and _is_subject(own[at + 1])
    if _is_does_it(piece):
        return at == head and not last
    if piece.role == "verb:be":
        return at == head and led and piece.words[0] in words_in("inverted")
    if piece.entry.section != "ask" or piece.role == "ask:enough":
        return False
    relative = piece.role == "ask:which" and at > 0 and own[at - 1].sense is not None
    if relative:
        # `cyclopentasiloxane which evaporates`
        return False
    return _is_asking(piece, first=at == head, led=led, told=_is_told(own, at))


def _is_asking(piece: Piece, *, first: bool, led: bool, told: bool) -> bool:
    """Whether a word that may ask does."""
    if {*piece.words} & words_in("judged"):
        # `true or false`: a claim, and no question of its own.
        return False
    if piece.role == "ask:compare" and not first:
        return piece.words[0] in words_in("versus")
    if piece.role != "ask:whether" or len(piece.words) > 1:
        return True
    return led and (first or (piece.words[0] in words_in("always ask") and not told))


def _is_told(own: Sequence[Piece], at: int) -> bool:
    """Whether what does it stands before a verb: `I do`."""
    before = own[at - 1] if at else None
    return before is not None and (
        _is_subject(before) or before.words[-1] in words_in("subjects")
    )


def _is_subject(piece: Piece) -> bool:
    """Whether a piece can stand for what something is asked of."""
    named = piece.sense is not None
    return named or piece.does("small:pronoun") or piece.words[0] in _SUBJECTS


def _is_claimed(pieces: Sequence[Piece], clauses: Sequence[Part], at: int) -> bool:
    """Whether a clause is what somebody says, or a step to what is only marked."""
    if clauses[at].link in ("if", "unless"):
        return not is_told_with(pieces, clauses[at])
    if _is_reported([pieces[n] for n in clauses[at].places]):
        return True
    return _leads(pieces, clauses, at)


def is_told_with(pieces: Sequence[Piece], clause: Part) -> bool:
    """`why does W take it off when it has no F`: what is on a label, as it is known."""
    first = clause.places[0]
    joint = pieces[first - 1].words if first else ()
    own = [pieces[at] for at in clause.places]
    held = any(each.does("verb:contain", "verb:lack") for each in own)
    return clause.link == "if" and held and bool({*joint} & words_in("as it is"))


def _leads(pieces: Sequence[Piece], clauses: Sequence[Part], at: int) -> bool:
    """`A, so B?`: whether what follows from a clause is asked by its mark alone."""
    by_word = any(asks_by_word([pieces[n] for n in each.places]) for each in clauses)
    if by_word:
        return False
    for before, after in pairwise(clauses[at:]):
        if before.places[-1] >= after.places[0]:
            continue
        if "because" in (after.link, clauses[at].link):
            return True
        if after.link == "so":
            return True
        if _ends(pieces, before, after):
            return False
    return clauses[at].link in ("because", "so")


def _ends(pieces: Sequence[Piece], before: Part, after: Part) -> bool:
    """Whether a sentence ends between two clauses."""
    between = pieces[before.places[-1] + 1 : after.places[0]]
    return any(each.words[0] in _ENDS for each in between)


def _is_reported(own: Sequence[Piece]) -> bool:
    """`my boss says …`: what a person says, and no pack."""
    words = {word for each in own for word in each.words}
    return bool(words & _REPORTED) and not words & _PACKS
