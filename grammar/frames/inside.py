"""One ingredient in one product: how much of it there is, and what it does there."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_BUSY = ("clear", "leave", "stay", "need", "go")
"""Verbs that ask for something else than what is inside."""


def measuring(clause: Clause) -> Iterator[Said]:
    """`how much F is in P`, `which of my washes has the most F`."""
    places = clause.where("ask:how_much")
    if not places or clause.verbs(*_BUSY) or clause.where("turned:clear"):
        return
    things, holders = _held(clause), _holders(clause)
    if not things or not holders:
        return
    verbs = [*places, *clause.verbs("be", "contain")]
    used = clause.used(things[0], holders[0], verbs=verbs)
    asked = q.Amount(things[0].term, holders[0].term)
    yield Said(asked=asked, used=used, slot="object", doubt=-0.8)


def serving(clause: Clause) -> Iterator[Said]:
    """`what's the point of I in P`, `why is there I in P`: what it does there."""
    places = clause.where("ask:task")
    held = clause.asks("why") and clause.verbs("contain", "be")
    if not (places or held) or clause.denied or clause.where("contrast:harder"):
        return
    if clause.verbs(*_BUSY) and not places:
        return
    things, holders = _held(clause), _holders(clause)
    things = _nearest(clause, things, places)
    if not things:
        return
    verbs = [*places, *clause.verbs("be", "contain"), *clause.where("ask:why")]
    if not holders:
        if places and not clause.nouns[1:]:
            used = clause.used(things[0], verbs=verbs)
            told = q.Define(things[0].term)
            yield Said(asked=told, used=used, slot="subject", doubt=0.3)
        return
    used = clause.used(things[0], holders[0], verbs=verbs)
    asked = q.Task(things[0].term, holders[0].term)
    yield Said(asked=asked, used=used, slot="object", doubt=-2.0 if places else -0.9)


def _held(clause: Clause) -> list[Noun]:
    """What may stand on a label: an ingredient before a class."""
    kinds = ("product", "kind", "wash", "thing", "water", "value")
    found = [n for n in clause.nouns if n.has("ingredient", "class")]
    found = [n for n in found if not n.has(*kinds)]
    found = [n for n in found if n.term != q.Name("ingredients") and n.before != "for"]
    return sorted(found, key=lambda n: not n.has("ingredient"))


def _nearest(clause: Clause, things: list[Noun], places: list[int]) -> list[Noun]:
    """The things, that first of which it is asked what it does there.

    It stands before `does nothing`, and after `the point of`.
    """
    if not places:
        return things
    part = clause.parts[places[0]]
    before = [n for n in things if clause.parts.index(n) < places[0]]
    ends = isinstance(part, Piece) and part.words[-1] in _BEFORE_IT
    after = [n for n in things if n not in before]
    if isinstance(part, Piece) and part.words[-1] == "for":
        # `is it there for the preservative`: that is what it is for.
        after = after[1:]
    first = after if ends and after else before[::-1] or after
    rest = [n for n in (*before, *after) if n not in first]
    return [*first, *rest]


_BEFORE_IT = words_in("before what is there")


def _holders(clause: Clause) -> list[Noun]:
    """What has a label: a product by name before a kind of products."""
    found = [n for n in clause.nouns if n.has("product", "kind", "wash")]
    return sorted(found, key=lambda n: not n.has("product"))
