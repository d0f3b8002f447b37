"""Washes by name to choose from: `A, B or C for F`, `no sulfates: A or B`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.frames.lacking import bans
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q

_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())


def spread(nouns: Sequence[Noun]) -> list[Noun]:
    """The nouns, with a list of washes and other products as its members."""
    found: list[Noun] = []
    for noun in nouns:
        washes = {each.has("wash") for each in noun.listed}
        mixed = len(washes) > 1 and noun.has("product")
        found += noun.listed if mixed else [noun]
    return found


def choosing(clause: Clause) -> Iterator[Said]:
    """Which of some washes do, and lack, what the text asks for."""
    nouns = spread(clause.nouns)
    lacking = _members(bans(clause))
    named = [n for n in nouns if n.has("product") and n.has("wash")]
    if len(named) == 1 and clause.asks("which"):
        # A rinse beside a wash: `W or R, which for F`.
        named += [
            n for n in nouns if n.has("product") and n.has("agent") and n not in named
        ]
    terms = tuple(dict.fromkeys(t for n in named for t in q.members(n.term)))
    if len(terms) < 2 or clause.where("ask:compare", "small:clash"):
        return
    sources = [n for n in nouns if n.has("product") and n not in named]
    stays = _members(n for n in nouns if not any(_within(e, n) for e in lacking))
    films = [
        n for n in stays if n.has("film") and not n.has("wash", "product", "thing")
    ]
    left = [n for n in lacking if n.has("film") and clause.verbs("leave", "stay")]
    held = [n for n in lacking if n not in left]
    said: list[q.Predicate] = [q.Not(q.Contains(n.term)) for n in held]
    if left:
        none = q.Quantified(q.Quantity.NO, _joined([n.term for n in left]))
        said.append(q.Leaves(none))
    if sources or (films and not left):
        said.append(_takes(clause, sources, films))
    if not said or (clause.denied and not lacking):
        return
    acts = said[0] if len(said) == 1 else q.Both(tuple(said))
    verbs = [*clause.verbs("clear", "leave", "stay", "contain", "need")]
    used = clause.used(*named, *sources, *films, *lacking, verbs=verbs)
    asked = q.Which(q.And(terms), acts)
    yield Said(asked=asked, used=used, slot="subject", doubt=0.3)


def _members(nouns: Iterable[Noun]) -> list[Noun]:
    """The nouns, each list as its members."""
    return [each for noun in nouns for each in noun.listed or (noun,)]


def _within(one: Noun, other: Noun) -> bool:
    return other.first <= one.first and one.last <= other.last


def _joined(terms: Sequence[q.Term]) -> q.Term:
    kept = tuple(dict.fromkeys(terms))
    return kept[0] if len(kept) == 1 else q.And(kept)


def _takes(
    clause: Clause, sources: Sequence[Noun], films: Sequence[Noun]
) -> q.Predicate:
    """That it takes the films, or all that the products leave."""
    source = _joined([n.term for n in sources]) if sources else None
    object_ = _joined([n.term for n in films]) if films else _EVERYTHING
    return q.Clears(object_, source, circumstances=clause.circumstances())


def gathering(clause: Clause) -> Iterator[Said]:
    """`P and only W, does it build up`: whether W takes all that P leaves."""
    nouns = spread(clause.nouns)
    if len(nouns) == len(clause.nouns):
        return
    washes = [n for n in nouns if n.has("product") and n.has("wash")]
    sources = [n for n in nouns if n.has("product") and not n.has("wash")]
    stays = clause.verbs("stay", "leave")
    if len(washes) != 1 or not sources or not stays:
        return
    acts = _takes(clause, sources, [])
    used = clause.used(*clause.nouns, verbs=stays)
    said = stated(clause, washes[0], acts, used)
    yield replace(said, doubt=-0.6)
