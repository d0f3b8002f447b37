"""The simplest form of a predicate says the same, on every small world."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import product

import pytest
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import quantity, simplified
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer_terms import Form, said
from hypothesis import given, settings
from hypothesis import strategies as st

FILMS = ("a", "b", "c")
SETS = {"ab": {"a", "b"}, "bc": {"b", "c"}, "none": set[str]()}
WORLDS = [
    {film for film, there in zip(FILMS, row, strict=True) if there}
    for row in product([False, True], repeat=3)
]


def members(term: q.Term) -> set[str]:
    """The members of a set; a list of sets is all of them together."""
    match term:
        case q.Thing():
            return set(FILMS)
        case q.Name(text=text):
            return SETS.get(text, {text})
        case q.And(terms=terms) | q.Or(terms=terms):
            return set().union(*map(members, terms))
        case q.Except():
            return members(term.term) - members(term.left_out)
        case q.Quantified():
            return members(term.term)
        case _:
            raise AssertionError(term)


def holds(term: q.Term, touched: set[str], whole: bool) -> bool:
    """Whether a verb that touches some films holds of an object, as people read it."""
    match term:
        case q.And(terms=terms):
            return all(holds(each, touched, whole) for each in terms)
        case q.Or(terms=terms):
            return any(holds(each, touched, whole) for each in terms)
        case q.Quantified():
            return _counted(term, members(term.term), touched)
        case _ if whole:
            return members(term) <= touched
        case _:
            return bool(members(term) & touched)


def _counted(term: q.Quantified, wanted: set[str], touched: set[str]) -> bool:
    hit = len(wanted & touched)
    count = term.count or 0
    ways: Mapping[q.Quantity, bool] = {
        q.Quantity.EVERY: hit == len(wanted),
        q.Quantity.SOME: hit > 0,
        q.Quantity.NO: hit == 0,
        q.Quantity.ONLY: hit > 0 and touched <= wanted,
        q.Quantity.AT_LEAST: hit >= count,
        q.Quantity.AT_MOST: hit <= count,
        q.Quantity.EXACTLY: hit == count,
    }
    return ways[term.quantity]


def true_of(said: q.Predicate, touched: set[str]) -> bool:
    """Whether a predicate of `clear` and `leave` holds in a world."""
    match said:
        case q.Not(part=part):
            return not true_of(part, touched)
        case q.Both(parts=parts):
            return all(true_of(part, touched) for part in parts)
        case q.Either(parts=parts):
            return any(true_of(part, touched) for part in parts)
        case q.Clears() | q.Leaves():
            return holds(said.object, touched, isinstance(said, q.Clears))
        case _:
            raise AssertionError(said)


SIMPLE = st.one_of(
    st.sampled_from([q.Name(name) for name in (*FILMS, *SETS)]), st.just(q.Thing())
)
UNITS = SIMPLE | st.builds(q.Except, SIMPLE, SIMPLE)
COUNTED = [q.Quantity.AT_LEAST, q.Quantity.AT_MOST, q.Quantity.EXACTLY]
OBJECTS = st.recursive(
    st.one_of(
        UNITS,
        st.builds(
            q.Quantified,
            st.sampled_from(sorted(set(q.Quantity) - {*COUNTED}, key=str)),
            UNITS,
        ),
        st.builds(q.Quantified, st.sampled_from(COUNTED), UNITS, st.integers(0, 3)),
    ),
    lambda terms: st.one_of(
        st.builds(q.And, st.lists(terms, min_size=2, max_size=3).map(tuple)),
        st.builds(q.Or, st.lists(terms, min_size=2, max_size=3).map(tuple)),
    ),
    max_leaves=4,
)
PREDICATES = st.recursive(
    st.builds(q.Clears, OBJECTS) | st.builds(q.Leaves, OBJECTS),
    lambda parts: st.one_of(
        st.builds(q.Not, parts),
        st.builds(q.Both, st.lists(parts, min_size=2, max_size=2).map(tuple)),
        st.builds(q.Either, st.lists(parts, min_size=2, max_size=2).map(tuple)),
    ),
    max_leaves=3,
)


def objects(said: q.Predicate) -> Iterable[q.Term]:
    """The objects of all verbs of a predicate."""
    match said:
        case q.Not(part=part):
            yield from objects(part)
        case q.Both(parts=parts) | q.Either(parts=parts):
            for part in parts:
                yield from objects(part)
        case q.Clears() | q.Leaves():
            yield said.object


@pytest.mark.slow
@given(predicate=PREDICATES)
@settings(max_examples=200, deadline=None)
def test_the_simplest_form_says_the_same(predicate: q.Predicate) -> None:
    """In each of the eight worlds of three films."""
    simple = simplified(predicate)
    for touched in WORLDS:
        assert true_of(simple, touched) == true_of(predicate, touched)


@pytest.mark.slow
@given(predicate=PREDICATES)
@settings(max_examples=100, deadline=None)
def test_the_simplest_form_has_one_set_for_each_verb(predicate: q.Predicate) -> None:
    """No list is left, and no quantity but every, some and the counts."""
    for term in objects(simplified(predicate)):
        assert not isinstance(term, q.And | q.Or)
        if isinstance(term, q.Quantified):
            assert term.quantity not in {q.Quantity.NO, q.Quantity.ONLY}
            assert not isinstance(term.term, q.And | q.Or | q.Quantified)


@pytest.mark.parametrize(
    ("asked", "simple"),
    [
        ("clear gums and soap", "clear gums and clear soap"),
        ("leave gums or soap", "leave gums or leave soap"),
        ("leave nothing", "do not leave anything"),
        ("contain no gums", "do not contain some gums"),
        (
            "leave only gums",
            "leave some gums and do not leave anything except gums",
        ),
        (
            "clear gums or soap in hard water",
            "clear gums in hard water or clear soap in hard water",
        ),
        ("are silicones and not gums", "are silicones and are not gums"),
        ("are not silicones or gums", "do not (is silicones or is gums)"),
        ("do not clear gums and soap", "do not (clear gums and clear soap)"),
        ("are milder than soap", "are milder than soap"),
        ("clear at least 2 gums", "clear at least 2 gums"),
        ("are among gums and soap", "are among gums and soap"),
    ],
)
def test_forms_as_people_type_them(asked: str, simple: str) -> None:
    """The table of `LANGUAGE.md`, in words."""
    query = parse_query(f"which washes {asked}")
    assert isinstance(query, q.Which)
    assert query.predicate is not None
    assert said(simplified(query.predicate), Form.PLURAL) == simple


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("clear gums", q.Quantity.EVERY),
        ("clear some gums", q.Quantity.SOME),
        ("leave gums", q.Quantity.SOME),
        ("contain every gum", q.Quantity.EVERY),
        ("are enough for gums", q.Quantity.EVERY),
        ("clear at least 2 gums", q.Quantity.AT_LEAST),
    ],
)
def test_verbs_have_a_quantity_of_their_own(asked: str, expected: q.Quantity) -> None:
    """A wash clears all of a class; a product leaves some of it."""
    query = parse_query(f"which washes {asked}")
    assert isinstance(query, q.Which)
    assert query.predicate is not None
    assert quantity(query.predicate) is expected


def test_without_an_object_there_is_no_quantity() -> None:
    """A name pattern has none."""
    with pytest.raises(ValueError, match="no object"):
        quantity(q.Named("*ate"))
