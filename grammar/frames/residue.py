"""What is left on hair, and what stays there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import NO_WASH, WASHES, Clause, Said, asked_noun
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import OF_WASHES
from abluent.grammar.query import tree as q


def leaving(clause: Clause) -> Iterator[Said]:
    for at in clause.verbs("leave"):
        before, after = clause.before(at), clause.after(at)
        products = [n for n in before if n.has("product", "kind", "wash")]
        subject = products[-1] if products else before[-1] if before else None
        object_ = after[0] if after else None
        if subject is None:
            washes = [n for n in clause.nouns if n.has("wash") and n is not object_]
            subject = washes[-1] if washes else None
        if subject is None:
            continue
        used = clause.used(subject, object_, verbs=[at])
        subject = _as_wash(subject)
        yield from _outleft(clause, at)
        circumstances = clause.circumstances()
        if clause.asks("what") and object_ is None:
            yield Said(
                asked=q.What(subject.term, q.Leaves(q.Thing(), circumstances)),
                used=used,
                slot="object",
            )
            continue
        if subject.has("film") and not subject.has("product", "kind"):
            yield from _held(clause, subject, at)
            inside = [n for n in clause.led_by("in") if n.has("product")]
            if inside and subject.has("ingredient"):
                # `F in P coats my hair`: P leaves it.
                left = q.Leaves(subject.whole, circumstances)
                used |= clause.used(inside[0], object_)
                yield replace(stated(clause, inside[0], left, used), doubt=-0.1)
            yield from _left(clause, subject, object_, used)
            continue
        if clause.asks("which") and asked_noun(clause) is subject:
            object_term = object_.whole if object_ else anything()
            acts: q.Predicate = q.Leaves(object_term, circumstances)
            acts = q.Not(acts) if clause.denied else acts
            yield Said(asked=q.Which(subject.term, acts), used=used, slot="subject")
            continue
        if subject.has("wash") and object_ is not None and object_.has("film"):
            # `leaves silicones behind` may be said of what it does not take off.
            taken = q.Clears(object_.term, circumstances=circumstances)
            denied = replace(stated(clause, subject, taken, used), doubt=0.4)
            if denied.predicate is not None:
                yield _turned(denied)
        lacking = bans(clause, subject, object_)
        if lacking and subject.general and not subject.has("product"):
            # `soap leaves a film without a chelant`
            base = subject.term
            if not subject.has("wash", "kind"):
                base = q.narrowed(WASHES, q.Contains(base))
            subject = replace(subject, term=without(base, lacking))
            used |= clause.used(*lacking)
        target = object_.whole if object_ is not None else anything()
        yield stated(clause, subject, q.Leaves(target, circumstances), used)


def _as_wash(subject: Noun) -> Noun:
    """What cleans and is no product leaves something as a wash with it does."""
    bare = not subject.has("product", "kind", "wash", "film", "thing", "water")
    if not bare or not subject.has("cleanser"):
        return subject
    made = q.narrowed(WASHES, q.Contains(subject.term))
    return replace(subject, term=made, kinds=OF_WASHES, general=True, single_term=None)


def _outleft(clause: Clause, at: int) -> Iterator[Said]:
    """`A leaves less than B`, `A or B, which leaves more`: the two side by side."""
    more = clause.where("contrast:better", "contrast:less", "small:below")
    products = [n for n in clause.nouns if n.has("product")]
    terms = dict.fromkeys(each for n in products for each in q.members(n.term))
    if not more or len(terms) != 2:
        return
    used = clause.used(*products, verbs=[at, *more, *clause.where("small:than")])
    pair = q.And(tuple(terms))
    yield Said(asked=q.Compare(pair), used=used, slot="subject", doubt=-0.5)


def anything() -> q.Term:
    return q.Quantified(q.Quantity.SOME, q.Thing())


def _turned(said: Said) -> Said:
    """A statement as its denial."""
    subject, predicate = said.subject, said.predicate
    if isinstance(predicate, q.Not):
        return replace(said, predicate=predicate.part)
    assert predicate is not None
    if isinstance(subject, q.Quantified) and subject.quantity is q.Quantity.EVERY:
        none = q.Quantified(q.Quantity.NO, subject.term)
        return replace(said, subject=none)
    return replace(said, predicate=q.Not(predicate))


def _held(clause: Clause, film: Noun, at: int) -> Iterator[Said]:
    """`F in a shampoo, will it leave a film`: whether such washes leave it."""
    holders = [n for n in clause.led_by("in") if n.has("kind") and not n.has("film")]
    if not holders or not film.has("ingredient", "class"):
        return
    made = q.narrowed(holders[0].term, q.Contains(film.term))
    holder = replace(holders[0], term=made, general=True, quantity=None)
    rest = [n for n in clause.after(at) if n.has("kind", "thing")]
    used = clause.used(film, holders[0], *rest[:1], verbs=[at])
    leaves = q.Leaves(film.term, clause.circumstances())
    yield replace(stated(clause, holder, leaves, used), doubt=-0.1)


def _left(
    clause: Clause, subject: Noun, object_: Noun | None, used: frozenset[int]
) -> Iterator[Said]:
    """An ingredient that leaves a film stays itself."""
    nothing = object_ is not None and object_.quantity is q.Quantity.NO
    said_ = stated(clause, subject, q.Stays(clause.circumstances()), used)
    if nothing and said_.predicate is not None:
        if subject.general and subject.quantity in (None, q.Quantity.EVERY):
            none = q.Quantified(q.Quantity.NO, subject.term)
            yield replace(said_, subject=none)
            return
        said_ = replace(said_, predicate=q.Not(said_.predicate))
    yield said_


def staying(clause: Clause) -> Iterator[Said]:
    for at in clause.verbs("stay"):
        before = clause.before(at)
        if not before:
            continue
        subject = _told_of(clause, before)
        inside = [n for n in clause.led_by("in", "from") if n.has("product")]
        used = clause.used(subject, *inside[:1], verbs=[at])
        if subject.has("thing") and inside:
            yield stated(clause, inside[0], q.Leaves(subject.whole), used)
            continue
        if inside and subject.has("film", "ingredient") and not subject.has("product"):
            # `F in P stays on hair`: P leaves it.
            left = q.Leaves(subject.whole, clause.circumstances())
            yield replace(stated(clause, inside[0], left, used), doubt=-0.1)
        holders = [n for n in clause.led_by("in") if n.has("kind")]
        if holders and subject.has("ingredient") and not subject.general:
            # `F in a shampoo stays on hair`: such shampoos leave it.
            made = q.narrowed(holders[0].term, q.Contains(subject.term))
            holder = replace(holders[0], term=made, general=True, quantity=None)
            used = clause.used(subject, holders[0], verbs=[at])
            leaves = q.Leaves(subject.term, clause.circumstances())
            yield stated(clause, holder, leaves, used)
            continue
        circumstances = clause.circumstances()
        yield from _stays_without(clause, subject, at)
        if clause.asks("which", "what") and subject.general:
            acts: q.Predicate = q.Stays(circumstances)
            acts = q.Not(acts) if clause.denied else acts
            yield Said(asked=q.Which(subject.term, acts), used=used, slot="subject")
            continue
        yield stated(clause, subject, q.Stays(circumstances), used)
    for at in clause.verbs("go"):
        dry = [n for n in clause.before(at) if not n.has("water")]
        # `no wash needed for F`
        dry = dry or [n for n in clause.led_by("for") if n.has("film", "product")]
        inside = [n for n in clause.led_by("in", "from") if n.has("product")]
        for subject in [_told_of(clause, dry)] if dry else []:
            used = clause.used(subject, verbs=[at])
            if subject.has("thing") and inside:
                # `everything in P evaporates`: what it leaves does.
                made = q.Such(q.Thing(), (q.Undergoes(q.Passive.LEFT, inside[0].term),))
                used |= clause.used(inside[0])
                yield stated(clause, replace(subject, term=made), NO_WASH, used)
                continue
            yield stated(clause, subject, NO_WASH, used)


def _stays_without(clause: Clause, film: Noun, at: int) -> Iterator[Said]:
    """`without chelants F stays`: no wash without them takes it off."""
    lacking = bans(clause, film)
    if not lacking or not film.has("film") or film.has("product", "wash", "thing"):
        return
    washes = without(WASHES, lacking)
    acts = q.Clears(film.term, circumstances=clause.circumstances())
    subject = washes if clause.denied else q.Quantified(q.Quantity.NO, washes)
    used = clause.used(film, *lacking, verbs=[at, *clause.where("small:without")])
    yield Said(subject, acts, used=used, doubt=-0.1, general=True)


def _told_of(clause: Clause, before: Sequence[Noun]) -> Noun:
    """The noun that something is said of: the first in `X is an alcohol that …`."""
    if len(before) < 2:
        return before[-1]
    one, last = before[-2], before[-1]
    between = clause.pieces[one.last + 1 : last.first + 1]
    article = any(piece.words[0] in ("a", "an") for piece in between)
    is_one = any(piece.does("verb:be") for piece in [*between, *clause.pieces[:1]])
    same = article and is_one and not one.has("kind", "wash")
    return one if same else last


def withstanding(clause: Clause) -> Iterator[Said]:
    """`every F stays with A`: A takes no F off; of a class, no wash with it does."""
    verbs = clause.verbs("stay", "leave")
    tools = [n for n in clause.led_by("with", "by") if n.has("agent")]
    tools = [n for n in tools if not n.has("film", "thing") or n.has("wash")]
    if not verbs or not tools or clause.asks("which", "what"):
        return
    films = [n for n in clause.before(verbs[0]) if n.has("film")]
    films = [n for n in films if not n.has("thing", "wash", "product", "kind")]
    if not films:
        return
    film, tool = films[-1], tools[0]
    things = [n for n in clause.nouns if n.has("thing")]
    used = clause.used(film, tool, *things[:1], verbs=verbs)
    conditions = clause.circumstances()
    if tool.has("class") and not tool.has("wash", "product", "kind"):
        tool = replace(tool, term=q.narrowed(WASHES, q.Contains(tool.term)))
    if clause.denied:
        acts = q.Clears(film.term, circumstances=conditions)
        yield Said(tool.term, acts, used=used, doubt=0.1, general=tool.general)
        return
    if tool.general:
        object_ = film.term
        if film.general:
            object_ = q.Quantified(q.Quantity.SOME, film.term)
        none = q.Quantified(q.Quantity.NO, tool.term)
        acts = q.Clears(object_, circumstances=conditions)
        yield Said(none, acts, used=used, doubt=0.1, general=True)
        return
    acts = q.Clears(film.term, circumstances=conditions)
    if film.general:
        none = q.Quantified(q.Quantity.NO, film.term)
        acts = q.Clears(none, circumstances=conditions)
        yield Said(tool.term, acts, single=True, used=used, doubt=0.1)
        return
    yield Said(tool.term, q.Not(acts), single=True, used=used, doubt=0.1)


def remaining(clause: Clause) -> Iterator[Said]:
    """`what remains of P after W`: what W does not take off."""
    yield from _left_by_both(clause)
    verbs = clause.verbs("stay", "leave")
    washes = [n for n in clause.nouns if n.has("wash") and n.before != "in"]
    products = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    told = clause.asks("what", "which")
    films = [
        n for n in clause.nouns if n.has("film") and n.general and not n.has("thing")
    ]
    after = [n for n in washes if n.before in ("from", "with")]
    if clause.verbs("stay") and films and after and not products and told:
        acts = q.Not(q.Clears(films[0].term))
        used = clause.used(after[0], films[0], verbs=verbs)
        yield Said(asked=q.What(after[0].term, acts), used=used, slot="object")
    things = any(n.has("thing") for n in clause.nouns)
    if verbs and (told or (things and clause.verbs("stay"))) and washes and products:
        wash = washes[0]
        terms = tuple(n.term for n in products)
        source = terms[0] if len(terms) == 1 else q.And(terms)
        acts = q.Not(q.Clears(q.Thing(), source))
        used = clause.used(wash, *products, verbs=verbs)
        yield Said(asked=q.What(wash.term, acts), used=used, slot="object", doubt=-0.5)


def _left_by_both(clause: Clause) -> Iterator[Said]:
    """`does P leave anything that W can't take off`: what that is."""
    leaves, clears = clause.verbs("leave"), clause.verbs("clear")
    clears += clause.where("heads:clear")
    things = [n for n in clause.nouns if n.has("thing")]
    if not leaves or not clears or not things or not clause.denied:
        return
    before = [n for n in clause.before(leaves[0]) if n.has("product")]
    after = [n for n in clause.after(leaves[0]) if n.has("wash", "product")]
    if not before or not after or leaves[0] > clears[0]:
        return
    left = q.Undergoes(q.Passive.LEFT, before[-1].term)
    kept = q.Not(q.Undergoes(q.Passive.CLEARED, after[-1].term))
    used = clause.used(before[-1], things[0], after[-1], verbs=[leaves[0], clears[0]])
    asked = q.Which(q.Thing(), q.Both((left, kept)))
    yield Said(asked=asked, used=used, slot="object", doubt=-0.6)
