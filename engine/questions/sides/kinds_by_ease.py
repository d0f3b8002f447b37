"""Kinds of films side by side: which goes less easily, and which of it does not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.verbs.contrasts import leans
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.grammar.query import tree as q

Kind: TypeAlias = Sequence[str]
Kinds: TypeAlias = Mapping[str, Kind]
Found: TypeAlias = Mapping[str, Mapping[str, Verdict]]
_PAIR = 2
_CLEAR = 2 / 3
"""The share of the pairs that must lean one way for one kind to be the harder."""
_MANY = 40
"""So many films of a kind that stands on no label here are too many to set apart."""


def kinds_of(judge: Judge, query: q.Which) -> dict[str, list[str]]:
    """The films of each kind that a question sets beside another, by its plural.

    Of a kind that stands on a label at hand these films are meant. Empty if anything
    but two kinds is asked about.
    """
    subject, found = query.subject, dict[str, list[str]]()
    terms = subject.terms if isinstance(subject, q.And) else ()
    base, seen = judge.world.base, judge.nouns.seen
    for term in terms if len(terms) == _PAIR else ():
        kind = base.find_class(term.text) if isinstance(term, q.Name) else None
        if kind is None:
            return {}
        films = [i.key for i in judge.terms.items(term, INGREDIENT)]
        found[base.plural(kind)] = [key for key in films if seen[key]] or films
    return found if all(0 < len(each) <= _MANY for each in found.values()) else {}


def told_by_kind(judge: Judge, kinds: Kinds, query: q.Which, way: q.Ease) -> str:
    """Which of two kinds goes less, or more, easily, and what of it is otherwise."""
    films = [film for each in kinds.values() for film in each]
    found = judge.contrasts.under_washes(films, under=query.under)
    (one, mine), (other, others) = kinds.items()
    more, less = (_harder(found, mine, others), _harder(found, others, mine))
    if sum(more.values()) < sum(less.values()):
        one, other, more, less = other, one, less, more
    won, lost = sum(more.values()), sum(less.values())
    if not won:
        return (
            f"Neither, as far as is known: no wash here sets {one} and {other} apart."
        )
    easier = {film: len(_easier(found, film, less)) for film in more}
    apart = [film for film in more if more[film] <= easier[film]]
    too = [film for film in less if less[film] > len(_easier(found, film, more))]
    if won / (won + lost) < _CLEAR or 2 * len(apart) > len(more):
        return f"That depends on which: as kinds {one} and {other} have no firm order."
    said = f"{one} go less easily than {other}"
    if way is q.Ease.EASIER:
        said = f"{other} go more easily than {one}"
    label = judge.world.base.label
    odd = [label(film) for film in (*apart, *too)]
    sure = f"Mostly {said}, but not so {listed(odd)}" if odd else f"Rather: {said}"
    return f"{sure}, as far as is known of the washes here."


def _harder(found: Found, mine: Kind, others: Kind) -> dict[str, int]:
    """Of how many others less is known to go than of each."""
    return {
        film: sum(leans(found, film, each, harder=True) for each in others)
        for film in mine
    }


def _easier(found: Found, film: str, others: Iterable[str]) -> list[str]:
    """Those of some films of which less is known to go than of one."""
    return [each for each in others if leans(found, each, film, harder=True)]


def films_in(kinds: Kinds) -> list[Item]:
    """The films of some kinds as members of an answer."""
    return [Item(INGREDIENT, film) for films in kinds.values() for film in films]
