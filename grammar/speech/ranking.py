"""The offers as readings, those first that take most of what matters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.grammar.common.errors import Span
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.phrase.reading import Reading, printed
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.empty import is_empty
from abluent.grammar.speech.likely import GENERAL, is_impossible, kinds_of, oddness
from abluent.grammar.speech.parting import is_name, matters
from abluent.grammar.speech.precedence import (
    asked_first,
    evidence_first,
    plain_first,
    why_first,
)
from abluent.grammar.speech.roles import only_said, said_last
from abluent.grammar.speech.scruples import dropped
from abluent.grammar.speech.tails import within_tails
from abluent.grammar.speech.unsettled import Matter

LEAST = 0.3
"""The share of what matters that must be read for anything to be offered."""
HALF = 0.5
"""The share that must be read for a reading to stand beside a matter that nothing
here settles."""
MANY = 3
"""How many names tell what is spoken of without a verb."""
WASHING = (
    *("verb:clear", "verb:stay", "verb:leave", "turned:clear", "turned:rinse"),
    *("heads:clear", "ask:enough", "ask:how_strong", "ask:how_mild", "verb:need"),
)
"""Words that speak of washing."""
_NAMED = 0.06
"""What speaks against a reading for each thing named that it leaves aside."""
_SILENT = 0.02
"""What speaks against a reading for each weighty word that it does not say."""


def ranked(
    pieces: Sequence[Piece],
    offered: Sequence[Offer],
    spoken: Sequence[Matter],
    *,
    every: bool = False,
) -> list[Reading]:
    """The offers as readings, those first that take most of what matters.

    `every` keeps guesses too that take little.
    """
    every_matter = [at for at, piece in enumerate(pieces) if matters(piece)]
    best: dict[str, tuple[float, Reading]] = {}
    told = asked_first(pieces, evidence_first(pieces, why_first(pieces, offered)))
    trusted, added = only_said(pieces), within_tails(pieces)
    told = said_last(pieces, told, trusted)
    kinds = kinds_of(pieces)
    for offer in sorted(told, key=lambda each: each.doubt):
        senseless = is_empty(offer.query) or is_impossible(offer.query, kinds)
        question = "" if senseless else printed(offer.query)
        if not question:
            continue
        matter = _to_take(pieces, every_matter, offer.used, trusted)
        matter = _not_again(pieces, matter, offer.used)
        taken = [at for at in matter if at in offer.used]
        share = len(taken) / len(matter) if matter else 0.0
        lost = names_aside(pieces, offer.used)
        said_ = len({pieces[at].sense for at in offer.used}) - 1
        much = said_ >= MANY or any(pieces[at].does(*WASHING) for at in offer.used)
        little = share < HALF and (lost >= said_ or not much)
        if offer.guess and (little or share < LEAST) and not every:
            continue
        silent = dropped(pieces, offer.query) - trusted - added
        silent |= _unspoken(pieces, offer.used, trusted)
        unread = sorted({at for at in matter if at not in offer.used} | silent)
        slips = [at for at in sorted(offer.used) if pieces[at].slip]
        doubt = offer.doubt + oddness(offer.query, kinds)
        taken_for = tuple(_sorts(pieces, offer.used, question))
        settled = not unread and not slips and not taken_for
        sure = settled and doubt <= 0 and not spoken
        reading = Reading(
            offer.query,
            question,
            tuple(spans(pieces, unread)),
            tuple(spans(pieces, slips)),
            share,
            sure,
            taken_for,
            offer.used,
            doubt,
        )
        score = share - 0.06 * doubt - _SILENT * len(silent) - _NAMED * lost
        if question not in best or best[question][0] < score:
            best[question] = score, reading
    ordered = [each for _, each in sorted(best.values(), key=lambda each: -each[0])]
    certain = [each.sure for each in ordered]
    whole = [not each.unread for each in ordered]
    lacking = [
        0 if _asks_after_all(pieces) else names_aside(pieces, each.used)
        for each in ordered
    ]
    order = plain_first([each.query for each in ordered], certain, whole, lacking)
    return [ordered[at] for at in order]


def _to_take(
    pieces: Sequence[Piece],
    matter: Sequence[int],
    used: frozenset[int],
    trusted: frozenset[int],
) -> list[int]:
    """What a reading must take; of what is only said, the products."""
    return [
        at
        for at in matter
        if at not in trusted or at in used or _is_product(pieces[at])
    ]


def _is_product(piece: Piece) -> bool:
    return piece.sense is not None and "product" in piece.sense.kinds


def _unspoken(
    pieces: Sequence[Piece], used: frozenset[int], trusted: frozenset[int]
) -> frozenset[int]:
    """The places of names that are only told of, and that a reading does not say."""
    spoken = {pieces[at].sense for at in used}
    named = (at for at in trusted - used if is_name(pieces[at]))
    return frozenset(at for at in named if pieces[at].sense not in spoken)


def _not_again(
    pieces: Sequence[Piece], matter: Sequence[int], used: frozenset[int]
) -> list[int]:
    """What matters, without a name that is said again and that a reading speaks of."""
    spoken = {pieces[at].sense for at in used if _is_proper(pieces[at])}
    return [
        at
        for at in matter
        if at in used or not _is_proper(pieces[at]) or pieces[at].sense not in spoken
    ]


def _is_proper(piece: Piece) -> bool:
    """Whether a piece names one product or one ingredient."""
    kinds = piece.sense.kinds if piece.sense else frozenset[str]()
    return not kinds.isdisjoint(("product", "ingredient")) and "class" not in kinds


def _asks_after_all(pieces: Sequence[Piece]) -> bool:
    """`…, so does it take it off`: what goes before only leads to the question."""
    return any(
        each.role == "small:so" and after.does("ask:whether")
        for each, after in pairwise(pieces)
    )


def names_aside(pieces: Sequence[Piece], used: frozenset[int]) -> int:
    """How many things are named that a reading does not speak of."""
    named = {each.sense.text: at for at, each in enumerate(pieces) if each.sense}
    spoken = {pieces[at].sense for at in used}
    said = {each.text for each in spoken if each is not None}
    return len(named.keys() - said - GENERAL)


def _sorts(
    pieces: Sequence[Piece], used: frozenset[int], question: str
) -> Iterator[tuple[str, str]]:
    """Words such as `clarifying` that a question says as what the label shows."""
    for at in sorted(used):
        sense = pieces[at].sense
        if sense is None or "sort" not in sense.kinds:
            continue
        shown = sense.text.replace("without ", "with ").split("with ")
        if all(each.strip() in question for each in shown):
            yield " ".join(pieces[at].words), sense.text


def spans(pieces: Sequence[Piece], places: Sequence[int]) -> Iterator[Span]:
    """The stretches of some pieces, neighbours as one."""
    last: Span | None = None
    before = -2
    for at in places:
        piece = pieces[at]
        if last is not None and at == before + 1:
            last = Span(last.start, piece.end)
        else:
            if last is not None:
                yield last
            last = Span(piece.start, piece.end)
        before = at
    if last is not None:
        yield last
