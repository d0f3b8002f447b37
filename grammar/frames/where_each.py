"""Which of some films goes less easily, each as the product that it stands in left it.

`X in P, Y in Q: which is the hardest`, `which of X and Y in P is harder to wash out`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q

_ORDERS = {
    "harder": q.Order.HARDEST,
    "hardest": q.Order.HARDEST,
    "easier": q.Order.EASIEST,
    "easiest": q.Order.EASIEST,
}
_INSIDE = ("in", "from", "of")
_PAIR = 2


def where_each_is(clause: Clause) -> Iterator[Said]:
    """Films by how hard they go, each of its product."""
    for key, order in _ORDERS.items():
        for at in clause.where(f"contrast:{key}")[:1]:
            found = _of_one(clause) or _of_each(clause)
            if found is None or clause.led_by("than"):
                return
            term, nouns = found
            taken = (*clause.verbs("be", "clear"), *clause.where("turned:clear"))
            used = clause.used(*nouns, verbs=[at, *taken])
            asked = q.Which(term, None, order)
            yield Said(asked=asked, used=used, slot="subject", doubt=-1.0)
            return


def _of_one(clause: Clause) -> tuple[q.Term, list[Noun]] | None:
    """A list of films and the one product that they all stand in."""
    lists = [n for n in clause.nouns if isinstance(n.term, q.And | q.Or) and _stays(n)]
    held = [n for n in clause.nouns if n.has("product")]
    inside = [n for n in held if n.before in _INSIDE]
    others = [n for n in clause.nouns if _stays(n) and n not in lists]
    if len(lists) != 1 or others or len(held) != 1 or held != inside:
        return None
    return _left(q.And(q.members(lists[0].term)), held[0]), [*lists, *held]


def _of_each(clause: Clause) -> tuple[q.Term, list[Noun]] | None:
    """Several films, each with the product that it stands in after it."""
    nouns = [n for n in clause.nouns if _stays(n) or _holds(n)]
    terms: list[q.Term] = []
    used: list[Noun] = []
    for noun, after in zip_longest(nouns, nouns[1:]):
        if not _stays(noun):
            continue
        inside = after is not None and _holds(after) and after.before == "in"
        terms.append(_left(noun.term, after) if inside and after else noun.term)
        used += [noun, after] if inside and after else [noun]
    placed = sum(isinstance(each, q.Such) for each in terms)
    listed = any(isinstance(each, q.And | q.Or) for each in terms)
    if placed < _PAIR or listed or len({*terms}) != len(terms):
        return None
    return q.And(tuple(terms)), used


def _left(term: q.Term, product: Noun) -> q.Term:
    return q.narrowed(term, q.Undergoes(q.Passive.LEFT, product.term))


def _holds(noun: Noun) -> bool:
    """Whether it has a label: a product, or those of a kind."""
    return noun.has("product", "kind")


def _stays(noun: Noun) -> bool:
    named = noun.has("ingredient", "class") and not noun.has("product", "kind", "thing")
    return noun.has("film") and named
