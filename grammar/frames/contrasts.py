"""One wash set against another: milder, stronger, better, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.ease import FILMS
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q


def contrasting(clause: Clause) -> Iterator[Said]:
    yield from _differing(clause)
    yield from _less_than(clause)
    for at in clause.where("contrast:better"):
        yield from _better(clause, at)
    yield from _superlative(clause)


def ranking(clause: Clause) -> Iterator[Said]:
    """`which is milder, A or B`, `rank my shampoos`: washes put in order."""
    if clause.asks("rank"):
        washes = [n for n in clause.nouns if n.has("agent", "wash")]
        stay = [n for n in clause.nouns if n.has("film") and not n.has("agent")]
        stay = [n for n in stay if isinstance(n.term, q.And | q.Or)]
        for noun in stay[:1] if not washes else []:
            # `rank these oils by how hard they go`
            easy = clause.where("contrast:easiest", "contrast:easier")
            order = q.Order.EASIEST if easy else q.Order.HARDEST
            used = clause.used(noun, verbs=[*clause.where("ask:rank"), *easy])
            used |= clause.used(verbs=clause.where("turned:clear", "verb:be"))
            listed = q.And(q.members(noun.term))
            yield Said(asked=q.Which(listed, None, order), used=used, slot="subject")
        films = [n for n in clause.led_by("for", "by") if n.has("film")]
        contrasts = [f"contrast:{k}" for k in _RANKED]
        for noun in washes[:1]:
            verbs = [*clause.where("ask:rank"), *clause.where(*contrasts)]
            used = clause.used(noun, *films[:1], verbs=verbs)
            ranked = q.Rank(noun.term, films[0].term if films else None)
            yield Said(asked=ranked, used=used, slot="subject", doubt=-0.5)
    for at in clause.where(*(f"contrast:{key}" for key in _STRENGTHS)):
        lists = [n for n in clause.nouns if isinstance(n.term, q.And | q.Or)]
        if lists and clause.asks("which", "what") and lists[0].has("agent"):
            terms = lists[0].term
            assert isinstance(terms, q.And | q.Or)
            used = clause.used(lists[0], verbs=[at, *clause.verbs("be")])
            yield Said(asked=q.Rank(q.And(terms.terms)), used=used, slot="subject")


_STRENGTHS = {
    "milder": q.Strength.MILDER,
    "harsher": q.Strength.HARSHER,
    "stronger": q.Strength.STRONGER,
}
_RANKED = ("mild", "harsh", *_STRENGTHS)


def _differing(clause: Clause) -> Iterator[Said]:
    """One wash milder, harsher or stronger than another."""
    for key, strength in _STRENGTHS.items():
        for at in clause.where(f"contrast:{key}"):
            pair = clause.pair(at)
            if pair is not None:
                used = clause.used(*pair, verbs=[at, *clause.verbs("be")])
                predicate = q.Differs(strength, _every(pair[1]))
                yield stated(clause, pair[0], predicate, used)
                films = [n for n in clause.led_by("for") if n.has("film")]
                if films and key == "stronger":
                    # `stronger on oils` is better at taking them.
                    used = clause.used(*pair, films[0], verbs=[at, *clause.verbs("be")])
                    acts = q.Outdoes(films[0].term, _every(pair[1]))
                    yield replace(stated(clause, pair[0], acts, used), doubt=-0.2)


def _less_than(clause: Clause) -> Iterator[Said]:
    """`B is not as mild as A`: A is milder than B. To clean is another matter."""
    for at in clause.where("contrast:same") if clause.denied else []:
        part = clause.parts[at]
        assert isinstance(part, Piece)
        strength = next((s for w, s in _AS if {*part.words} & w), None)
        before, after = clause.before(at), clause.after(at, "", "as")
        if strength is None or not before or not after:
            continue
        used = clause.used(before[-1], after[0], verbs=[at, *clause.verbs("be")])
        more, less = after[0], before[-1]
        if "harsh" in part.words:
            more, less = less, more
        differs = q.Differs(strength, _every(less))
        single = not more.general
        yield Said(more.term, differs, single=single, used=used, doubt=-0.5)


_AS = (
    (words_in("as mild"), q.Strength.MILDER),
    (words_in("as strong"), q.Strength.STRONGER),
)


def _superlative(clause: Clause) -> Iterator[Said]:
    """The mildest or the strongest of some washes."""
    for key, order in (
        ("mildest", q.Order.MILDEST),
        ("strongest", q.Order.STRONGEST),
    ):
        for at in clause.where(f"contrast:{key}"):
            if not clause.verbs("clear"):
                lacking = bans(clause)
                agents = [
                    n for n in clause.nouns if n.has("agent") and n not in lacking
                ]
                noun = agents[0] if agents else None
                if noun is not None and _claims(clause, noun, at):
                    yield from _first_of_all(clause, noun, at, order)
                    return
                films = [n for n in clause.nouns if n.has("film") and n is not noun]
                films = [n for n in films if not n.has("thing", "agent")]
                subject = without(noun.term if noun else WASHES, lacking)
                used = clause.used(noun, *films[:1], *lacking, verbs=[at])
                acts = q.Clears(films[0].term) if films else None
                asked = q.Which(subject, acts, order, 1)
                yield Said(asked=asked, used=used, slot="subject", doubt=0.5)


def _claims(clause: Clause, noun: Noun, at: int) -> bool:
    """Whether it is said of one thing that it is the mildest."""
    said = bool(clause.verbs("be")) and noun in clause.before(at)
    return said and not clause.asks("which", "what", "define") and not noun.has("kind")


def _first_of_all(
    clause: Clause, noun: Noun, at: int, order: q.Order
) -> Iterator[Said]:
    """`X is the mildest of all`: milder than every other."""
    others = [n for n in clause.nouns if n is not noun and n.has("agent", "wash")]
    strength = q.Strength.STRONGER
    if order is q.Order.MILDEST:
        strength = q.Strength.MILDER
    every = q.Name("washes") if noun.has("product") else q.Name("surfactants")
    term = others[0].term if others else every
    used = clause.used(noun, *others[:1], verbs=[at, *clause.verbs("be")])
    yield stated(clause, noun, q.Differs(strength, term), used)


def _every(noun: Noun) -> q.Term:
    """What something is compared with: any of them is each of them."""
    return noun.term if noun.any or noun.quantity is None else noun.whole


def _better(clause: Clause, at: int) -> Iterator[Said]:
    """`A takes F off better than B`; without a film, A beside B."""
    than = clause.led_by("than") or clause.after(at, "", "than")
    agents = [n for n in clause.nouns if n.has("agent") and n not in than]
    if not than or not agents:
        return
    films = [
        n
        for n in clause.nouns
        if n.has("film") and n is not agents[0] and n is not than[0]
    ]
    verbs = [at, *clause.verbs("clear", "be"), *clause.where("turned:clear")]
    used = clause.used(agents[0], than[0], *films[:1], verbs=verbs)
    if films:
        film = FILMS if films[0].has("thing") else films[0].term
        predicate = q.Outdoes(film, _every(than[0]))
        yield replace(stated(clause, agents[0], predicate, used), doubt=-1.0)
        return
    pair = q.And((agents[0].term, than[0].term))
    yield Said(asked=q.Compare(pair), used=used, doubt=1.0)


_ALIKE = words_in("alike")


def _told_apart(clause: Clause, places: Sequence[int]) -> Iterator[Said]:
    """What two ingredients are, where their difference is asked for."""
    plain = [n for n in clause.nouns if n.has("ingredient", "class", "value")]
    likened = [clause.parts[at] for at in places]
    said_so = any(isinstance(p, Piece) and _ALIKE & {*p.words} for p in likened)
    asked = clause.where("ask:compare") or clause.verbs("be") or said_so
    one_thing = len(plain) >= 2 and plain[0].term == plain[1].term
    if (
        not (said_so or one_thing)
        or not asked
        or clause.verbs("clear", "leave", "stay")
    ):
        return
    joined = [n for n in plain if isinstance(n.term, q.And | q.Or)]
    used = clause.used(*(joined[:1] or plain[:2]))
    used |= clause.used(verbs=[*places, *clause.verbs("be")])
    for noun in joined[:1]:
        assert isinstance(noun.term, q.And | q.Or)
        yield Said(asked=q.Define(q.And(noun.term.terms)), used=used, doubt=0.6)
    if one_thing:
        # Two names of one thing.
        yield Said(asked=q.Define(plain[0].term), used=used, doubt=-0.5)
    elif not joined and len(plain) >= 2:
        two = q.And((plain[0].term, plain[1].term))
        yield Said(asked=q.Define(two), used=used, doubt=0.6)


def _is_idle(part: Piece | Noun) -> bool:
    return isinstance(part, Piece) and part.entry.section in ("idle", "mark")


def rivals(clause: Clause) -> Iterator[Said]:
    """`F in it, W or V`: two washes by name and one film, and no verb between."""
    washes = [n for n in clause.nouns if n.has("product") and n.has("wash")]
    washes = [n for n in washes if isinstance(n.term, q.Name)]
    films = [n for n in clause.nouns if n.has("film") and not n.has("wash", "thing")]
    films = [n for n in films if not n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    places = clause.where("small:or", "ask:compare", "contrast:better", "small:than")
    # `A, then B`: the one after the other.
    places = [at for at in places if not _comes_after(clause.parts[at])]
    if len({n.term for n in washes}) < 2 or not (films or sources) or not places:
        return
    pair = q.And((washes[0].term, washes[1].term))
    takes = [*places, *clause.verbs("clear"), *clause.where("heads:clear")]
    if not films:
        used = clause.used(*washes[:2], sources[0], verbs=takes)
        every = q.Quantified(q.Quantity.EVERY, q.Thing())
        asked_of = q.Which(pair, q.Clears(every, sources[0].term))
        yield Said(asked=asked_of, used=used, slot="subject", doubt=0.5)
        return
    used = clause.used(*washes[:2], films[0], verbs=takes)
    asked = q.Compare(pair, films[0].term)
    yield Said(asked=asked, used=used, slot="subject", doubt=0.5)


def _comes_after(part: Piece | Noun) -> bool:
    return isinstance(part, Piece) and part.words == ("then",)


def _is_unlike(sides: Sequence[Noun]) -> bool:
    """Whether what cleans is set against what stays, or against everything."""
    if len(sides) < 2:
        return False
    whole = any(n.term == q.Name("ingredients") for n in sides)
    stays = [n.has("film") and not n.has("wash", "product") for n in sides]
    agent = [n.has("agent", "wash") and not n.has("film") for n in sides]
    return whole or (any(stays) and any(agent))


def alike(clause: Clause) -> Iterator[Said]:
    """`a dupe for P`, `which is like P`: whose label is nearly the same."""
    places = clause.where("small:near")
    products = [n for n in clause.nouns if n.has("product")]
    if not places or not products:
        return
    if len(products) > 1:
        used = clause.used(*products[:2], verbs=[*places, *clause.verbs("be")])
        resembles = q.Resembles(products[1].term)
        yield replace(stated(clause, products[0], resembles, used), doubt=-0.3)
        return
    kinds = [n for n in clause.nouns if n.has("kind")]
    subject = kinds[0].term if kinds else q.Name("products")
    used = clause.used(*kinds[:1], products[0], verbs=[*places, *clause.verbs("be")])
    asked = q.Which(subject, q.Resembles(products[0].term))
    yield Said(asked=asked, used=used, slot="subject", doubt=-0.3)


def comparing(clause: Clause) -> Iterator[Said]:
    """`A vs B for F`, `A or B for F`."""
    places = clause.where("ask:compare", "contrast:same", "contrast:better")
    pair = [n for n in clause.nouns if n.has("agent", "product")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent")]
    listed = [n for n in pair if isinstance(n.term, q.And | q.Or)]
    both: q.Term | None = None
    first = next((p for p in clause.parts if not _is_idle(p)), None)
    opens = bool(listed) and first is listed[0] and isinstance(listed[0].term, q.Or)
    rivals_ = any(piece.does("ask:compare") for piece in clause.pieces)
    if listed and (places or opens or rivals_ or clause.asks("which", "compare")):
        terms = listed[0].term
        assert isinstance(terms, q.And | q.Or)
        both, sides = q.And(terms.terms), [listed[0]]
    elif len(pair) >= 2 and clause.where("ask:compare", "contrast:same"):
        both, sides = q.And((pair[0].term, pair[1].term)), pair[:2]
    elif len(films) >= 2 and clause.where("ask:compare"):
        used = clause.used(*films[:2], verbs=places)
        predicate = q.Resists(q.Ease.HARDER, films[1].term)
        yield replace(stated(clause, films[0], predicate, used), doubt=1.0)
        return
    whole = [n for n in pair if n.general and n.has("wash", "kind")]
    if both is None and clause.asks("compare") and len(whole) == 1 and films:
        both, sides = whole[0].term, whole
        used = clause.used(*sides, films[0], verbs=places)
        yield Said(asked=q.Compare(both, films[0].term), used=used, doubt=0.0)
        return
    yield from _told_apart(clause, places)
    if both is None or len(set(q.members(both))) < 2 or _is_unlike(sides):
        return
    if clause.where("small:formula") and all(n.has("product") for n in sides):
        used = clause.used(*sides, verbs=[*places, *clause.where("small:formula")])
        yield Said(asked=q.Compare(both, lines=True), used=used, doubt=-0.2)
        return
    used = clause.used(*sides, *films[:1], verbs=[*places, *clause.verbs("clear")])
    film = films[0].term if films else None
    # `A or B for F` asks which.
    yield Said(asked=q.Compare(both, film), used=used, doubt=-0.6 if opens else 0.5)
