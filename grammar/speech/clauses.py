"""Every reading of a clause of free speech, best first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from abluent.grammar.common.record import replace
from abluent.grammar.frames.advice import (
    advising,
    bare,
    how_often,
    listing,
    planning,
    sufficing,
)
from abluent.grammar.frames.between import between
from abluent.grammar.frames.choosing import gathering
from abluent.grammar.frames.clause import REPEATED, VERBAL, Clause, Said
from abluent.grammar.frames.contents import (
    containing,
    counting,
    placed,
)
from abluent.grammar.frames.contrasts import alike, comparing, contrasting, ranking
from abluent.grammar.frames.ease import resisting
from abluent.grammar.frames.either import either
from abluent.grammar.frames.exchanged import exchanging
from abluent.grammar.frames.gathered import outweighing, positioned
from abluent.grammar.frames.inside import measuring, serving
from abluent.grammar.frames.kinds import (
    added,
    being,
    clashing,
    defining,
    excluding,
    graded,
    identical,
    milder_without,
    naming,
    which_lack,
)
from abluent.grammar.frames.needs import needing
from abluent.grammar.frames.promises import holding, mislabelled, promised
from abluent.grammar.frames.removal import clearing
from abluent.grammar.frames.residue import leaving, remaining, staying, withstanding
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.likely import GENERAL


def said(pieces: Sequence[Piece], places: Sequence[int]) -> list[Said]:
    """Every reading of a clause, best first.

    Args:
        pieces: its pieces.
        places: where each of them stands in the whole text.
    """
    clause = Clause(pieces, places)
    if not clause.nouns:
        return []
    found: list[Said] = []
    for frame in _FRAMES:
        found += (_with_conditions(clause, each) for each in frame(clause))
    return sorted(found, key=lambda each: each.doubt - len(each.used))


def _with_conditions(clause: Clause, each: Said) -> Said:
    """A reading takes the conditions and the names that it says, and no others."""
    each = _neither(clause, _in_rounds(clause, each))
    stated_ = clause.conditions()
    text = repr((each.subject, each.predicate, each.asked))
    dropped = frozenset(
        clause.places[at]
        for noun in clause.nouns
        if not any(
            all(repr(name) in text for name in _named(term))
            for term in (noun.term, noun.single_term)
            if term is not None
        )
        for at in range(noun.first, noun.last + 1)
    )
    used = each.used if isinstance(each.asked, q.Define) else each.used - dropped
    if stated_ and all(phrase in text for phrase in stated_):
        used |= clause.stating()
    return replace(each, used=used)


def _neither(clause: Clause, each: Said) -> Said:
    """`needs neither A nor B` denies the one and the other."""
    if not any(piece.words == ("nor",) for piece in clause.pieces):
        return each
    asked = each.asked
    if isinstance(asked, q.Which | q.What) and asked.predicate is not None:
        asked = replace(asked, predicate=_denying(asked.predicate))
    said_ = None if each.predicate is None else _denying(each.predicate)
    return replace(each, predicate=said_, asked=asked)


def _denying(said_: Any) -> Any:
    """A denial of what is done to each of several, as one of what is done to any."""
    if not isinstance(said_, q.Not):
        return said_
    object_ = getattr(said_.part, "object", None)
    if not isinstance(object_, q.And):
        return said_
    return q.Not(replace(said_.part, object=q.Or(object_.terms)))


def _in_rounds(clause: Clause, each: Said) -> Said:
    """A reading of what is taken off, after so many rounds as the clause says."""
    rounds = clause.rounds()
    if rounds < 2:
        return each
    predicate, asked = each.predicate, each.asked
    if predicate is not None:
        predicate = _after(predicate, rounds)
    elif isinstance(asked, q.Which | q.What) and asked.predicate is not None:
        asked = replace(asked, predicate=_after(asked.predicate, rounds))
    if (predicate, asked) == (each.predicate, each.asked):
        return each
    return replace(
        each, predicate=predicate, asked=asked, used=each.used | clause.counting()
    )


def _after(said: q.Predicate, rounds: int) -> Any:
    match said:
        case q.Not(part=part):
            return q.Not(_after(part, rounds))
        case q.Clears():
            return replace(said, rounds=rounds)
        case q.Stays(circumstances=held) | q.Leaves(circumstances=held):
            return replace(said, circumstances=(*held, REPEATED))
        case _:
            return said


def _named(term: q.Term) -> Iterator[str]:
    """What a noun names, which a reading that takes it must say."""
    match term:
        case q.Name(text=text) if text not in GENERAL:
            yield text
        case q.And(terms=terms) | q.Or(terms=terms):
            for each in terms:
                yield from _named(each)
        case q.Such(term=inner, conditions=conditions):
            yield from _named(inner)
            for condition in conditions:
                core = q.asked_act(condition)
                if isinstance(core, q.Contains | q.Is):
                    yield from _named(core.object)


def like(
    pieces: Sequence[Piece],
    places: Sequence[int],
    last: Said,
    *,
    against: bool = False,
) -> list[Said]:
    """A clause without a verb, which says of another thing what the last one said.

    `… but not beeswax` is said of what is done, `… plain dimethicone does not` of
    what does it; `unless the water is hard` is `against` what was said.
    """
    clause = Clause(pieces, places)
    # `… and B, also without lyes, can't`: what B lacks is only told.
    nouns = [each for each in clause.nouns if each.before != "without"]
    verbless = not any(
        p.entry.section in VERBAL
        and not p.does("small:no")
        and not (against and p.does("verb:be"))
        for p in clause.pieces
    )
    denied = any(piece.does("small:no") for piece in clause.pieces)
    if not nouns and verbless:
        return _elsewhere(clause, last, denied=denied, against=against)
    if len(nouns) != 1 or not verbless or last.predicate is None:
        return []
    if nouns[0].quantity is q.Quantity.NO and nouns[0].has("film"):
        return _left_none(clause, nouns[0], last)
    does = clause.pieces[-1].words[-1] in _DOES
    well = any({*piece.words} & _AS_WELL for piece in clause.pieces)
    if not (denied or well or does):
        return []
    noun, said_ = nouns[0], last.predicate
    core = q.asked_act(said_)
    used = clause.used(noun)
    turned = (
        isinstance(core, q.Clears) and noun.has("film") and last.subject is not None
    )
    if turned and isinstance(core, q.Clears) and not noun.has("wash", "product"):
        acts = replace(core, object=noun.term)
        same = q.Not(acts) if denied else acts
        return [Said(last.subject, same, single=last.single, used=used)]
    return [_of_another(clause, noun, stated(clause, noun, core, used), denied=denied)]


def _of_another(clause: Clause, noun: Noun, made: Said, *, denied: bool) -> Said:
    """What is said of another thing, denied in `… but not with soap` too."""
    if not denied or clause.denied or made.predicate is None:
        return made
    if noun.general:
        return replace(made, subject=q.Quantified(q.Quantity.NO, noun.term))
    return replace(made, predicate=q.Not(made.predicate))


def _left_none(clause: Clause, film: Noun, last: Said) -> list[Said]:
    """`…, so no scum`: what was spoken of leaves none."""
    subject = last.subject
    if subject is None or last.general or film.has("thing"):
        return []
    leaves = q.Leaves(film.whole, clause.circumstances())
    used = clause.used(film) | clause.stating()
    return [Said(subject, leaves, single=last.single, used=used)]


def _elsewhere(
    clause: Clause, last: Said, *, denied: bool, against: bool
) -> list[Said]:
    """The same under another condition: `… but not in soft water`."""
    wanted, said_ = clause.circumstances(), last.predicate
    if said_ is None:
        return []
    core = q.asked_act(said_)
    if not wanted or not isinstance(core, q.Clears | q.Leaves | q.Stays):
        return []
    acts: q.Predicate = replace(core, circumstances=wanted)
    was = isinstance(said_, q.Not)
    # `… but will on virgin hair`: there it does.
    does = any({*piece.words} <= _DOES for piece in clause.pieces)
    turned = not was if against else denied or (was and not does)
    used = clause.used() | clause.stating()
    return [replace(last, predicate=q.Not(acts) if turned else acts, used=used)]


_AS_WELL = words_in("as well")
_DOES = words_in("does the same")
"""At the end of a clause with one name: it does, where the last one does not."""


_FRAMES: tuple[Callable[[Clause], Iterator[Said]], ...] = (
    exchanging,
    contrasting,
    resisting,
    between,
    ranking,
    alike,
    clashing,
    comparing,
    identical,
    clearing,
    remaining,
    withstanding,
    leaving,
    gathering,
    staying,
    containing,
    holding,
    placed,
    needing,
    being,
    milder_without,
    which_lack,
    added,
    graded,
    mislabelled,
    excluding,
    naming,
    promised,
    counting,
    defining,
    advising,
    how_often,
    sufficing,
    planning,
    listing,
    positioned,
    outweighing,
    measuring,
    serving,
    either,
    bare,
)
