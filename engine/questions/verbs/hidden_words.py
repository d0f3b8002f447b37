"""What a label hides: first the names that nobody can read, then what it does itself.

What stands openly on a label is not hidden; that a wash leaves some of it on hair is
easy to miss all the same. Whether a cleanser does any work is another question.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    Left,
    films_left,
    sorted_grades,
)
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.nouns import Nouns

_APIECE = 3
"""Of so many products it is told one by one."""
_AMOUNT = "How much of each there is, no list of names tells."


def hidden_sentence(nouns: Nouns, items: Sequence[Item], left: Sequence[Left]) -> str:
    """What the labels of some products hide, in a few sentences.

    Args:
        nouns: knows the labels.
        items: the products.
        left: what washes among them leave of their own.
    """
    many = len(items) > _APIECE
    who = listed([nouns.title(item) for item in items])
    who = f"any of the {len(items)}" if many else who
    told = []
    if names := [*_unread(nouns, items)]:
        one = len(names) == 1
        are, they = ("is a name", "it") if one else ("are names", "they")
        their, names_ = ("its", "name") if one else ("their", "names")
        told.append(
            f"{listed(names)} on the label of {who} {are} that nobody can read here, "
            f"so {they} may be anything; ask the maker for {their} INCI {names_}."
        )
    else:
        told.append(
            f"No name is hidden on the label of {who}: each one is read and known."
        )
    own = [*_own(nouns, left)]
    if own and many:
        told.append(f"{len(own)} of them leave a film of their own on hair.")
    elif own:
        told.append(f"Listed openly, but easy to miss: {'; '.join(own)}.")
    elif any(nouns.cleans(item) for item in items):
        told.append("Of what is read the wash leaves no film of its own.")
    elif names:
        told.append("Whatever else it leaves, its label names.")
    grades = [name for item in items for name in _of_several_kinds(nouns, item)]
    if grades and not many:
        told.append(f"A name does not tell which sort is meant: {'; '.join(grades)}.")
    mixtures = dict.fromkeys(m for item in items for m in _mixtures(nouns, item))
    if mixtures and not many:
        stands = "stands for a mixture" if len(mixtures) == 1 else "stand for mixtures"
        told.append(f"{listed([*mixtures])} {stands}, of which few parts are named.")
    return " ".join([*told, _AMOUNT])


def _unread(nouns: Nouns, items: Sequence[Item]) -> Iterator[str]:
    """The names on some labels that were not read."""
    for item in items:
        if item.key in nouns.world.products:
            for each in nouns.world.read(item.key).readings:
                if each.symbol is None:
                    yield each.printed


def _own(nouns: Nouns, left: Sequence[Left]) -> Iterator[str]:
    """What each of some washes leaves of its own."""
    of: dict[tuple[str, bool], list[str]] = {}
    for row in left:
        name = nouns.title(Item(INGREDIENT, row.film))
        of.setdefault((row.source, row.sure), []).append(name)
    for (wash, sure), films in of.items():
        yield f"{wash} {'leaves' if sure else 'may leave'} {listed(films)} on hair"


def _mixtures(nouns: Nouns, item: Item) -> Iterator[str]:
    """The names on a label that stand for a mixture."""
    base = nouns.world.base
    for symbol in nouns.on_label(item):
        kinds = base.classes_of(symbol) if symbol in base else ()
        if any(base.record(kind).truth("namesMixture") for kind in kinds):
            yield base.label(symbol)


def _of_several_kinds(nouns: Nouns, item: Item) -> Iterator[str]:
    """The names on a label that stand for grades of several kinds, with the kinds."""
    base = nouns.world.base
    case = Case.of(nouns.world, sources=[item.key])
    for left in films_left(case, item.key):
        if grades := sorted_grades(left):
            kinds = dict.fromkeys(base.label(base.classes_of(g)[0]) for g in grades)
            if len(kinds) > 1:
                yield f"{base.label(left.film)} ({' or '.join(kinds)})"
