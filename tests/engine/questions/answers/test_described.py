"""Sets said by classes: exactly these, and in as few names as can be."""

from __future__ import annotations

from itertools import combinations

from abluent.engine.questions.answers.described import Describer, Term
from hypothesis import given, settings
from hypothesis import strategies as st

THINGS = "abcdef"
Classes = dict[str, frozenset[str]]


@st.composite
def worlds(draw: st.DrawFn) -> tuple[Classes, frozenset[str]]:
    """Classes of some things, and a set of these."""
    sets = st.frozensets(st.sampled_from(THINGS), min_size=2)
    classes = {f"C{n}": draw(sets) for n in range(draw(st.integers(0, 4)))}
    return classes, draw(st.frozensets(st.sampled_from(THINGS), min_size=1))


def meant(terms: tuple[Term, ...], classes: Classes) -> frozenset[str]:
    """What a description says, read off the classes themselves."""
    found: frozenset[str] = frozenset()
    for term in terms:
        own = classes[term.symbol] if term.whole else frozenset(term.symbol)
        found |= own - meant(term.but, classes)
    return found


def fewest(
    wanted: frozenset[str], allowed: frozenset[str], classes: Classes, depth: int
) -> int:
    """The length of the shortest description, by trying every choice of terms."""
    offers = [(frozenset(thing), 1) for thing in wanted]
    for members in classes.values():
        covers, out = members & wanted, members - allowed
        if not out:
            offers.append((covers, 1))
        elif depth and covers:
            others = frozenset(THINGS) - covers
            offers.append((covers, 1 + fewest(out, others, classes, depth - 1)))
    prices = [
        sum(price for _, price in chosen)
        for size in range(len(wanted) + 1)
        for chosen in combinations(offers, size)
        if frozenset().union(*(covers for covers, _ in chosen)) >= wanted
    ]
    return min(prices)


@settings(max_examples=80, deadline=None)
@given(worlds())
def test_a_description_says_exactly_what_is_wanted(
    world: tuple[Classes, frozenset[str]],
) -> None:
    """Nothing that is meant is left out, and nothing else is said."""
    classes, wanted = world
    describer = Describer(THINGS, classes)
    terms = describer.described(describer.mask(wanted))
    assert meant(terms, classes) == wanted
    assert describer.names(describer.meant(terms)) == sorted(wanted)


@settings(max_examples=60, deadline=None)
@given(worlds())
def test_no_description_is_shorter(world: tuple[Classes, frozenset[str]]) -> None:
    """Trying every choice of classes and exceptions finds none of fewer names."""
    classes, wanted = world
    describer = Describer(THINGS, classes)
    terms = describer.described(describer.mask(wanted))
    length = sum(term.length for term in terms)
    assert length == fewest(wanted, wanted, classes, 2)


def test_an_exception_has_none_of_its_own() -> None:
    """A listener follows one `except`; a second within it, nobody does."""
    letters = [chr(ord("a") + n) for n in range(20)]
    classes = {"All": frozenset(letters), "Late": frozenset(letters[10:])}
    describer = Describer(letters, classes)
    found = describer.described(describer.mask([*letters[:10], "p"]))
    assert describer.meant(found) == describer.mask([*letters[:10], "p"])
    assert not any(but.but for term in found for but in term.but)


def test_what_may_be_in_it_makes_it_shorter() -> None:
    """A class says more than is wanted, where more is allowed."""
    describer = Describer("abcd", {"All": frozenset("abcd")})
    wanted = describer.mask("abc")
    assert describer.described(wanted, describer.all) == (Term("All", True),)
    assert len(describer.described(wanted)) == 1
    assert describer.described(wanted)[0].but == (Term("d", False),)


def test_of_two_classes_alike_the_first_is_named() -> None:
    """The narrower is given first, and says more."""
    classes = {"Narrow": frozenset("ab"), "Wide": frozenset("ab")}
    describer = Describer("abc", classes)
    assert describer.described(describer.mask("ab")) == (Term("Narrow", True),)
