"""What a pack says of what is in it: `rightly silicone-free`, `free of X`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import VERBAL, Clause, Said
from abluent.grammar.frames.contents import products_of
from abluent.grammar.frames.lacking import bans
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.nouns import single
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_SAYING = words_in("saying")


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


def holding(clause: Clause) -> Iterator[Said]:
    """`anything with X but no Y`; `no wash without X` says that each has it."""
    lacking = [n for n in bans(clause) if n.has("class", "ingredient")]
    lacking = [n for n in lacking if not n.has("kind", "product")]
    if clause.is_busy() and set(_verbal(clause)) - {"contain", "be"}:
        return
    kinds = [n for n in clause.nouns if n.has("kind", "thing") and not n.has("class")]
    verbs = clause.verbs("contain", "be")
    none = [n for n in kinds if n.quantity is q.Quantity.NO and n.has("kind")]
    yield from _all_hold(clause, none)
    if none and lacking and len(clause.nouns) == 2:
        used = clause.used(none[0], lacking[0], verbs=verbs)
        every = q.Quantified(q.Quantity.EVERY, none[0].term)
        held = q.Contains(lacking[0].single_term or lacking[0].term)
        yield Said(every, held, used=used, doubt=-0.8, general=True)
        return
    held_in = [n for n in clause.nouns if n.has("class", "ingredient")]
    unlike = ("kind", "product", "thing")
    held_in = [n for n in held_in if n not in lacking and not n.has(*unlike)]
    held_in = [n for n in held_in if not any(_same(n, each) for each in lacking)]
    anything = kinds or any(p.words[0] == "anything" for p in clause.pieces)
    if not lacking or len(held_in) != 1 or not anything:
        return
    if any(n.has("product") for n in clause.nouns):
        return
    contained = q.Contains(held_in[0].term)
    none_of = q.Quantified(q.Quantity.NO, lacking[0].term)
    both = q.Both((contained, q.Contains(none_of)))
    used = clause.used(held_in[0], lacking[0], *kinds, verbs=verbs)
    asked = q.Which(products_of(clause), both)
    yield Said(asked=asked, used=used, slot="subject", doubt=-0.6)


def _all_hold(clause: Clause, none: list[Noun]) -> Iterator[Said]:
    """`not one wash without X`, read as one noun."""
    for noun in none:
        core = noun.term.conditions[-1] if isinstance(noun.term, q.Such) else None
        lacks = core.part if isinstance(core, q.Not) else None
        if not isinstance(lacks, q.Contains) or not isinstance(noun.term, q.Such):
            continue
        own = clause.pieces[noun.first : noun.last + 1]
        if not any(piece.does("small:without") for piece in own):
            continue
        rest = noun.term.conditions[:-1]
        base = q.Such(noun.term.term, rest) if rest else noun.term.term
        verbs = clause.verbs("contain", "be")
        every = q.Quantified(q.Quantity.EVERY, base)
        used = clause.used(noun, verbs=verbs)
        yield Said(every, lacks, used=used, doubt=-0.8, general=True)


def _verbal(clause: Clause) -> Iterator[str]:
    """What the verbs and contrasts of a clause are."""
    for part in clause.parts:
        if isinstance(part, Piece) and part.entry.section in VERBAL:
            yield part.entry.key


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
    ) or _is_said_free(clause)
    if not holds:
        return
    kind = free[0].single_term or free[0].term
    holders = [n for n in clause.nouns if n.has("product", "wash")]
    used = clause.used(inside[0], free[0], *holders, verbs=has)
    yield Said(inside[0].term, q.Is(kind), single=True, used=used, doubt=0.7)


def _is_said_free(clause: Clause) -> bool:
    """`X.. says sulfate-free`: what a pack says of itself, in these words."""
    said = any({*piece.words} & _SAYING for piece in clause.pieces)
    return said and any(piece.does("small:free") for piece in clause.pieces)


def free_of(clause: Clause) -> Iterator[Said]:
    """`P, no X?`: whether P is without it."""
    products = [n for n in clause.nouns if n.has("product")]
    lacking = [n for n in bans(clause) if n.has("class", "ingredient")]
    if len(products) != 1 or not lacking or clause.is_busy():
        return
    terms = tuple(dict.fromkeys(n.term for n in lacking))
    object_ = terms[0] if len(terms) == 1 else q.Or(terms)
    used = clause.used(products[0], *lacking)
    lacks = q.Not(q.Contains(object_))
    yield Said(products[0].term, lacks, single=True, used=used, doubt=1.0)


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
                kinds, held = frozenset({"class"}), each.part.object
                yield replace(
                    noun, term=held, kinds=kinds, single_term=_one(clause, held)
                )


def _one(clause: Clause, term: q.Term) -> q.Term | None:
    """A class that the clause names, in the singular."""
    senses = (piece.sense for piece in clause.pieces if piece.sense)
    named = (each for each in senses if q.Name(each.text) == term)
    return next(map(single, named), None)
