"""One wash and two films: `does W take off A or just B`, `A and not B`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_TAKES = ("verb:clear", "turned:clear", "heads:clear", "heads:turned")


def either(clause: Clause) -> Iterator[Said]:
    """Which of some films a wash takes, where `or just` sets the last one apart."""
    apart = _set_apart(clause)
    takes = clause.where(*_TAKES)
    if apart is None or not takes or clause.denied:
        return
    films = [n for n in clause.nouns if _is_film(n) and n is not apart]
    agents = [n for n in clause.nouns if n.has("agent", "wash") and not _is_film(n)]
    if not films or not agents:
        return
    sources = [n for n in clause.led_by("from", "in") if n.has("product")]
    sources += [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    terms = tuple(dict.fromkeys(t for n in (*films, apart) for t in q.members(n.term)))
    if len(terms) < len((films, apart)):
        return
    source = sources[0] if sources and sources[0] is not agents[0] else None
    acts = q.Clears(
        q.And(terms),
        source.term if source is not None else None,
        circumstances=clause.circumstances(),
    )
    verbs = [*takes, *clause.where("quantity:only")]
    used = clause.used(agents[0], *films, apart, source, verbs=verbs)
    asked = q.What(agents[0].term, acts)
    yield Said(asked=asked, used=used, slot="object", doubt=-1.0)


def _is_film(noun: Noun) -> bool:
    return noun.has("film") and not noun.has("wash", "product", "thing", "water")


def _set_apart(clause: Clause) -> Noun | None:
    """The film after `or just`, `or only`."""
    for at, part in enumerate(clause.parts[1:], 1):
        if not isinstance(part, Noun) or not _is_film(part):
            continue
        before = clause.parts[at - 1]
        led = isinstance(before, Piece) and before.does("small:or", "quantity:only")
        earlier = clause.parts[max(0, at - 3) : at]
        either_ = any(isinstance(e, Piece) and e.does("small:or") for e in earlier)
        own = part.quantity is q.Quantity.ONLY
        only = own or any(
            isinstance(e, Piece) and e.does("quantity:only") for e in earlier
        )
        if led and either_ and only:
            return part
    return None
