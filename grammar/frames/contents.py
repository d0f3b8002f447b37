"""What stands on a label, what its pack says of that, and what a film needs."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q


def containing(clause: Clause) -> Iterator[Said]:
    yield from _only_there(clause)
    for at in clause.verbs("contain", "lack"):
        before, after = clause.before(at), clause.after(at, "", "of")
        holders = [n for n in before if n.has("product", "kind", "wash")]
        holders += [n for n in clause.led_by("in") if n.has("product", "kind", "wash")]
        things = [n for n in after if n.has("ingredient", "class", "value", "thing")]
        if not holders or not things or things[0] in holders:
            continue
        subject, object_ = holders[-1], things[0]
        lacks = bool(clause.verbs("lack"))
        place, level, more = detail(clause, at)
        used = clause.used(subject, object_, verbs=[at, *more])
        predicate: q.Predicate = q.Contains(object_.whole, level, place)
        predicate = q.Not(predicate) if lacks else predicate
        asked = clause.asks("which", "what") and subject.general
        if asked and subject is clause.nouns[0]:
            predicate = q.Not(predicate) if clause.denied else predicate
            yield Said(
                asked=q.Which(subject.term, predicate), used=used, slot="subject"
            )
            continue
        yield stated(clause, subject, predicate, used)
    yield from _inside(clause)
    yield from _are_in(clause)
    for at in clause.verbs("hide"):
        before, after = clause.before(at), clause.after(at)
        inside = [n for n in clause.after(at, "", "in") if n.has("product")]
        if inside and not (before and before[-1].has("product")):
            used = clause.used(inside[0], verbs=[at])
            hides = q.Hides(q.Thing())
            yield Said(asked=q.What(inside[0].term, hides), used=used, slot="object")
            continue
        if before and before[-1].has("product"):
            used = clause.used(before[-1], *after[:1], verbs=[at])
            if after:
                predicate = q.Hides(after[0].whole)
                yield stated(clause, before[-1], predicate, used)
            else:
                yield Said(
                    asked=q.What(before[-1].term, q.Hides(q.Thing())),
                    used=used,
                    slot="object",
                )


def _only_there(clause: Clause) -> Iterator[Said]:
    """`what does P have that Q has not`: the two labels line by line."""
    products = [n for n in clause.nouns if n.has("product")]
    terms = tuple(dict.fromkeys(t for n in products for t in q.members(n.term)))
    things = [n for n in clause.nouns if n not in products]
    has = clause.verbs("contain")
    lacks = clause.denied or len(has) > 1
    if len(terms) == 2 and has and lacks and clause.asks("what") and not things:
        used = clause.used(*products, verbs=has)
        lines = q.Compare(q.And(terms), lines=True)
        yield Said(asked=lines, used=used, slot="subject", doubt=-0.6)


def _inside(clause: Clause) -> Iterator[Said]:
    """`list all silicones in P`: what P has of them."""
    products = [n for n in clause.led_by("in") if n.has("product")]
    things = [n for n in clause.nouns if n.has("class", "value") and n not in products]
    yield from _in_alone(clause, products)
    every = [n for n in things if n.term == q.Name("ingredients")]
    if every and len(things) > 1:
        # `which ingredients in P are surfactants`
        things = [n for n in things if n not in every]
        things = [replace(things[0], first=every[0].first, loose=frozenset())]
    asked_in = any(n.before == "in" for n in products) and clause.asks("what")
    asked_so = clause.asks("which") or (asked_in and clause.verbs("be"))
    if clause.is_busy() or not products or not things or not asked_so:
        return
    used = clause.used(things[0], products[0], verbs=clause.verbs("be"))
    asked = q.What(products[0].term, q.Contains(things[0].term))
    yield Said(asked=asked, used=used, slot="object", doubt=-0.2)


def _in_alone(clause: Clause, products: list[Noun]) -> Iterator[Said]:
    """`I is only in P`: nothing else has it."""
    for noun in products[:1]:
        only = clause.pieces[max(0, noun.first - 3) : noun.first + 1]
        alone = noun.quantity is q.Quantity.ONLY or any(
            each.does("quantity:only") for each in only
        )
        held = [n for n in clause.nouns if n.has("ingredient", "class")]
        held = [n for n in held if n.last < noun.first and not n.has("product")]
        if alone and held and not clause.is_busy():
            verbs = [*clause.verbs("be"), *clause.where("quantity:only")]
            used = clause.used(noun, held[-1], verbs=verbs)
            subject = q.Quantified(q.Quantity.ONLY, noun.term)
            yield Said(subject, q.Contains(held[-1].term), used=used, doubt=-0.4)


def _are_in(clause: Clause) -> Iterator[Said]:
    """`which quats are in P`: what P has of them; `X is in P`: that it has it."""
    none = [n for n in clause.nouns if n.quantity is q.Quantity.NO]
    none = [n for n in none if n.has("class", "ingredient") and not n.has("thing")]
    inside = [n for n in clause.led_by("in") if n.has("product")]
    if none and inside and not clause.is_busy() and len(clause.nouns) == 2:
        # `no silicones in P`
        acts = q.Contains(none[0].whole)
        used = clause.used(none[0], inside[0], verbs=clause.verbs("be"))
        yield stated(clause, replace(inside[0], quantity=None), acts, used)
    some = [n for n in clause.nouns if n.any and n.has("class", "ingredient")]
    if some and inside and not clause.is_busy() and len(clause.nouns) == 2:
        # `any silicones in P`
        held = q.Contains(some[0].single_term or some[0].term)
        used = clause.used(some[0], inside[0], verbs=clause.verbs("be"))
        whole = replace(inside[0], quantity=None)
        yield replace(stated(clause, whole, held, used), doubt=-0.3)
    for at in clause.verbs("contain"):
        part = clause.parts[at]
        if not isinstance(part, Piece) or part.words[-1] not in words_in("inside"):
            continue
        things = [n for n in clause.before(at) if n.has("class", "ingredient")]
        things = [n for n in things if not n.has("product", "thing")]
        holders = [n for n in clause.after(at, "", "in") if n.has("product")]
        if not things or not holders:
            continue
        thing, used = things[-1], clause.used(things[-1], holders[0], verbs=[at])
        acts = q.Contains(thing.term)
        if clause.asks("which", "what") and thing.general:
            made = q.Not(acts) if clause.denied else acts
            asked = q.What(holders[0].term, made)
            yield Said(asked=asked, used=used, slot="object", doubt=-0.3)
            continue
        held = q.Contains(thing.whole)
        holder = replace(holders[0], quantity=None)
        yield replace(stated(clause, holder, held, used), doubt=0.3)


def detail(clause: Clause, at: int) -> tuple[int | None, q.Level | None, list[int]]:
    """A place or a level that the clause gives."""
    from decimal import Decimal  # noqa: PLC0415 - few clauses have a level

    for spot, part in enumerate(clause.parts):
        if not isinstance(part, Piece) or part.entry.section != "number":
            continue
        after = clause.parts[spot + 1] if spot + 1 < len(clause.parts) else None
        if isinstance(after, Piece) and after.does("small:percent"):
            value = Decimal(part.value)
            earlier = clause.parts[spot - 1] if spot else None
            if isinstance(earlier, Piece) and _is_above(earlier):
                places = [spot - 1, spot, spot + 1]
                return None, q.Level(low=value, open_ended=True), places
            if isinstance(earlier, Piece) and earlier.does("small:below"):
                return None, q.Level(high=value, open_ended=True), [spot, spot + 1]
            return None, q.Level(value, value), [spot, spot + 1]
        if part.value.isdigit() and (
            (isinstance(after, Piece) and after.does("small:place"))
            or _is_ordinal(part.words[0])
        ):
            return int(part.value), None, [spot]
        earlier = clause.parts[spot - 1] if spot else None
        if isinstance(earlier, Piece) and (
            earlier.words == ("#",) or earlier.words[-1] in words_in("position")
        ):
            return int(part.value), None, [spot]
    return None, None, []


_ORDINALS = words_in("ordinals")


def _is_ordinal(word: str) -> bool:
    """Whether a word tells a place and no count: `third`, `3rd`."""
    return word in _ORDINALS or (word[:1].isdigit() and not word.isdigit())


def _is_above(piece: Piece) -> bool:
    """Whether a number after it is a lower bound: `more than`, `above`."""
    return piece.does("small:above") or piece.words[0] in ("more", "over")


def placed(clause: Clause) -> Iterator[Said]:
    """`X is the ninth ingredient of P`."""
    place, level, more = detail(clause, 0)
    if place is None and level is None:
        return
    products = [n for n in clause.nouns if n.has("product")]
    things = [
        n
        for n in clause.nouns
        if n.has("ingredient", "class") and n.has("film", "agent")
    ]
    whole = q.Name("ingredients")
    things = [n for n in things if n.term != whole]
    things = [n for n in things if n not in products]
    if products and not things and place is not None and not clause.is_busy():
        # `what is the third ingredient of P`
        asked = q.What(products[0].term, q.Contains(q.Thing(), None, place))
        verbs = [*more, *clause.verbs("be"), *clause.where("ask:define", "ask:what")]
        used = clause.used(products[0], *clause.nouns, verbs=verbs)
        yield Said(asked=asked, used=used, slot="object", doubt=0.2)
    bounded = level is not None and level.open_ended
    told = place is not None and (clause.verbs("be") or clause.where("small:place"))
    if things and not products and not clause.is_busy() and (bounded or told):
        # `X is third`: on which labels it is.
        held = q.Contains(things[0].term, level, place)
        verbs = [*more, *clause.verbs("be", "contain")]
        used = clause.used(things[0], *_kinds(clause), verbs=verbs)
        which = q.Which(products_of(clause), held)
        yield Said(asked=which, used=used, slot="subject", doubt=0.3)
    if products and things and not clause.verbs("contain"):
        used = clause.used(products[0], things[0], verbs=[*more, *clause.verbs("be")])
        predicate = q.Contains(things[0].term, level, place)
        yield replace(stated(clause, products[0], predicate, used), doubt=1.0)


def _kinds(clause: Clause) -> list[Noun]:
    """The kind of product that is spoken of, if one is."""
    return [n for n in clause.nouns if n.has("kind") and not n.has("film")][:1]


def products_of(clause: Clause) -> q.Term:
    """The kind of product that a clause names; all of them, if it names none."""
    kinds = _kinds(clause)
    return kinds[0].term if kinds else q.Name("products")


def counting(clause: Clause) -> Iterator[Said]:
    """`how many silicones are in P`, `I count 2 silicones in P`."""
    if not clause.asks("how_many"):
        yield from _counted(clause)
        return
    products = [n for n in clause.nouns if n.has("product")]
    things = [n for n in clause.nouns if n.has("class", "value") and n not in products]
    stays = clause.verbs("leave", "stay")
    if products and stays and len(products) == 1:
        # `how many ingredients of P stay`
        left = q.What(products[0].term, q.Leaves(q.Name("ingredients")))
        loose = [n for n in clause.nouns if n.has("thing")]
        used = clause.used(products[0], *things[:1], *loose, verbs=stays)
        yield Said(asked=q.HowMany(left), used=used, slot="object", doubt=-1.0)
    listed = [n for n in products if len(q.members(n.term)) > 1]
    if listed and things and clause.verbs("contain"):
        # `how many of these hold X: A, B, C`
        held = q.Which(q.And(q.members(listed[0].term)), q.Contains(things[-1].term))
        used = clause.used(listed[0], *things, verbs=clause.verbs("contain"))
        yield Said(asked=q.HowMany(held), used=used, slot="subject", doubt=-0.8)
    narrow = [
        n
        for n in things
        if not isinstance(n.term, q.Name) or n.term.text != "ingredients"
    ]
    if products and things:
        thing = (narrow or things)[-1]
        asked = q.What(products[0].term, q.Contains(thing.term))
        used = clause.used(products[0], *things, verbs=clause.verbs("be", "contain"))
        yield Said(asked=q.HowMany(asked), used=used, slot="object", doubt=-0.5)


def _counted(clause: Clause) -> Iterator[Said]:
    """`I count 2 silicones in P`: how many there are."""
    counts = any({*e.words} & words_in("counts") for e in clause.pieces)
    products = [n for n in clause.led_by("in") if n.has("product")]
    things = [n for n in clause.nouns if n.quantity is q.Quantity.EXACTLY]
    things = [n for n in things if n.has("class") and not n.has("kind")]
    if counts and products and things:
        asked = q.HowMany(q.What(products[0].term, q.Contains(things[0].term)))
        used = clause.used(products[0], things[0])
        yield Said(asked=asked, used=used, slot="object", doubt=-1.0)
