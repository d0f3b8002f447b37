"""What is asked for without a verb of the language: a plan, a wash for something."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q


def advising(clause: Clause) -> Iterator[Said]:
    """`which wash for P`: those that take off what it leaves."""
    if not clause.asks("which", "what", "advise") or clause.verbs("clear"):
        return
    washes = [n for n in clause.nouns if n.has("wash") and not n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    lacking = bans(clause)
    films = [n for n in films if n not in lacking]
    if not (washes or clause.asks("advise")) or not (sources or films):
        return
    subject = without(washes[0].term if washes else WASHES, lacking)
    used = clause.used(*washes[:1], *sources[:1], *films[:1], *lacking)
    conditions = clause.circumstances()
    if sources:
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, sources[0].term, circumstances=conditions)
    else:
        acts = q.Clears(films[0].term, circumstances=conditions)
    yield Said(asked=q.Which(subject, acts), used=used, slot="subject", doubt=0.3)


_COUNTED = words_in("so many")


def how_often(clause: Clause) -> Iterator[Said]:
    """How many washes it takes is not counted; whether one does can be asked."""
    if not clause.asks("how_often"):
        return
    washes = [n for n in clause.nouns if n.has("wash")]
    washes += [n for n in clause.led_by("with", "by") if n.has("agent")]
    washes.sort(key=lambda noun: not noun.has("product"))
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    if not washes or not (sources or films):
        return
    verbs = [*clause.verbs("clear", "go"), *clause.where("turned:clear")]
    used = clause.used(washes[0], *sources[:1], *films[:1], verbs=verbs)
    if sources:
        object_: q.Term = (
            films[0].term if films else q.Quantified(q.Quantity.EVERY, q.Thing())
        )
        acts = q.Clears(object_, sources[0].term)
    else:
        acts = q.Clears(films[0].term)
    if any({*piece.words} & _COUNTED for piece in clause.pieces):
        # `how many washes does it take`
        used |= clause.used(verbs=clause.where("ask:how_often"))
        made = replace(acts, circumstances=clause.circumstances())
        rounds = q.Rounds(washes[0].term, made)
        yield Said(asked=rounds, used=used, slot="object", doubt=-0.9)
        return
    single = not washes[0].general
    yield Said(washes[0].term, acts, single=single, used=used, doubt=-0.5)


def sufficing(clause: Clause) -> Iterator[Said]:
    """`P all week, W on Sunday, is that enough`: whether W takes off what P leaves."""
    if not clause.asks("enough") or clause.verbs("clear"):
        return
    if clause.where("contrast:mild", "contrast:harsh"):
        return
    cleans = ("wash", "water", "cleanser")
    washes = [n for n in clause.nouns if n.has(*cleans) and not n.has("film")]
    products = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    if not washes or not (products or films):
        return
    wash, used = washes[-1], clause.used(washes[-1], *products[:1], *films[:1])
    if products:
        thing = q.Quantified(q.Quantity.EVERY, q.Thing())
        object_: q.Term = films[0].term if films else thing
        acts = q.Clears(object_, products[0].term, circumstances=clause.circumstances())
    else:
        acts = q.Clears(films[0].term, circumstances=clause.circumstances())
    useless = any(e.does("ask:enough") and e.does("small:no") for e in clause.pieces)
    yield replace(stated(clause, wash, acts, used), doubt=-0.5 if useless else 0.6)


def planning(clause: Clause) -> Iterator[Said]:
    """A plan is asked for: the mildest washes that take off what is named."""
    if not clause.asks("plan"):
        return
    washes = [n for n in clause.nouns if n.has("wash") and not n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    films += [_inside(n) for n in clause.nouns if _holds(n)]
    if not sources and not films:
        return
    subject = washes[0].term if washes else WASHES
    used = clause.used(*washes[:1], *sources, *films)
    used |= clause.used(verbs=clause.verbs("clear", "stay"))
    lacking = bans(clause)
    subject = without(subject, lacking)
    used |= clause.used(*lacking)
    films = [n for n in films if n not in lacking]
    if not sources and not films:
        return
    everything = q.Quantified(q.Quantity.EVERY, q.Thing())
    if sources:
        source = (
            sources[0].term
            if len(sources) == 1
            else q.And(tuple(n.term for n in sources))
        )
        acts = q.Clears(everything, source, circumstances=clause.circumstances())
    else:
        terms = tuple(n.term for n in films)
        target = terms[0] if len(terms) == 1 else q.And(terms)
        acts = q.Clears(target, circumstances=clause.circumstances())
    yield Said(asked=q.Which(subject, acts, q.Order.MILDEST), used=used, slot="subject")


def _holds(noun: Noun) -> bool:
    """Whether a noun is a kind of product with something in it: `PVP gel`."""
    if noun.has("wash") or not isinstance(noun.term, q.Such):
        return False
    return isinstance(noun.term.conditions[0], q.Contains)


def _inside(noun: Noun) -> Noun:
    assert isinstance(noun.term, q.Such)
    held = noun.term.conditions[0]
    assert isinstance(held, q.Contains)
    return replace(noun, term=held.object, kinds=frozenset({"film"}))


def listing(clause: Clause) -> Iterator[Said]:
    """`list all products with PVP`: those of some kind that are so."""
    if not clause.asks("which") or clause.is_busy() or clause.verbs("be"):
        return
    nouns = [n for n in clause.nouns if isinstance(n.term, q.Such) and _is_told(n)]
    if len(clause.nouns) == 1 and not nouns and clause.nouns[0].has("class"):
        # `name the chelants you know`
        told = q.Define(clause.nouns[0].term)
        used = clause.used(clause.nouns[0])
        yield Said(asked=told, used=used, slot="subject", doubt=0.3)
    if len(nouns) == 1 and len(clause.nouns) == 1:
        counts = _limits(clause, nouns[0])
        limit = int(clause.pieces[counts[0]].value) if counts else None
        used = clause.used(nouns[0]) | {clause.places[at] for at in counts}
        asked = q.Which(nouns[0].term, limit=limit)
        yield Said(asked=asked, used=used, slot="subject", doubt=-0.1)


def _limits(clause: Clause, noun: Noun) -> list[int]:
    """The place of the number right before a noun: so many of them."""
    at = noun.first - 1
    piece = clause.pieces[at] if at >= 0 else None
    counted = piece is not None and piece.entry.section == "number"
    return [at] if piece is not None and counted and piece.value.isdigit() else []


def _is_told(noun: Noun) -> bool:
    """Whether those of a kind can be listed: products, or names by their letters."""
    assert isinstance(noun.term, q.Such)
    last = noun.term.conditions[-1]
    core = q.asked_act(last)
    return noun.has("kind") or isinstance(core, q.Named)


def bare(clause: Clause) -> Iterator[Said]:
    """Nothing but names: what takes the one off, or what the other leaves."""
    if clause.is_busy() or clause.verbs("be"):
        return
    products = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    washes = [n for n in clause.nouns if n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing")]
    used = clause.used(*clause.nouns)
    if washes and products:
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, products[0].term)
        yield replace(stated(clause, washes[0], acts, used), doubt=3.0)
    elif films and not washes:
        yield Said(
            asked=q.Which(WASHES, q.Clears(films[0].term)),
            used=used,
            slot="subject",
            doubt=3.0,
        )
    elif products:
        asked = q.What(products[0].term, q.Leaves(q.Thing()))
        yield Said(asked=asked, used=used, slot="object", doubt=3.0)
