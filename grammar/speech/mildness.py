"""How mild something is said to be: by what it lacks, or by what is added to it."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.query import tree as q
from abluent.grammar.speech.clause import WASHES, Clause, Said, stated
from abluent.grammar.speech.noun import Noun

_GRADES = ("contrast:mild", "contrast:milder", "contrast:harsh", "contrast:stronger")


def milder_without(clause: Clause) -> Iterator[Said]:
    """`sulfate-free means gentle`: milder than washes that have what it lacks."""
    if clause.asks("how_mild", "how_strong", "which", "what") or clause.led_by("than"):
        return
    if clause.verbs("clear", "leave", "stay", "contain", "need"):
        return
    for at in clause.where("contrast:mild", "contrast:harsh"):
        free = [n for n in clause.before(at) if _lacked(n) is not None]
        other = _lacked(free[0]) if free else None
        if other is None:
            continue
        used = clause.used(free[0], verbs=[at, *clause.verbs("be")])
        strength = q.Strength.MILDER
        if clause.where("contrast:harsh") == [at]:
            strength = q.Strength.HARSHER
        with_it = q.Such(WASHES, (q.Contains(other),))
        said = q.Differs(strength, with_it)
        yield stated(clause, free[0], said, used)


def _lacked(noun: Noun) -> q.Term | None:
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
    contrasts = clause.where("contrast:milder", "contrast:stronger")
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
