"""What a pack says, set against what stands on the label."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.speech.clause import Clause, Said, bans, stated
from abluent.grammar.speech.noun import Noun
from abluent.grammar.speech.pieces import Piece

_SAYING = frozenset(
    "says say said calls call called claims claim claimed promises promise prints "
    "advertises sold marketed labelled labeled sells".split()
)


def promised(clause: Clause) -> Iterator[Said]:
    """`the pack of P says silicone-free`: whether P is without them."""
    yield from _rightly(clause)
    products = [n for n in clause.nouns if n.has("product")]
    free = [n for n in clause.nouns if n.has("wash") and isinstance(n.term, q.Such)]
    if not products or not free or clause.verbs("clear", "leave", "stay", "be"):
        return
    term = free[0].term
    assert isinstance(term, q.Such)
    used = clause.used(products[0], free[0])
    for condition in term.conditions[:1]:
        yield replace(stated(clause, products[0], condition, used), doubt=0.3)


def _rightly(clause: Clause) -> Iterator[Said]:
    """`P calls itself clarifying`: whether it rightly says so."""
    products = [n for n in clause.nouns if n.has("product")]
    said = any({*piece.words} & _SAYING for piece in clause.pieces)
    if not products or not said:
        return
    for at, piece in enumerate(clause.pieces):
        sense = piece.sense
        if sense is None or "promise" not in sense.kinds:
            continue
        if any(n.has("product") and n.first <= at <= n.last for n in clause.nouns):
            continue
        words = q.Says(" ".join(piece.words))
        used = clause.used(products[0]) | {clause.places[at]}
        yield replace(stated(clause, products[0], words, used), doubt=-0.3)


def mislabelled(clause: Clause) -> Iterator[Said]:
    """`sulfate-free, but it has X in it`: whether X is one of what it is without."""
    free = [
        n for n in [*bans(clause), *_lacking(clause)] if n.has("class") and n.general
    ]
    has = clause.verbs("contain", "hide", "be")
    inside = [
        n
        for n in clause.nouns
        if n.has("ingredient") and not n.general and not n.has("product", "wash")
    ]
    inside = [n for n in inside if not any(_same(n, each) for each in free)]
    if not free or len(inside) != 1 or clause.verbs("clear", "stay", "need"):
        return
    holds = any(
        isinstance(part, Piece) and part.does("verb:contain", "small:with", "small:in")
        for part in clause.parts
    )
    if not holds:
        return
    kind = free[0].single_term or free[0].term
    used = clause.used(inside[0], free[0], verbs=has)
    yield Said(inside[0].term, q.Is(kind), single=True, used=used, doubt=0.2)


def _same(one: Noun, other: Noun) -> bool:
    return one.first == other.first


def _lacking(clause: Clause) -> Iterator[Noun]:
    """What a wash is said to be free of: `sulfate-free`."""
    for noun in clause.nouns:
        term = noun.term
        if not noun.has("wash") or not isinstance(term, q.Such):
            continue
        for each in term.conditions:
            if isinstance(each, q.Not) and isinstance(each.part, q.Contains):
                kinds = frozenset({"class"})
                yield replace(noun, term=each.part.object, kinds=kinds)
