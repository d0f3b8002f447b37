"""One film against another, or one condition against another: how hard they go."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import Clause, Said, states
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q

FILMS = q.Name("film-formers")
"""What something is compared with that is the hardest of all."""
_WAYS = (("harder", q.Ease.HARDER), ("easier", q.Ease.EASIER))
_EXTREMES = (
    ("hardest", q.Ease.HARDER, q.Order.HARDEST),
    ("easiest", q.Ease.EASIER, q.Order.EASIEST),
)


def resisting(clause: Clause) -> Iterator[Said]:
    """One film harder or easier to take off than another, or than elsewhere."""
    yield from _shifting(clause)
    yield from _compared(clause)
    for key, way, order in _EXTREMES:
        for at in clause.where(f"contrast:{key}"):
            yield from _extreme(clause, at, way, order)
    for key, way in _WAYS:
        order = q.Order.HARDEST if way is q.Ease.HARDER else q.Order.EASIEST
        for at in clause.where(f"contrast:{key}"):
            yield from _listed(clause, at, order)


def _verbs(clause: Clause, at: int) -> list[int]:
    """The places that say that something is so hard to take off."""
    return [
        at,
        *clause.verbs("be", "stay", "clear", "leave"),
        *clause.where("turned:clear", "heads:clear"),
    ]


def _compared(clause: Clause) -> Iterator[Said]:
    for key, way in _WAYS:
        for at in clause.where(f"contrast:{key}"):
            pair = clause.pair(at)
            if pair is not None and _are_films(pair):
                used = clause.used(*pair, verbs=_verbs(clause, at))
                other = pair[1]
                whole = other.any or other.quantity is None
                harder = q.Resists(way, other.term if whole else other.whole)
                yield stated(clause, pair[0], harder, used)


def _are_films(pair: tuple[Noun, Noun]) -> bool:
    """Whether both sides can stay on hair: no film is set against a wash."""
    one, other = pair
    bare = other.has("wash", "agent") and not other.has("film", "product")
    return one.has("film", "product") and not bare


def _shifting(clause: Clause) -> Iterator[Said]:
    """`sticks harder to bleached hair than to virgin hair`."""
    phrases = clause.conditions()
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing")]
    if len(phrases) == 1 and len(films) == 1 and not clause.led_by("than"):
        yield from _shifted(clause, films[0])
    if len(phrases) != 2 or not films:
        return
    ways = [
        (at, way)
        for key, way in (*_WAYS, ("better", q.Ease.EASIER), ("worse", q.Ease.HARDER))
        for at in clause.where(f"contrast:{key}")
    ]
    stays = clause.verbs("stay", "leave")
    if not ways and not (clause.where("ask:compare") or clause.where("small:than")):
        return
    at, way = ways[0] if ways else (None, q.Ease.HARDER)
    if way is q.Ease.EASIER and stays:
        way = q.Ease.HARDER  # what stays better goes less well
    verbs = _verbs(clause, at) if at is not None else [*stays, *clause.verbs("be")]
    used = clause.used(films[0], verbs=verbs) | clause.stating()
    shifts = q.Shifts(way, (phrases[0],), (phrases[1],))
    said = stated(clause, films[0], shifts, used)
    yield replace(said, doubt=-1.0 if ways else 0.4)


def _shifted(clause: Clause, film: Noun) -> Iterator[Said]:
    """`does it stick tighter on bleached hair`: than where the hair is not so."""
    here = next((p.sense for p in clause.pieces if states(clause.pieces, p)), None)
    if here is None or not here.one:
        return
    # What stays more goes less well.
    stays = clause.verbs("stay", "leave")
    better = ("better", q.Ease.HARDER if stays else q.Ease.EASIER)
    for key, way in (*_WAYS, ("worse", q.Ease.HARDER), better):
        for at in clause.where(f"contrast:{key}"):
            used = clause.used(film, verbs=_verbs(clause, at)) | clause.stating()
            shifts = q.Shifts(way, (here.text,), (here.one,))
            yield replace(stated(clause, film, shifts, used), doubt=0.2)


def elsewhere(clause: Clause) -> Iterator[Said]:
    """`my hair is bleached. does F stick more then`: the same over the whole text."""
    phrases = clause.conditions()
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing")]
    if len(phrases) == 1 and len(films) == 1 and not clause.led_by("than"):
        yield from _shifted(clause, films[0])


def _listed(clause: Clause, at: int, order: q.Order) -> Iterator[Said]:
    """`which is harder to remove, A or B`."""
    lists = [n for n in clause.nouns if isinstance(n.term, q.And | q.Or)]
    if clause.led_by("than"):
        return
    for noun in lists[:1]:
        assert isinstance(noun.term, q.And | q.Or)
        used = clause.used(noun, verbs=_verbs(clause, at))
        if noun.has("wash"):
            # `which wash is worse`: harsher.
            ranked_by = q.Rank(q.And(noun.term.terms))
            yield Said(asked=ranked_by, used=used, slot="subject")
            continue
        ranked = q.Which(q.And(noun.term.terms), None, order)
        yield Said(asked=ranked, used=used, slot="subject")


def levelled(clause: Clause) -> Iterator[Said]:
    """`A and B wash out the same`: the two by how hard they go."""
    places = clause.where("contrast:easier", "contrast:harder")
    alike = [] if places else clause.where("contrast:same")
    places = places or alike
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing", "wash")]
    terms = [each for n in films for each in q.members(n.term)][:3]
    taken = clause.where(
        *("turned:clear", "turned:rinse", "heads:turned", "verb:clear", "verb:stay"),
        "heads:clear",
    )
    if not places or not (taken or alike) or len(set(terms)) < 2:
        return
    used = clause.used(*films[:2], verbs=[*places, *taken, *clause.verbs("be")])
    asked = q.Which(q.And(tuple(dict.fromkeys(terms))), None, q.Order.HARDEST)
    yield Said(asked=asked, used=used, slot="subject", doubt=0.5)


def _extreme(clause: Clause, at: int, way: q.Ease, order: q.Order) -> Iterator[Said]:
    """`the hardest of A, B and C`, `X is the hardest butter`, `which is hardest`."""
    asked = clause.asks("which", "what", "define")
    before = [n for n in clause.before(at) if n.has("film") and not n.has("thing")]
    before = [n for n in before if not isinstance(n.term, q.And | q.Or)]
    after = [n for n in clause.after(at) if n.has("film") and not n.has("thing")]
    if before and after and not asked:
        used = clause.used(before[-1], after[0], verbs=_verbs(clause, at))
        yield stated(clause, before[-1], q.Resists(way, after[0].term), used)
        return
    yield from _listed(clause, at, order)
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing")]
    films = [n for n in films if not isinstance(n.term, q.And | q.Or)]
    if not films:
        return
    used = clause.used(*films[:2], verbs=_verbs(clause, at))
    if asked and films[0].general:
        inside = [n for n in clause.led_by("in", "from") if n.has("product")][:1]
        left = [q.Undergoes(q.Passive.LEFT, n.term) for n in inside]
        term = q.narrowed(films[0].term, *left) if left else films[0].term
        which = q.Which(term, None, order, 1)
        used = clause.used(films[0], *inside, verbs=_verbs(clause, at))
        yield Said(asked=which, used=used, slot="subject")
        return
    if asked:
        return
    other = films[1].term if len(films) > 1 else FILMS
    yield stated(clause, films[0], q.Resists(way, other), used)
