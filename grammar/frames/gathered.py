"""What a text is about when no verb of it tells: who, what and from where, by kind.

`If I only ever wash with W, will F come out` has the wash in one clause and the film
in another. This is the reading of last resort, and is told to be a guess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import Record, replace
from abluent.grammar.frames.choosing import spread
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

_DOUBT = 3.0
_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())


class _Cast(Record):
    """The nouns of a text by the part that they play."""

    wash: Noun | None
    sources: tuple[Noun, ...]
    films: tuple[Noun, ...]
    lacking: tuple[Noun, ...]


def gathered(clause: Clause) -> Iterator[Said]:
    """A wash, and a film or a product that leaves one: whether the one takes it."""
    cast = _cast(clause)
    takes = [*clause.verbs("clear", "rinse", "go", "need"), *clause.where(*_TURNED)]
    stays = clause.verbs("stay", "leave")
    yield from _classed(clause, cast)
    proof = clause.asks("evidence", "sure")
    asked = proof or clause.asks(*_ASKING)
    every = any(n.quantity is q.Quantity.EVERY for n in clause.nouns if n.has("thing"))
    if clause.circumstances() and not (cast.films or cast.sources or cast.lacking):
        yield from _left_there(clause, cast)
    named = cast.films or cast.sources or (every and takes and cast.wash is not None)
    of_wash = cast.wash is not None and cast.wash.has("product")
    if not named or not (takes or stays or asked or of_wash):
        return
    verbs = takes or stays
    used = clause.used(
        cast.wash, *cast.sources, *cast.films, *cast.lacking, verbs=verbs
    )
    acts = _acts(clause, cast)
    used |= clause.stating() if acts.circumstances else frozenset()
    told = clause.asks("which", "what")
    several = len(cast.films) > 1
    several |= any(n.general or isinstance(n.term, q.And | q.Or) for n in cast.films)
    # `the wax or just the PVP`
    either = clause.where("small:or") and any(
        e.does("quantity:only") for e in clause.pieces
    )
    told = (told or bool(takes and either)) and several
    by_name = cast.wash is not None and not cast.wash.general
    # `A or B for F and G`: which of two washes, and no film of the one.
    by_name = by_name and not any(n.has("agent") for n in cast.sources)
    if told and cast.wash and cast.films and (stays or by_name):
        # `which of these does W leave behind`, `which goes, which stays`
        if isinstance(acts.object, q.Or):
            acts = replace(acts, object=q.And(acts.object.terms))
        made = q.Not(acts) if stays and not takes else acts
        left = q.What(without(cast.wash.term, cast.lacking), made)
        used |= clause.used(verbs=[*takes, *stays])
        yield Said(asked=left, used=used, slot="object", doubt=_DOUBT - 1)
        return
    if cast.wash is not None and not cast.wash.general:
        said = stated(clause, cast.wash, acts, used)
        said = _turned(said) if stays and not takes else said
        yield replace(said, doubt=_DOUBT)
        return
    subject = without(cast.wash.term if cast.wash else WASHES, cast.lacking)
    if proof and cast.films and subject != WASHES:
        yield Said(subject, acts, used=used, doubt=_DOUBT, general=True)
        return
    if takes or cast.wash is not None:
        which = q.Which(subject, acts)
        yield Said(asked=which, used=used, slot="subject", doubt=_DOUBT + 0.5)
    elif cast.sources:
        asked_left = q.What(cast.sources[0].term, q.Leaves(q.Thing()))
        used = clause.used(*cast.sources, verbs=verbs)
        yield Said(asked=asked_left, used=used, slot="object", doubt=_DOUBT + 0.5)
    elif stays or proof:
        yield replace(
            stated(clause, cast.films[0], q.Stays(clause.circumstances()), used),
            doubt=_DOUBT + 0.5,
        )


def _left_there(clause: Clause, cast: _Cast) -> Iterator[Said]:
    """A product and how hair is washed: `can I use soft water with W`."""
    if cast.wash is None or not cast.wash.has("product"):
        return
    leaves = q.Leaves(q.Thing(), clause.circumstances())
    used = clause.used(cast.wash) | clause.stating()
    asked = q.What(cast.wash.term, leaves)
    yield Said(asked=asked, used=used, slot="object", doubt=_DOUBT)


_ASKING = ("which", "what", "advise", "how_often", "enough", "plan")
_SET_ASIDE = ("wash", "film", "product", "agent")
_HOLDING = ("wash", "product", "kind")
_TURNED = ("turned:clear", "turned:rinse", "heads:clear", "heads:turned")


def _classed(clause: Clause, cast: _Cast) -> Iterator[Said]:
    """Ingredients and one class, and no verb between them: whether they are such."""
    nouns = [n for n in clause.nouns if not n.has("kind", "wash", "product", "thing")]
    one = [n for n in nouns if n.has("ingredient") and not n.general]
    kinds = [n for n in nouns if n.has("class") and n.general]
    kinds = [n for n in kinds if n.term != q.Name("ingredients")]
    busy = clause.verbs("clear", "stay", "leave", "need") or clause.where(*_TURNED)
    busy = busy or clause.where("ask:advise")
    if not one or len(kinds) != 1 or busy or cast.lacking:
        return
    term = kinds[0].single_term or kinds[0].term
    several = tuple(dict.fromkeys(each for n in one for each in q.members(n.term)))
    if len(several) > 1 and not clause.verbs("be"):
        # `a silicone: A? B? C?`
        used = clause.used(*one, kinds[0], verbs=clause.verbs("be", "contain"))
        asked = q.Which(q.And(several), q.Is(term))
        yield Said(asked=asked, used=used, slot="subject", doubt=_DOUBT - 1)
        return
    used = clause.used(one[0], kinds[0], verbs=clause.verbs("be", "contain", "hide"))
    yield replace(stated(clause, one[0], q.Is(term), used), doubt=_DOUBT)


def _cast(clause: Clause) -> _Cast:
    lacking = bans(clause)
    nouns = [n for n in spread(clause.nouns) if n not in lacking and not n.has("thing")]
    products = [n for n in nouns if n.has("product")]
    washes = [n for n in products if n.has("wash")]
    washes += [n for n in nouns if n.has("wash") and n not in washes]
    agents = [n for n in nouns if n.has("agent") and not n.has("film", *_HOLDING)]
    wash = _made_of(clause, washes, agents)
    sources = tuple(n for n in products if not n.has("wash"))
    films = tuple(
        n
        for n in nouns
        if n.has("film") and not n.has("wash", "product") and n not in agents
    )
    if not sources and not films:
        # `hairspray`, by itself, is what it leaves.
        sources = tuple(n for n in nouns if n.has("kind") and not n.has(*_SET_ASIDE))
    return _Cast(wash, sources, films, tuple(lacking))


def _made_of(
    clause: Clause, washes: Sequence[Noun], agents: Sequence[Noun]
) -> Noun | None:
    """The wash that is meant: one by name, or a wash with what is said to be in it."""
    named = [n for n in washes if n.has("product")]
    if named:
        return named[0]
    if washes and agents and isinstance(washes[0].term, q.Name):
        held = q.Contains(agents[0].term)
        made = q.Such(washes[0].term, (held,))
        last = max(washes[0].last, agents[0].last)
        first = min(washes[0].first, agents[0].first)
        loose = frozenset(
            at
            for at in range(first, last + 1)
            if not _within(at, washes[0]) and not _within(at, agents[0])
        )
        return replace(washes[0], term=made, first=first, last=last, loose=loose)
    if washes:
        return washes[0]
    if not agents:
        return None
    one = agents[0]
    if one.general and not clause.verbs("contain"):
        return replace(one, term=q.Such(WASHES, (q.Contains(one.term),)))
    return one


def _within(at: int, noun: Noun) -> bool:
    return noun.first <= at <= noun.last


def _acts(clause: Clause, cast: _Cast) -> q.Clears:
    """That it takes the films, or all that the products leave."""
    conditions = clause.circumstances()
    source: q.Term | None = None
    if cast.sources:
        terms = tuple(dict.fromkeys(n.term for n in cast.sources))
        source = terms[0] if len(terms) == 1 else q.And(terms)
    if not cast.films:
        return q.Clears(_EVERYTHING, source, circumstances=conditions)
    films = tuple(dict.fromkeys(n.term for n in cast.films))
    film = films[0] if len(films) == 1 else q.And(films)
    return q.Clears(film, source, circumstances=conditions)


def _turned(said: Said) -> Said:
    """That it stays is that it is not taken."""
    predicate = said.predicate
    if isinstance(predicate, q.Not):
        return replace(said, predicate=predicate.part)
    return said if predicate is None else replace(said, predicate=q.Not(predicate))


def outweighing(clause: Clause) -> Iterator[Said]:
    """`does P have more X than Y`: which of the two stands first on its label."""
    products = [n for n in clause.nouns if n.has("product")]
    than = clause.led_by("than") or [
        n
        for at in (*clause.where("small:than"), *_more_than(clause))
        for n in clause.after(at)
    ]
    things = [
        n
        for n in clause.nouns
        if n.has("ingredient", "class") and n not in products and n not in than
    ]
    more = [*clause.where("contrast:better"), *clause.where("small:above")]
    more += [*clause.where("contrast:less"), *clause.where("small:below")]
    both = tuple(dict.fromkeys(t for n in products for t in q.members(n.term)))
    if len(both) == _TWO and things and more and not than and _in_each(clause):
        # `is there more X in P or in Q`
        verbs = [*more, *clause.verbs("contain", "be")]
        used = clause.used(*products, things[0], verbs=verbs)
        lines = q.Compare(q.And(both), lines=True)
        yield Said(asked=lines, used=used, slot="subject", doubt=-1.0)
        return
    if not products or not than or not things or not more:
        return
    other = [n for n in than if n.has("product") and n is not products[0]]
    if other and clause.verbs("contain") and not clause.verbs("clear"):
        # `has P more X in it than Q`
        pair = q.And((products[0].term, other[0].term))
        verbs = [*more, *clause.verbs("contain"), *clause.where("small:than")]
        used = clause.used(products[0], things[0], other[0], verbs=verbs)
        asked = q.Compare(pair, lines=True)
        yield Said(asked=asked, used=used, slot="subject", doubt=-1.2)
        return
    if not clause.verbs("contain", "be") or clause.where(*_TAKING):
        return
    if not than[0].has("ingredient", "class") or than[0].has("product", "wash"):
        return
    thing = things[0]
    if not clause.verbs("contain") or len(things) > 1:
        # `P has X, Y later. Is there more X than Y`: what stands next to it.
        before = [n for n in clause.before(more[0]) if n in things]
        thing = before[-1] if before else thing
    verbs = [*more, *clause.verbs("contain", "be"), *clause.where("small:than")]
    used = clause.used(products[0], *things, thing, than[0], verbs=verbs)
    if thing.term == than[0].term:
        return
    acts = q.Precedes(thing.term, than[0].term)
    if clause.where("contrast:less", "small:below"):
        acts = q.Precedes(than[0].term, thing.term)
    yield replace(stated(clause, products[0], acts, used), doubt=-1.2)


def _more_than(clause: Clause) -> list[int]:
    """The places of `more than` and `less than`."""
    places = clause.where("contrast:better", "contrast:less", "small:above")
    parts = ((at, clause.parts[at]) for at in (*places, *clause.where("small:below")))
    return [at for at, e in parts if isinstance(e, Piece) and e.words[-1] == "than"]


_TAKING = ("verb:clear", "turned:clear", "turned:rinse", "verb:stay", "verb:leave")
_TWO = 2
"""How many labels are set side by side."""


def _in_each(clause: Clause) -> bool:
    """Whether it is asked what is in one product or in another."""
    inside = [n for n in clause.nouns if n.has("product") and n.before == "in"]
    return bool(inside) and bool(clause.where("small:or") or inside[0].listed)


_AFTER = words_in("after")
_BEFORE = words_in("before")


def positioned(clause: Clause) -> Iterator[Said]:
    """`dimethicone after phenoxyethanol`, said of a label."""
    for at, part in enumerate(clause.parts):
        if not isinstance(part, Piece) or not (_AFTER | _BEFORE) & {*part.words}:
            continue
        way = _way(part)
        pair = _neighbours(clause, at) if way else None
        if pair is None:
            continue
        one, other = pair if way == "before" else (pair[1], pair[0])
        acts = q.Precedes(one.term, other.term)
        holders = [n for n in clause.nouns if n.has("product") and n not in pair]
        used = clause.used(*pair, *holders[:1], verbs=[at, *clause.verbs("be")])
        if holders:
            said = stated(clause, replace(holders[0], quantity=None), acts, used)
            yield replace(said, doubt=-0.5)
        elif not clause.circumstances():
            kinds = [n for n in clause.nouns if n.has("kind") and n not in pair]
            subject = kinds[0].term if kinds else q.Name("products")
            used |= clause.used(*kinds[:1])
            asked = q.Which(subject, acts)
            yield Said(asked=asked, used=used, slot="subject", doubt=1.0)


def _way(piece: Piece) -> str:
    words = {*piece.words}
    return "after" if words & _AFTER else "before" if words & _BEFORE else ""


def _neighbours(clause: Clause, at: int) -> tuple[Noun, Noun] | None:
    """The ingredients on both sides of a place, if there are two."""
    before = [p for p in clause.parts[:at] if isinstance(p, Noun)]
    before = [n for n in before if not n.has("product")]
    after = [p for p in clause.parts[at + 1 :] if isinstance(p, Noun)]
    if not before or not after:
        return None
    pair = before[-1], after[0]
    listed = all(
        n.has("ingredient", "class")
        and not n.has("product", "kind", "wash", "water", "thing")
        for n in pair
    )
    return pair if listed and not clause.verbs("clear", "stay", "leave") else None
