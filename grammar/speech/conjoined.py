"""Two things asked of one subject as one question, and `name one that does`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from abluent.grammar.frames.clause import Said
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.parting import asks_for_those

_SURE = -0.4
"""What speaks for one question over its two halves."""


def conjoined(read: Sequence[tuple[str, Said]]) -> Iterator[Said]:
    """Neighbouring clauses that ask which of one subject, as one question.

    Args:
        read: the best reading of each clause, with how it is linked to the one before.
    """
    for (_, one), (link, other) in pairwise(read):
        if link not in ("and", "but", "") or one.doubt > 1 or other.doubt > 1:
            continue
        used, doubt = one.used | other.used, max(one.doubt, other.doubt, 0.0) + _SURE
        match one.asked, other.asked:
            case q.Which() as first, q.Which() as second if _are_one(first, second):
                parts = _parts(first.predicate) + _parts(second.predicate)
                order = first.order or second.order
                told = tuple(dict.fromkeys(parts))
                if len(told) > 1:
                    asked = q.Which(_wider(first, second), q.Both(told), order)
                    yield Said(asked=asked, used=used, slot="subject", doubt=doubt)


def _are_one(first: q.Which, second: q.Which) -> bool:
    """Whether two questions ask of the same things, and each says something."""
    if first.predicate is None or second.predicate is None:
        return False
    bases = {_base(first.subject), _base(second.subject)}
    return len(bases) == 1 and None in (first.limit, second.limit)


def _base(term: q.Term) -> q.Term:
    return term.term if isinstance(term, q.Such) else term


def _wider(first: q.Which, second: q.Which) -> q.Term:
    """The subject of both, under the conditions of either."""
    held = (*_conditions(first.subject), *_conditions(second.subject))
    base = _base(first.subject)
    return q.Such(base, tuple(dict.fromkeys(held))) if held else base


def _conditions(term: q.Term) -> tuple[q.Predicate, ...]:
    return term.conditions if isinstance(term, q.Such) else ()


def _parts(said: q.Predicate | None) -> tuple[q.Predicate, ...]:
    if said is None:
        return ()
    return said.parts if isinstance(said, q.Both) else (said,)


def those_that_do(pieces: Sequence[Piece], last: Said | None) -> Said | None:
    """`… name one that does`: which of those spoken of before are so.

    Args:
        pieces: the pieces of a clause that names nothing.
        last: what the last statement before it said.
    """
    asked = asks_for_those(pieces)
    if last is None or last.subject is None or last.predicate is None or not asked:
        return None
    subject = last.subject
    base = q.unquantified(subject)
    said = last.predicate
    core = q.asked_act(said)
    if not last.general:
        return None
    return Said(asked=q.Which(base, core), used=last.used, slot="subject", doubt=-0.3)
