"""What something is, and how mild it is said to be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.letters import SAID_OF
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import OF_WASHES, Piece, says_any
from abluent.grammar.query import tree as q


def being(clause: Clause) -> Iterator[Said]:
    places = [] if clause.asks("enough") else clause.verbs("be")
    for at in places:
        before, after = clause.before(at), clause.after(at, "", "as")
        after = [n for n in after if not _past_comma(clause, at, n)]
        inside = [n for n in clause.after(at, "in") if n.has("product", "kind")]
        held = [n for n in clause.led_by("in", "from") if n.has("product")]
        if before and held and before[-1].has("thing") and after:
            # `everything in P is water soluble`: what it leaves is.
            by = q.Undergoes(q.Passive.LEFT, held[0].term)
            things = replace(before[-1], term=q.Such(q.Thing(), (by,)))
            used = clause.used(things, held[0], after[0], verbs=[at])
            yield stated(
                clause, things, q.Is(after[0].single_term or after[0].term), used
            )
            continue
        if before and inside and before[-1].has("ingredient", "class", "value"):
            used = clause.used(before[-1], inside[0], verbs=[at])
            holds = q.Contains(before[-1].whole)
            yield stated(clause, replace(inside[0], any=True), holds, used)
            continue
        if not before and len(after) >= 2:
            # `is X a silicone`
            before, after = after[:1], after[1:]
        if not before or not after:
            continue
        after = [_made_of(before[-1], after[0]), *after[1:]]
        after = [_as_film(clause, before[-1], after[0]), *after[1:]]
        if _no_kind_of(before[-1], after[0]):
            continue
        if before[-1].has("product") and after[0].has("film") and not after[0].general:
            # `hard water + W = scum`
            left = q.Leaves(after[0].term, clause.circumstances())
            used = clause.used(before[-1], after[0], verbs=[at])
            yield replace(stated(clause, before[-1], left, used), doubt=0.2)
        likened = 1.0 * bool(clause.where(*_LIKENING))
        for each in is_(clause, before[-1], _either(clause, after), [at]):
            yield replace(each, doubt=each.doubt + likened)
    if not places and len(clause.nouns) == 2:
        one, other = clause.nouns
        if not clause.is_busy() and other.has("class", "value") and not one.has("kind"):
            for found in is_(clause, one, other, []):
                yield replace(found, doubt=2.0)


def _past_comma(clause: Clause, at: int, noun: Noun) -> bool:
    """`X is bad, Y is bad`: whether something is said before the comma already."""
    place = clause.parts.index(noun)
    between = clause.parts[at + 1 : place]
    commas = [
        n
        for n, e in enumerate(between)
        if not isinstance(e, Noun) and e.words == (",",)
    ]
    told = between[: commas[-1]] if commas else []
    return any(isinstance(e, Piece) and e.entry.section == "unknown" for e in told)


def identical(clause: Clause) -> Iterator[Said]:
    """`A and B, same stuff?`: whether two names are of one ingredient."""
    busy = clause.where("verb:clear", "verb:leave", "turned:clear", "turned:leave")
    places = [] if busy else clause.where("contrast:identical")
    for noun in clause.nouns if places else ():
        named = q.members(noun.term)
        if len(named) != 2 or not noun.has("ingredient") or noun.has("product"):
            continue
        used = clause.used(noun, verbs=[*places, *clause.verbs("be")])
        one = replace(noun, term=named[0])
        yield replace(stated(clause, one, q.Is(named[1]), used), doubt=-0.5)


def _made_of(one: Noun, other: Noun) -> Noun:
    """`a sulfate cleanser`, said of an ingredient, is a sulfate."""
    term = other.term
    if not one.has("ingredient", "class") or one.has("kind", "product"):
        return other
    if not other.has("wash") or not isinstance(term, q.Such):
        return other
    held = term.conditions[0]
    if len(term.conditions) > 1 or not isinstance(held, q.Contains):
        return other
    kinds = frozenset({"class"})
    return replace(other, term=held.object, kinds=kinds, single_term=None)


def _as_film(clause: Clause, one: Noun, other: Noun) -> Noun:
    """`is X a film`: whether it is one of what may stay on hair."""
    said = clause.pieces[other.last].words[-1] in words_in("films")
    if not said or not other.has("thing") or not one.has("ingredient", "class"):
        return other
    film = q.Name("film-former", article="a")
    kinds = frozenset({"class", "film"})
    return replace(other, term=film, kinds=kinds, quantity=None, single_term=film)


_LIKENING = (
    *("contrast:same", "contrast:milder", "contrast:harsher", "contrast:stronger"),
    "contrast:better",
    *("contrast:harder", "contrast:easier"),
)
"""Words that set two things side by side: `is as strong as` says not what one is."""


def _no_kind_of(one: Noun, other: Noun) -> bool:
    """Whether an ingredient is said to be a wash, which is another sort of thing."""
    product = other.has("kind") and not other.has("class", "ingredient")
    kept = one.has("ingredient", "class") and not one.has("kind")
    if _lack_of(other) is not None:
        # `I is sulfate-free`: it is no sulfate.
        return False
    return (other.has("wash") or product) and kept


_HARSH = ("contrast:harsh", "contrast:mild")


def graded(clause: Clause) -> Iterator[Said]:
    """`X is mild`, `is X harsh`: how mild it is, which the language asks."""
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent")]
    for at in clause.where("ask:how_strong"):
        strong = [n for n in clause.nouns if n.has("agent")]
        rivals_ = [
            n for n in strong[1:] if n.has("product") == strong[0].has("product")
        ]
        if rivals_ and clause.where("ask:compare"):
            # `how strong is A compared to B`
            both = q.And((strong[0].term, rivals_[0].term))
            used = clause.used(strong[0], rivals_[0], verbs=[at, *clause.verbs("be")])
            used |= clause.used(verbs=clause.where("ask:compare"))
            asked_of = q.HowMuch(q.Measure.STRONG, both)
            yield Said(asked=asked_of, used=used, slot="subject", doubt=-0.5)
        for noun in strong[:1]:
            used = clause.used(noun, *films[:1], verbs=[at, *clause.verbs("be")])
            film = films[0].term if films else None
            much = q.HowMuch(q.Measure.STRONG, noun.term, film)
            yield Said(asked=much, used=used, slot="subject", doubt=-0.2)
    for at in clause.where("contrast:mild", "contrast:harsh", "ask:how_mild"):
        agents = [n for n in clause.nouns if n.has("agent") and not n.has("water")]
        takes = [n for n in clause.verbs("clear") if n not in clause.where(*_HARSH)]
        if takes or clause.verbs("leave", "stay") or not agents:
            continue
        noun = agents[0]
        others = [n for n in agents[1:] if n.has("product") == noun.has("product")]
        if others and clause.where("ask:compare"):
            # `how gentle is A compared to B`
            both = q.And((noun.term, others[0].term))
            used = clause.used(noun, others[0], verbs=[at, *clause.verbs("be")])
            used |= clause.used(verbs=clause.where("ask:compare"))
            yield Said(asked=q.Rank(both), used=used, slot="subject", doubt=-0.3)
        used = clause.used(noun, verbs=[at, *clause.verbs("be")])
        yield from _claimed(clause, noun, at, used)
        asked = q.HowMuch(q.Measure.MILD, noun.term)
        yield Said(asked=asked, used=used, slot="subject", doubt=0.4)


def _claimed(
    clause: Clause, noun: Noun, at: int, used: frozenset[int]
) -> Iterator[Said]:
    """`X is mild`, as a statement: of a wash, or of washes with a cleanser."""
    part = clause.parts[at]
    verbs = clause.verbs("be")
    asked = clause.asks("whether", "how_mild", "how_strong", "which", "what")
    begins = verbs and not any(isinstance(e, Noun) for e in clause.parts[: verbs[0]])
    if asked or not verbs or begins or not isinstance(part, Piece):
        return
    if part.does("small:question") or at < verbs[0]:
        return
    subject = noun
    if not noun.has("wash"):
        if not noun.has("cleanser"):
            return
        made = q.Such(WASHES, (q.Contains(noun.term),))
        subject = replace(
            noun, term=made, kinds=OF_WASHES, general=True, single_term=None
        )
    word = "strong" if part.does("contrast:harsh") else "mild"
    # Of a cleanser it is asked rather how mild it is.
    doubt = 0.1 if noun.has("wash") else 0.5
    yield replace(stated(clause, subject, q.Is(q.Name(word)), used), doubt=doubt)


def milder_without(clause: Clause) -> Iterator[Said]:
    """`sulfate-free means gentle`: milder than washes that have what it lacks."""
    if clause.asks("how_mild", "how_strong", "which", "what") or clause.led_by("than"):
        return
    if clause.verbs("clear", "leave", "stay", "contain", "need"):
        return
    harsh = ("contrast:harsh", "contrast:harsher")
    for at in clause.where("contrast:mild", "contrast:milder", *harsh):
        free = [n for n in clause.before(at) if _lack_of(n) is not None]
        other = _lack_of(free[0]) if free else None
        if other is None:
            continue
        used = clause.used(free[0], verbs=[at, *clause.verbs("be")])
        strength = q.Strength.MILDER
        if clause.where(*harsh) == [at]:
            strength = q.Strength.HARSHER
        with_it = q.Such(WASHES, (q.Contains(other),))
        said = q.Differs(strength, with_it)
        yield stated(clause, free[0], said, used)


def which_lack(clause: Clause) -> Iterator[Said]:
    """`which ones are silicone-free`: which products have none of it."""
    free = [n for n in clause.nouns if _lack_of(n) is not None]
    if len(clause.nouns) != 1 or not free or not clause.verbs("be"):
        return
    named = any(
        piece.sense is not None and "kind" in piece.sense.kinds
        for piece in clause.pieces
    )
    lack = _lack_of(free[0])
    if named or lack is None or not clause.asks("which") or clause.is_busy():
        return
    used = clause.used(free[0], verbs=clause.verbs("be"))
    none = q.Contains(q.Quantified(q.Quantity.NO, lack))
    asked = q.Which(q.Name("products"), none)
    yield Said(asked=asked, used=used, slot="subject", doubt=-0.2)


def _lack_of(noun: Noun) -> q.Term | None:
    """What washes are said to be without, if that is all that is said of them."""
    term = noun.term
    if not noun.has("wash") or not isinstance(term, q.Such) or term.term != WASHES:
        return None
    lacks = [
        each.part.object
        for each in term.conditions
        if isinstance(each, q.Not) and isinstance(each.part, q.Contains)
    ]
    return lacks[0] if len(lacks) == len(term.conditions) == 1 else None


def added(clause: Clause) -> Iterator[Said]:
    """`does adding A to B make it milder`: B with A beside B without it."""
    places = clause.where("small:adding")
    contrasts = clause.where("contrast:milder", "contrast:harsher", "contrast:stronger")
    things = [
        n
        for n in clause.nouns
        if n.has("agent") and not n.has("kind", "wash", "product", "water", "thing")
    ]
    if not places or not contrasts or len(things) < 2:
        return
    one, base = things[0], things[1]
    milder = clause.where("contrast:milder")
    strength = q.Strength.MILDER if milder else q.Strength.STRONGER
    both = q.Such(WASHES, (q.Contains(base.term), q.Contains(one.term)))
    alone = q.Such(WASHES, (q.Contains(base.term), q.Not(q.Contains(one.term))))
    used = clause.used(one, base, verbs=[*places, *contrasts, *clause.verbs("be")])
    yield Said(both, q.Differs(strength, alone), used=used, doubt=-0.3, general=True)


def naming(clause: Clause) -> Iterator[Said]:
    """`all of them start with PEG`."""
    for at in clause.where("small:ending", "small:starting"):
        before, rest = clause.before(at), clause.parts[at + 1 :]
        if not before or not rest or clause.parts[at].words[0] not in SAID_OF:  # type: ignore[union-attr]
            continue
        after = rest[0]
        if isinstance(after, Noun):
            continue
        letters = after.value.lstrip("*") or after.words[0]
        starts = at in clause.where("small:starting")
        pattern = q.Named(f"{letters}*" if starts else f"*{letters}")
        used = clause.used(before[-1], verbs=[at, at + 1])
        yield stated(clause, before[-1], pattern, used)


def excluding(clause: Clause) -> Iterator[Said]:
    """`does silicone-free rule out X`: whether X is one."""
    for at in clause.verbs("exclude"):
        before, after = clause.before(at), clause.after(at)
        for one in before[-1:]:
            free = one.term.conditions[-1] if isinstance(one.term, q.Such) else None
            core = free.part if isinstance(free, q.Not) else None
            if isinstance(core, q.Contains) and after:
                used = clause.used(one, after[0], verbs=[at])
                yield stated(clause, after[0], q.Is(core.object), used)


def _either(clause: Clause, nouns: Sequence[Noun]) -> Noun:
    """What something may be, where `or` stands between several."""
    kinds = [n for n in nouns if n.has("class", "value", "ingredient")]
    if len(kinds) < 2 or not clause.where("small:or"):
        return nouns[0]
    terms: list[q.Term] = []
    for noun in kinds:
        term = noun.single_term or noun.term
        terms += term.terms if isinstance(term, q.Or) else [term]
    joined = q.Or(tuple(terms))
    return replace(
        kinds[0],
        term=joined,
        single_term=joined,
        last=kinds[-1].last,
        kinds=frozenset({"class"}),
    )


def is_(
    clause: Clause, subject: Noun, object_: Noun, verbs: Sequence[int]
) -> Iterator[Said]:
    used = clause.used(subject, object_, verbs=verbs)
    if object_.has("wash") and isinstance(object_.term, q.Such):
        # `is always sulfate-free`
        conditions = object_.term.conditions
        lacks = [_lacked(each) for each in conditions]
        if subject.has("ingredient") and not subject.has("product") and all(lacks):
            # An ingredient that is sulfate-free is no sulfate.
            terms = tuple(_single(clause, e) for e in lacks if e is not None)
            none = q.Not(q.Is(terms[0] if len(terms) == 1 else q.Or(terms)))
            yield stated(clause, subject, none, used)
            return
        each = conditions[0] if len(conditions) == 1 else q.Both(conditions)
        yield stated(clause, subject, each, used)
        return
    if not object_.has("class", "value", "kind") or subject.term == object_.term:
        return
    if subject.has("product", "kind") and not object_.has("value", "kind"):
        # A product is no ingredient; it has it in it.
        predicate = q.Contains(object_.whole)
        yield replace(stated(clause, subject, predicate, used), doubt=0.5)
        return
    if clause.asks("which", "what") and subject.general:
        is_one: q.Predicate = q.Is(object_.term)
        is_one = q.Not(is_one) if clause.denied else is_one
        yield Said(asked=q.Which(subject.term, is_one), used=used, slot="subject")
        return
    term = _one_of(object_)
    yield stated(clause, subject, q.Is(term), used)


def _single(clause: Clause, term: q.Term) -> q.Term:
    """What one member of a class is called, where the text names the class."""
    senses = (each.sense for each in clause.pieces if each.sense)
    ones = (each.one for each in senses if q.Name(each.text) == term and each.one)
    return next(map(q.Name, ones), term)


def _lacked(said: q.Predicate) -> q.Term | None:
    """What a condition on a label says that it is without."""
    if isinstance(said, q.Not) and isinstance(said.part, q.Contains):
        return said.part.object
    return None


def _one_of(noun: Noun) -> q.Term:
    """A class as what one thing can be: `a silicone`."""
    return noun.single_term or noun.term


def defining(clause: Clause) -> Iterator[Said]:
    if not clause.asks("define", "what"):
        return
    places = clause.where("ask:define", "ask:what")
    after = [n for n in clause.nouns if not n.has("thing")]
    if not after:
        return
    noun = after[0]
    used = clause.used(noun, verbs=[*places, *clause.verbs("be")])
    others = after[1:]
    if any(clause.pieces[-1:]) and clause.pieces[-1].words[-2:] == ("or", "what"):
        # `is that a cone or a quat or what`
        used = clause.used(*after, verbs=[*places, *clause.verbs("be")])
        yield Said(asked=q.Define(noun.term), used=used, doubt=-0.5)
    if others and others[0].has("class") and not clause.is_busy():
        yield from is_(clause, noun, others[0], places)
        return
    if isinstance(noun.term, q.Such) and isinstance(noun.term.conditions[-1], q.Named):
        # What a part of a name means shows in the names that have it.
        yield Said(asked=q.Which(noun.term), used=used, slot="subject", doubt=0.3)
        return
    compared = noun.has("product") and clause.asks("compare")
    doubt = 0.0 if not (clause.is_busy() or compared) else 3.0
    within = _asks_within(clause, noun)
    if within and noun.has("product"):
        listed = q.What(noun.term, q.Contains(q.Thing()))
        yield Said(asked=listed, used=used, slot="object", doubt=doubt)
    yield Said(asked=q.Define(noun.term), used=used, doubt=doubt + _WITHIN * within)


_WITHIN = 0.5
"""What speaks against what a thing is, where it is asked what is in it."""


def _asks_within(clause: Clause, noun: Noun) -> bool:
    """`what is in F`, `F, what's in it`."""
    return noun.before == "in" or says_any(clause.pieces, "in it")


def clashing(clause: Clause) -> Iterator[Said]:
    """`do my products fight each other`: what conflicts among them, or on the shelf."""
    places = clause.where("small:clash")
    if not places:
        return
    products = [n for n in clause.nouns if n.has("product", "kind")]
    named = [n for n in products if n.has("product")]
    things: q.Term = q.Shelf()
    terms = tuple(dict.fromkeys(each for n in named for each in q.members(n.term)))
    if terms:
        things = q.And(terms) if len(terms) > 1 else terms[0]
    used = clause.used(*products, verbs=[*places, *clause.verbs("be")])
    yield Said(asked=q.Conflicts(things), used=used, slot="subject", doubt=-0.2)
