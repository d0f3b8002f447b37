"""What a film needs: `F needs W`, `is W needed for F`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q


def needing(clause: Clause) -> Iterator[Said]:
    yield from _needed(clause)
    for at in clause.verbs("need"):
        before, after = clause.before(at), clause.after(at, "", "with")
        cleared = [
            n
            for verb in clause.verbs("clear")
            for n in clause.after(verb)
            if n.has("film")
        ]
        if _takes(clause, at) and before and after and before[-1].has("agent"):
            # `a vinegar rinse takes a mineral film`
            acts = q.Clears(after[0].whole, circumstances=clause.circumstances())
            used = clause.used(before[-1], after[0], verbs=[at])
            if after[0].has("film") and not after[0].has("agent"):
                yield stated(clause, before[-1], acts, used)
                continue
        kinds = ("film", "product", "kind")
        films = cleared or [n for n in before if n.has(*kinds) and not n.has("wash")]
        if not films and not before:
            # `do I need sulfates for dimethicone`
            films = [n for n in clause.led_by("for") if n.has("film")]
        films = [n for n in films if not n.has("value")]
        if not films or not after:
            continue
        needed = next((n for n in after if n not in films), None)
        if needed is None:
            continue
        film = films[0]
        verbs = [at, *clause.verbs("clear"), *clause.where("turned:clear")]
        used = clause.used(film, needed, *before, verbs=verbs)
        predicate: q.Predicate = q.Needs(needed.term)
        if clause.asks("which") and film.general:
            predicate = q.Not(predicate) if clause.denied else predicate
            asked = q.Which(film.term, predicate)
            yield Said(asked=asked, used=used, slot="subject")
            continue
        yield stated(clause, film, predicate, used)


def _needed(clause: Clause) -> Iterator[Said]:
    """`is a sulfate needed for F`, `F: sulfate needed?`: whether F needs it."""
    for at, part in enumerate(clause.parts):
        if not isinstance(part, Piece) or part.words[-1] not in words_in("needed"):
            continue
        tools = [n for n in clause.before(at) if n.has("agent", "wash")]
        tools = [n for n in tools if not n.has("product")]
        films = [n for n in clause.nouns if n.has("film") and n not in tools[-1:]]
        films = [n for n in films if not n.has("thing", "wash")]
        if tools and films:
            used = clause.used(tools[-1], films[-1], verbs=[at, *clause.verbs("be")])
            yield stated(clause, films[-1], q.Needs(tools[-1].term), used)


def _takes(clause: Clause, at: int) -> bool:
    """Whether a verb is `takes a`, which needs or removes by what stands about it."""
    part = clause.parts[at]
    return isinstance(part, Piece) and part.words[0] == "takes"
